use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::BlockTwice { block, first } = problem.kind else { return None };
    let heading = wording::shown(context.text(problem.span));
    let parent = block.parents().first().map_or_else(|| "the file".to_owned(), |parent| wording::this_kind(*parent));
    let help = match block.takes_name() {
        true => format!("give one of the two another name, or put both together into one `{block}`"),
        false => format!("put both together into one `{block}`"),
    };
    Some(context.draft(problem.span, format!("{heading} appears a second time in {parent}")).help(help).related(
        context.file,
        first,
        "it is here already",
    ))
}
