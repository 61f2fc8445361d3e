use crate::check::{ItemContext, Sink, rotors};
use crate::text::Edit;
use crate::units::Typed;
use crate::vocabulary::tolerance;

/// How near two tolerances must come to count as the same.
const NEAR: f64 = 0.02;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let (Some(a), Some(b)) =
        (rotors::quantity(tolerance, tolerance::AT_BEARING_A), rotors::quantity(tolerance, tolerance::AT_BEARING_B))
    else {
        return;
    };
    let [Some(share_a), Some(share_b)] = [0, 1].map(|n| rotor.shared_at_bearings[n].get()) else { return };
    let near = |stated: f64, share: f64| (stated / share - 1.0).abs() <= NEAR;
    let swapped = near(a.1.base, share_b.base()) && near(b.1.base, share_a.base());
    if !swapped || near(a.1.base, share_a.base()) {
        return;
    }
    let written = [a, b].map(|(field, _)| rotors::written(context, field));
    let shares = [(share_a, a.1.unit), (share_b, b.1.unit)].map(|(share, unit)| rotors::in_unit(share, unit));
    let message = format!(
        "bearing A is given {} and bearing B {}, but the mass centre gives A {} and B {}",
        written[0], written[1], shares[0], shares[1]
    );
    let edits = [(a.0, written[1]), (b.0, written[0])].map(|(field, text)| crate::check::FileEdit {
        file: field.item.file,
        edit: Edit::replace(field.field.value_span, text),
    });
    sink.report(
        context
            .draft(a.0.field.value_span, message)
            .help("A's share is the distance from the mass centre to B over the bearing span: the bearing nearer the mass centre gets more")
            .related(context.id.file, b.0.field.value_span, "and this one")
            .fix_of("Swap the two tolerances", edits.to_vec()),
    );
}
