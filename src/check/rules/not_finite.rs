use crate::check::facts;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::FactProblem;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let subject = facts::subject(context, problem.span);
    let message = format!("{subject}: {} is too large to compute with", wording::shown(context.text(problem.span)));
    Some(context.draft(problem.span, message).help("look at its exponents and divisors again"))
}
