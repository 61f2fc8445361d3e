use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::{Choice, tolerance, tolerance::PlanesBalanced};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let Some(planes) = tolerance.choice(tolerance::PLANES) else { return };
    let sharing = rotor.planes.iter().filter(|plane| plane.shares_tolerance).count();
    let (message, help) = match (planes, sharing) {
        (PlanesBalanced::One, 2..) => (
            format!(
                "the rotor is to be balanced in one plane, but {sharing} planes are given the whole \
                tolerance each"
            ),
            "name the plane in `correct only in`, or write `planes: two`",
        ),
        (PlanesBalanced::Two, 1) => (
            "the rotor is to be balanced in two planes, but it has one".to_owned(),
            "add the other plane, or write `planes: one`",
        ),
        _ => return,
    };
    let other = if planes == PlanesBalanced::One { PlanesBalanced::Two } else { PlanesBalanced::One };
    if let Some(field) = tolerance.field(tolerance::PLANES).filter(|_| rotors::is_read_whole(context)) {
        let draft = context.draft(rotors::span_of(tolerance, &[tolerance::PLANES.any()]), message).help(help);
        sink.report(draft.offer_value(context, field, other.words()));
    }
}
