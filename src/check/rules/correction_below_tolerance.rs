use crate::check::{ItemContext, Severity, Sink, rotors};
use crate::units::Typed;
use crate::vocabulary::plane;

/// What a plane should be able to take, in tolerances. Common practice, no source.
const ENOUGH: f64 = 3.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let most = plane.greatest.as_ref().and_then(|value| value.get());
        let (Some(most), Some(tolerance)) = (most, plane.tolerance.get()) else { continue };
        let times = (most / tolerance).value();
        // Places that leave a gap give nothing in some direction, and are told of by themselves.
        if !(1e-9..ENOUGH).contains(&times) || tolerance.base() <= 0.0 {
            continue;
        }
        let unit = plane.tolerance.unit;
        let heading = rotors::heading(context, &plane.block);
        let (most, tolerance) = (rotors::in_unit(most, unit), rotors::in_unit(tolerance, unit));
        let limits = [
            plane::MOST_CORRECTION.any(),
            plane::HOLES_AT_MOST.any(),
            plane::DEPTH.any(),
            plane::MOST_PER_PLACE.any(),
            plane::MASS_EACH.any(),
            plane::METHOD.any(),
        ];
        let span = rotors::span_of(&plane.block, &limits);
        let draft = if times < 1.0 {
            let message = format!(
                "{heading} can be corrected by {most} at most, less than its tolerance of \
                {tolerance}"
            );
            context.draft(span, message).weighing(Severity::Warning)
        } else {
            let times = crate::units::number(times, None);
            let message = format!(
                "{heading} can be corrected by {most} at most, {times} times its tolerance of {tolerance}; a \
                    rough rotor brings more"
            );
            context.draft(span, message)
        };
        sink.report(draft.help(
            "allow more or deeper holes (`holes at most`, `depth`), heavier pieces, or \
            another plane",
        ));
    }
}
