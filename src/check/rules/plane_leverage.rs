use crate::book::{PlaneResults, RotorResults};
use crate::check::{ItemContext, Sink, rotors};
use crate::units::Length;
use crate::vocabulary::plane;

/// Below this share of the rotor's tolerance a plane's own is hardly worth having. Common practice, no source.
const TINY: f64 = 0.1;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(planes) = rotors::two_planes(rotor) else { return };
    let Some(whole) = rotor.permissible.get() else { return };
    let farthest = planes.into_iter().filter_map(|plane| Some((plane, outside(rotor, plane)?)));
    let Some((plane, distance)) = farthest.max_by(|a, b| a.1.in_metres().total_cmp(&b.1.in_metres())) else { return };
    let share = |plane: &PlaneResults<'_>| plane.shared_tolerance.as_ref().and_then(|value| value.get());
    let Some((own, shares)) = share(plane).zip(share(planes[0]).zip(share(planes[1]))) else { return };
    let least = shares.0.min(shares.1);
    if distance <= Length::ZERO || least >= whole * TINY {
        return;
    }
    let unit = rotor.permissible.unit;
    let message = format!(
        "{} is {} outside the bearings, and by its leverage may keep only {} of the rotor's {}",
        rotors::heading(context, &plane.block),
        rotors::in_unit(distance, plane.at.unit),
        rotors::in_unit(own, unit),
        rotors::in_unit(whole, unit),
    );
    sink.report(context.draft(rotors::span_of(&plane.block, &[plane::AT.any()]), message).help(
        "correct in a plane nearer to the bearings, or judge the residual unbalance at the bearings \
                by its angles",
    ));
}

/// How far a plane is outside the bearings; below zero between them.
fn outside(rotor: &RotorResults<'_>, plane: &PlaneResults<'_>) -> Option<Length> {
    let (a, b, at) = (rotor.bearings[0].get()?, rotor.bearings[1].get()?, plane.at.get()?);
    Some((a.min(b) - at).max(at - a.max(b)))
}
