use crate::check::amounts::{amount, shown};
use crate::check::placing::line_at_end;
use crate::check::runs::{pins, place};
use crate::check::{ItemContext, Sink};
use crate::mechanics::verdict::Verdict;
use crate::vocabulary::result;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(verdict) = context.record().and_then(|record| record.verdict.as_ref()) else { return };
    // Readings that do not count at all, and runs that lie apart, have diagnostics of their own.
    let told = !verdict.does_not_count.is_empty() || !verdict.apart.is_empty();
    let straddles = verdict.verdict == Verdict::NotShown && !told;
    if !straddles || pins(context, &result::VERDICT) {
        return;
    }
    let open = verdict.judged.iter().filter(|judged| judged.verdict == Some(Verdict::NotShown));
    let words: Vec<String> = open
        .map(|judged| {
            let known_to =
                judged.uncertainty.map(|known_to| amount(known_to, judged.measured.unit)).unwrap_or_default();
            let (measured, allowed) = (shown(&judged.measured), shown(&judged.limit));
            format!("{measured} ± {known_to} {} where {allowed} are allowed", place(judged))
        })
        .collect();
    let mut draft = context
        .draft(context.block.heading, format!("the tolerance is shown neither kept nor exceeded: {}", words.join(", ")))
        .help("correct it further, or make the errors smaller: index it, mount it better, read it finer");
    if let Some(edit) = line_at_end(context.source(), context.block, "verdict => \"not shown\"") {
        draft = draft.fix("State that it is not shown", edit);
    }
    sink.report(draft);
}
