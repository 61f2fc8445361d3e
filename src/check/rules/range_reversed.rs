use crate::check::facts;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::FactProblem;
use crate::text::Edit;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let written = context.text(problem.span);
    let subject = facts::subject(context, problem.span);
    let message = format!("{subject} runs from high to low: {}", wording::shown(written));
    let draft = context.draft(problem.span, message);
    let (low, high) = written.split_once(" to ")?;
    let turned = format!("{} to {}", high.trim(), low.trim());
    Some(
        draft
            .help(format!("a range runs from its low to its high end: write `{turned}`"))
            .fix(format!("Write `{turned}`"), Edit::replace(problem.span, turned)),
    )
}
