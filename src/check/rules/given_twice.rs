use crate::check::facts::{self, delete_fact};
use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::Span;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::GivenTwice { first } = problem.kind else { return None };
    let value = |head: Span| facts::fact_at(context.source, head).map(|fact| context.text(fact.field.value_span));
    let (before, here) = (value(first)?, value(problem.span)?);
    let head = wording::shown(context.text(problem.span));
    let (before_shown, here_shown) = (wording::shown(before), wording::shown(here));
    let message = match before == here {
        true => format!("{head} is given twice, both times as {here_shown}"),
        false => format!("{head} is given twice, as {before_shown} and as {here_shown}"),
    };
    let draft = context.draft(problem.span, message).help("keep the right one; until then neither is used").related(
        context.file,
        first,
        "first given here",
    );
    Some(match before == here {
        true => draft.fix("Take the second one out", delete_fact(context.source, problem.span)),
        false => draft
            .fix(format!("Keep {before_shown}"), delete_fact(context.source, problem.span))
            .fix(format!("Keep {here_shown}"), delete_fact(context.source, first)),
    })
}
