use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::{tolerance, tolerance::PlanesBalanced};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let one = tolerance.choice(tolerance::PLANES) == Some(PlanesBalanced::One);
    let Some(planes) = rotors::two_planes(rotor).filter(|_| !one) else { return };
    let stated = planes.iter().all(|plane| plane.stated_tolerance.is_some());
    if !rotor.bearings[0].is_left_out() || stated || !rotors::is_read_whole(context) {
        return;
    }
    let Some(half) = planes.iter().find_map(|plane| rotors::shown(plane.shared_tolerance.as_ref()?)) else { return };
    let message = format!("without the places of the bearings each plane is given half the tolerance, {half}");
    sink.report(
        context
            .draft(context.block.heading, message)
            .help("add `bearings: … mm, … mm`, so that each plane gets what its distance from the bearings allows")
            .offer(context, &["bearings: ?"]),
    );
}
