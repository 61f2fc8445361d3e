use crate::check::facts;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::FactProblem;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let subject = facts::subject(context, problem.span);
    let divisor = context.text(problem.span);
    let plain = divisor.starts_with(['0', '.']) && !divisor.contains(['+', '-', '*']);
    let message = match plain {
        true => format!("{subject} is divided by zero"),
        false => format!("{subject} is divided by {}, which is zero", wording::shown(divisor)),
    };
    Some(context.draft(problem.span, message).help("state what it is to be divided by, or leave the line out"))
}
