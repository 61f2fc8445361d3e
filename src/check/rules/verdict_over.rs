use crate::check::placing::line_at_end;
use crate::check::runs::{measured_of_limit, pins};
use crate::check::{ItemContext, Sink};
use crate::mechanics::verdict::Verdict;
use crate::vocabulary::result;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(verdict) = context.record().and_then(|record| record.verdict.as_ref()) else { return };
    if verdict.verdict != Verdict::Over || pins(context, &result::VERDICT) {
        return;
    }
    let worst = verdict.judged.iter().filter(|judged| judged.verdict == Some(Verdict::Over));
    let words: Vec<String> = worst.map(measured_of_limit).collect();
    let message = format!("the rotor is left over its tolerance: {}", words.join(", "));
    let mut draft = context
        .draft(context.block.heading, message)
        .help("correct it further, or state that it is rejected as it is: `verdict => over`");
    if let Some(edit) = line_at_end(context.source(), context.block, "verdict => over") {
        draft = draft.fix("State that it is over", edit);
    }
    sink.report(draft);
}
