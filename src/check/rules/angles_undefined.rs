use crate::check::{Draft, ItemContext, Sink, rotors, wording};
use crate::vocabulary::{Choice, Sense, plane, rotor};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    if !rotors::is_read_whole(context) {
        return;
    }
    let facts = [rotor::ZERO_ANGLE.any(), rotor::ANGLES_COUNT.any()];
    let missing: Vec<String> =
        facts.into_iter().filter(|fact| rotor.block.field(*fact).is_none()).map(|fact| format!("`{fact}`")).collect();
    let angles = [plane::PLACES.any(), plane::BARRED.any()];
    let first = rotor.planes.iter().find_map(|plane| angles.iter().find_map(|fact| plane.block.field(*fact)));
    let Some(first) = first.filter(|_| !missing.is_empty()) else { return };
    let message = format!(
        "`{}` holds angles, but the rotor does not state \
            {}",
        first.field.key.name,
        wording::and_list(&missing)
    );
    let draft = context.draft(first.field.value_span, message).help(
        "name the mark that angles count from, `zero angle: \"keyway\"`, and `angles count: with rotation` or \
            `against rotation`",
    );
    let zero = rotor.block.field(rotor::ZERO_ANGLE).is_none().then(|| format!("{}: ?", rotor::ZERO_ANGLE));
    let offer = |draft: Draft, counts: Option<Sense>| {
        let counts = counts.map(|counts| format!("{}: {}", rotor::ANGLES_COUNT, counts.words()));
        let lines: Vec<&str> = zero.iter().chain(&counts).map(String::as_str).collect();
        draft.offer_in(context.book(), rotor.block.place(), &lines)
    };
    sink.report(match rotor.block.field(rotor::ANGLES_COUNT) {
        Some(_) => offer(draft, None),
        None => [Sense::WithRotation, Sense::AgainstRotation]
            .into_iter()
            .fold(draft, |draft, counts| offer(draft, Some(counts))),
    });
}
