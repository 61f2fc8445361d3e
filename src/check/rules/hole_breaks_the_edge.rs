use crate::check::{ItemContext, Sink, rotors};
use crate::units::{Length, Typed};
use crate::vocabulary::plane;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let (Some((at, edge)), Some((_, diameter))) = (
            rotors::quantity(&plane.block, plane::EDGE_DISTANCE),
            rotors::quantity(&plane.block, plane::HOLE_DIAMETER),
        ) else {
            continue;
        };
        if edge.base > diameter.base / 2.0 * (1.0 + 1e-9) {
            continue;
        }
        let message = format!(
            "the centre of a hole may come to {} from the edge, but half the hole is {}",
            rotors::written(context, at),
            rotors::given(Length::from_base(diameter.base / 2.0), diameter.unit),
        );
        sink.report(context.draft(at.field.value_span, message).help(
            "state the distance from the edge to the centre of the hole: half the hole and the wall \
                    that must be left",
        ));
    }
}
