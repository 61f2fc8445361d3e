use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::Span;
use crate::units::Dimension;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::OperandsDiffer { left, right } = problem.kind else { return None };
    let called = |(span, dimension): (Span, Dimension)| {
        format!("{} is {}", wording::shown(context.text(span)), wording::a_dimension(&[dimension]))
    };
    let (message, help) = match context.text(problem.span) {
        sign @ ("+" | "-") => {
            let done = if sign == "+" { "added to" } else { "subtracted from" };
            let message = format!("{} and {}: one cannot be {done} the other", called(left), called(right));
            (message, "both sides of `+` and `-` need the same kind of quantity; `*` and `/` take any".to_owned())
        }
        _ if problem.span == right.0 => {
            let unit = wording::shown(context.text(right.0));
            let message = format!("{}, and its `±` is in {unit}, {}", called(left), wording::a_dimension(&[right.1]));
            (message, "state the limits in a unit of the value, or in `%` of it".to_owned())
        }
        _ => {
            let message = format!("a range has one kind of quantity, but {} and {}", called(left), called(right));
            (message, "give both ends of the range the same kind of unit".to_owned())
        }
    };
    let draft = context.draft(problem.span, message).help(help);
    Some(match problem.span == right.0 {
        true => draft,
        false => draft.related(context.file, left.0, wording::a_dimension(&[left.1])).related(
            context.file,
            right.0,
            wording::a_dimension(&[right.1]),
        ),
    })
}
