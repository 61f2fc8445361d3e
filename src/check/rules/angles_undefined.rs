use crate::check::{ItemContext, Sink, rotors, wording};
use crate::vocabulary::{plane, rotor};

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
    sink.report(context.draft(first.field.value_span, message).help(
        "name the mark that angles count from, `zero angle: \"keyway\"`, and `angles count: with rotation` or \
            `against rotation`",
    ));
}
