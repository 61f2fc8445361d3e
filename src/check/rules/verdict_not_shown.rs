use crate::check::amounts::{shown, with_uncertainty};
use crate::check::placing::line_at_end;
use crate::check::runs::pins;
use crate::check::{ItemContext, Sink};
use crate::mechanics::verdict::Verdict;
use crate::units::Unbalance;
use crate::vocabulary::result;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(verdict) = context.record().and_then(|record| record.verdict.as_ref()) else { return };
    // Readings that do not count at all have diagnostics of their own.
    let straddles = verdict.verdict == Verdict::NotShown && verdict.does_not_count.is_empty();
    if !straddles || pins(context, &result::VERDICT) {
        return;
    }
    let open = verdict.judged.iter().filter(|judged| judged.verdict == Some(Verdict::NotShown));
    let words: Vec<String> = open
        .map(|judged| {
            let error = judged.combined_error.get().filter(|error| *error > Unbalance::ZERO);
            let error =
                error.map_or_else(String::new, |_| format!(" and {} may be error", shown(&judged.combined_error)));
            let measured = with_uncertainty(&judged.measured);
            format!("{measured} at {} where {} are allowed{error}", judged.name, shown(&judged.tolerance))
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
