use crate::check::{Draft, FileContext, facts, wording};
use crate::sheet::{FactProblem, FactProblemKind};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::UnitsOfOneDimension { first, dimension } = problem.kind else { return None };
    let (before, here) = (wording::shown(context.text(first)), wording::shown(context.text(problem.span)));
    let subject = facts::subject(context, problem.span);
    let message = format!("{subject} names two units of {}, {before} and {here}", dimension.name());
    Some(context.draft(problem.span, message).help("keep the unit for results"))
}
