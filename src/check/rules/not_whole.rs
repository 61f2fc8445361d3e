use crate::check::facts;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::FactProblem;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let subject = facts::subject(context, problem.span);
    let written = wording::shown(context.text(problem.span));
    let message = format!("{subject} is a count, and {written} is not a whole number from 1");
    Some(context.draft(problem.span, message).help("write a whole number, without decimals, such as `8`"))
}
