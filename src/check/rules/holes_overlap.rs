use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::plane;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let (Some((at, spacing)), Some((hole, diameter))) = (
            rotors::quantity(&plane.block, plane::HOLE_SPACING_AT_LEAST),
            rotors::quantity(&plane.block, plane::HOLE_DIAMETER),
        ) else {
            continue;
        };
        if spacing.base > diameter.base * (1.0 + 1e-9) {
            continue;
        }
        let message = format!(
            "holes of {} may be {} apart from centre to centre, which leaves nothing between them",
            rotors::written(context, hole),
            rotors::written(context, at),
        );
        sink.report(
            context
                .draft(at.field.value_span, message)
                .help("one and a half times the hole diameter is the usual least distance"),
        );
    }
}
