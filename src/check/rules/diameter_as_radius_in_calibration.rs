use crate::vocabulary::rotor;
use crate::book::{EffectiveField, RotorResults};
use crate::check::calibration::{self, stated};
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "diameter-as-radius-in-calibration",
    severity: Severity::Warning,
    title: "The radius of a calibration mass equals a diameter of the rotor",
    page: include_str!("diameter_as_radius_in_calibration.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

/// Two measurements of one thing differ by less than this.
const SAME: f64 = 1e-3;

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(rotor) = &setup.rotor else { return };
    for (calibration, block) in calibration::blocks(context) {
        let Some((field, radius)) = stated(block, &["radius"]) else { continue };
        let Some((twin, key)) = twin(rotor, calibration.plane, radius.base) else { continue };
        let of_what = match key {
            "largest diameter" => "of the rotor".to_owned(),
            _ => format!("of plane {}", calibration.plane),
        };
        let message = match key {
            "radius" => format!("{} is twice the radius {of_what}, {}", context.line(field), context.written(twin)),
            _ => format!("{} equals the {key} {of_what}, {}", context.line(field), context.written(twin)),
        };
        let draft = context
            .beside(field, message)
            .help("a calliper measures diameters: write `diameter:`, and half of it is taken")
            .about(twin, "the diameter it equals");
        sink.report(match field.item == context.id {
            true => draft.fix("Write `diameter`", Edit::replace(field.field.head, "diameter")),
            false => draft,
        });
    }
}

/// The fact of plane or rotor whose diameter this radius is.
pub(super) fn twin<'b>(
    rotor: &RotorResults<'b>,
    plane: &str,
    radius: f64,
) -> Option<(EffectiveField<'b>, &'static str)> {
    let keys = [("radius", 2.0), ("diameter", 1.0), ("surface diameter", 1.0), ("pitch diameter", 1.0)];
    let of_plane = rotor.plane(plane).into_iter().flat_map(|plane| {
        keys.into_iter().filter_map(|(key, times)| plane.block.field(key).map(|field| (field, key, times)))
    });
    let of_rotor = rotor.block.field(rotor::LARGEST_DIAMETER).map(|field| (field, "largest diameter", 1.0));
    of_plane.chain(of_rotor).find_map(|(field, key, times)| match &field.field.value {
        FieldValue::Quantity(other) if (radius / (times * other.base) - 1.0).abs() <= SAME => Some((field, key)),
        _ => None,
    })
}
