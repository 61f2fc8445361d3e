use crate::book::{EffectiveField, RotorResults};
use crate::check::calibration::{self, stated};
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::text::Edit;
use crate::units::Length;
use crate::vocabulary::{Fact, calibrate, plane, rotor};

/// Two measurements of one thing differ by less than this.
const SAME: f64 = 1e-3;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(rotor) = &setup.rotor else { return };
    for (calibration, block) in calibration::blocks(context) {
        let Some((field, radius)) = stated(block, &[calibrate::RADIUS.any()]) else { continue };
        let Some((twin, fact)) = twin(rotor, calibration.plane, radius.base) else { continue };
        let of_what = match fact == rotor::LARGEST_DIAMETER {
            true => "of the rotor".to_owned(),
            false => format!("of plane {}", calibration.plane),
        };
        let (line, other) = (context.line(field), context.written(twin));
        let message = match fact == plane::RADIUS {
            true => format!("{line} is twice the radius {of_what}, {other}"),
            false => format!("{line} equals the {fact} {of_what}, {other}"),
        };
        let draft = context
            .beside(field, message)
            .help("a calliper measures diameters: write `diameter:`, and half of it is taken")
            .about(
                twin,
                if fact == plane::RADIUS { "the radius that it is twice of" } else { "the diameter it equals" },
            );
        sink.report(match field.item == context.id {
            true => draft.fix("Write `diameter`", Edit::replace(field.field.head, calibrate::DIAMETER.words())),
            false => draft,
        });
    }
}

/// The fact of plane or rotor whose diameter this radius is.
pub(super) fn twin<'b>(
    rotor: &RotorResults<'b>,
    plane: &str,
    radius: f64,
) -> Option<(EffectiveField<'b>, Fact<Length>)> {
    let facts =
        [(plane::RADIUS, 2.0), (plane::DIAMETER, 1.0), (plane::SURFACE_DIAMETER, 1.0), (plane::PITCH_DIAMETER, 1.0)];
    let of_plane = rotor.plane(plane).into_iter().flat_map(|plane| {
        facts.into_iter().filter_map(|(fact, times)| plane.block.field(fact).map(|field| (field, fact, times)))
    });
    let of_rotor = rotor.block.field(rotor::LARGEST_DIAMETER).map(|field| (field, rotor::LARGEST_DIAMETER, 1.0));
    of_plane.chain(of_rotor).find_map(|(field, fact, times)| match &field.field.value {
        FieldValue::Quantity(other) if (radius / (times * other.base) - 1.0).abs() <= SAME => Some((field, fact)),
        _ => None,
    })
}
