use crate::book::{ToleranceRule, effective};
use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    if !rotor.service_speed.is_left_out() || !rotors::is_read_whole(context) {
        return;
    }
    let needs_speed = |rule: &ToleranceRule| {
        use ToleranceRule as R;
        matches!(rule, R::Grade | R::JournalLoad | R::WholeWeight | R::ScaledFrom | R::SimilarPart)
    };
    let Some((rule, _)) = rotor.rules.iter().find(|(rule, _)| needs_speed(rule)) else { return };
    let span = rule.field(tolerance).map_or(tolerance.written.heading, |field| field.field.value_span);
    let message = format!(
        "a tolerance by `{}` needs the rotor's highest service speed, which is not \
        given",
        rule.words()
    );
    let mut draft = context.draft(span, message).help(
        "add `highest service speed: … rpm` to the rotor: the \
        highest speed in use",
    );
    draft = draft.offer(context, &["highest service speed: ?"]);
    if let Some(setup) = rotors::setups_of(context.book(), rotor.id).first()
        && let Some(speed) = effective(context.book(), *setup).0.field(setup::BALANCING_SPEED)
    {
        draft = draft.related(speed.item.file, speed.field.value_span, "the balancing speed does not replace it");
    }
    sink.report(draft);
}
