use crate::check::facts::{block_at, delete_fact};
use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::vocabulary::results_of;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::FactAndPin { fact } = problem.kind else { return None };
    let block = block_at(context.source, problem.span)?;
    let pin = block.pins.iter().find(|pin| pin.head == problem.span)?;
    // A pin that names no result is another matter: there is nothing here to choose between.
    results_of(block.kind).find(|result| result.answers_to(&pin.name))?;
    let head = wording::shown(context.text(problem.span));
    let draft = context
        .draft(problem.span, format!("{head} is pinned as a result with `=>` and stated as a fact with `:`"))
        .help("keep the fact if it was decided or measured, the pinned result if it is to follow from the others")
        .related(context.file, fact, "stated here")
        .fix("Keep the fact", delete_fact(context.source, problem.span))
        .fix("Keep the pinned result", delete_fact(context.source, fact));
    Some(draft)
}
