use crate::check::facts::{self, expected_at};
use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::vocabulary::ValueType;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::OutOfRange { needs } = problem.kind else { return None };
    let written = context.text(problem.span);
    let subject = facts::subject(context, problem.span);
    let message = format!("{subject} is {}, and can only be {needs}", wording::shown(written));
    if written.contains(" - ") {
        let help = "the second amount is not the smaller one; one amount goes here, and a tolerance is written `± …`";
        return Some(context.draft(problem.span, message).help(help));
    }
    if matches!(expected_at(context.source, problem.span), Some(ValueType::Weighing)) && written.contains(',') {
        let help = "the two loads together are the mass: one scale may read below zero, the sum may not";
        return Some(context.draft(problem.span, message).help(help));
    }
    let help = match written.starts_with('-') {
        true => "write it without the minus sign; a direction is an angle, and what is taken off goes under `remove`",
        false => "state what it is; leave the line out while it is not known, and what needs it is not computed",
    };
    Some(context.draft(problem.span, message).help(help))
}
