use crate::book::{Known, Line};
use crate::check::amounts::{amount, limit, percent};
use crate::check::runs::place;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::Choice;
use crate::vocabulary::shop::BudgetLine;

/// Beyond this share the errors of mounting and indexing are what the rotor is judged by. Source: common practice, no source.
const TOO_MUCH: f64 = 0.5;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(verdict) = &record.verdict else { return };
    for judged in &verdict.judged {
        let scatter = judged.budget.lines.iter().find(|line| is_scatter(line) && line.known == Known::Measured);
        let Some(scatter) = scatter else { continue };
        let acted = judged.acted(scatter.amount());
        let taken = judged.share_of_limit(acted);
        let Some(taken) = taken.filter(|taken| *taken > TOO_MUCH) else { continue };
        let Some(run) = verdict.run.and_then(|run| record.runs.get(run)) else { continue };
        let message = format!(
            "{} scatters by {} {}, {} of the limit there, more than {}",
            scatter.name,
            amount(acted, judged.measured.unit),
            place(judged),
            percent(taken),
            limit(TOO_MUCH)
        );
        let help = "find what seats differently each time before the rotor is judged; no correction makes this smaller";
        sink.report(context.on_heading(&run.block, message).help(help));
        return;
    }
}

/// What differs from one mounting to the next.
fn is_scatter(line: &Line) -> bool {
    [BudgetLine::Mounting, BudgetLine::Arbor].iter().any(|scatters| *scatters.words() == *line.name)
}
