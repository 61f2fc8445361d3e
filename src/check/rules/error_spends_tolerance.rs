use crate::check::amounts::{limit, percent, shown};
use crate::check::runs::share;
use crate::check::{ItemContext, Sink};

/// Beyond this share the errors of mounting and indexing are what the rotor is judged by. Source: common practice, no source.
const TOO_MUCH: f64 = 0.5;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(verdict) = &record.verdict else { return };
    for judged in &verdict.judged {
        // What the arbor's own facts put in stands with the setup.
        let scatter = judged.errors.iter().find(|error| matches!(error.name, "repeated mounting" | "indexed runs"));
        let Some(scatter) = scatter else { continue };
        let Some(taken) = share(&scatter.amount, &judged.tolerance).filter(|taken| *taken > TOO_MUCH) else { continue };
        let Some(run) = verdict.run.and_then(|run| record.runs.get(run)) else { continue };
        let how = if scatter.name == "indexed runs" { "the indexed runs scatter" } else { "remounting scatters" };
        let message = format!(
            "{how} by {} at {}, {} of the tolerance there, more than {}",
            shown(&scatter.amount),
            judged.name,
            percent(taken),
            limit(TOO_MUCH)
        );
        let help = "find what seats differently each time before the rotor is judged; no correction makes this smaller";
        sink.report(context.on_heading(&run.block, message).help(help));
        return;
    }
}
