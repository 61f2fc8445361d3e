use crate::book::Method;
use crate::check::{ItemContext, Sink, angles, rotors};
use crate::units::{Angle, Unit};
use crate::vocabulary::{Choice, plane, plane::CorrectBy};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        // Where material may be put on as well as taken off, a place serves its opposite too.
        let both_ways = plane.block.choice(plane::CORRECT) == Some(CorrectBy::Either)
            || plane.method == Some(Method::SlidingWeights);
        let Some(places) = plane.places.as_ref().filter(|_| !both_ways) else { continue };
        let free: Vec<Angle> = places.free.iter().map(|place| places.angles[*place]).collect();
        let Some((from, gap)) = angles::widest_gap(&free) else { continue };
        if gap.in_degrees() < 180.0 - 1e-6 {
            continue;
        }
        let degrees = |angle: Angle| rotors::given(angle, Unit::DEGREE);
        let message = format!(
            "the free places of {} leave a gap of {} from {}: nothing can be corrected towards its middle",
            rotors::heading(context, &plane.block),
            degrees(gap),
            degrees(from),
        );
        let draft = context.draft(rotors::span_of(&plane.block, &[plane::PLACES.any()]), message);
        // A method that cuts puts nothing on, and pieces come off only where some are on.
        let may_do_both = plane.method.is_none();
        let correct = plane.block.field(plane::CORRECT).filter(|_| may_do_both);
        let wants = "at least three usable places spread round the plane are needed; free one";
        sink.report(match correct {
            Some(correct) => draft.help(format!("{wants}, or allow removal as well: `correct: either`")).offer_value(
                context,
                correct,
                CorrectBy::Either.words(),
            ),
            None => draft.help(wants),
        });
    }
}
