use crate::book::word_of;
use crate::check::placing::line_at_end;
use crate::check::runs::{measured_of_limit, pins};
use crate::check::{ItemContext, Sink};
use crate::mechanics::verdict::Verdict;
use crate::vocabulary::result;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(verdict) = context.record().and_then(|record| record.verdict.as_ref()) else { return };
    let is_over = |word| matches!(word, Verdict::Over | Verdict::OverAsRead);
    if !is_over(verdict.verdict) || pins(context, &result::VERDICT) {
        return;
    }
    let worst = verdict.judged.iter().filter(|judged| judged.verdict.is_some_and(is_over));
    let words: Vec<String> = worst.map(measured_of_limit).collect();
    let as_read = if verdict.verdict == Verdict::OverAsRead { " as read" } else { "" };
    let message = format!("the rotor is left over its tolerance{as_read}: {}", words.join(", "));
    let pin = format!("verdict => {}", word_of(verdict.verdict));
    let mut draft = context
        .draft(context.block.heading, message)
        .help(format!("correct it further, or state that it is rejected as it is: `{pin}`"));
    if let Some(edit) = line_at_end(context.source(), context.block, &pin) {
        draft = draft.fix("State that it is over", edit);
    }
    sink.report(draft);
}
