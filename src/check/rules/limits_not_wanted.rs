use crate::check::facts;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::FactProblem;
use crate::text::{Edit, Span};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let subject = facts::subject(context, problem.span);
    let limits = wording::shown(context.text(problem.span));
    let before = context.source.text[..problem.span.start as usize].trim_end().len() as u32;
    let message = format!("{subject} is a value to be set, not a measured one: it takes no {limits}");
    Some(
        context
            .draft(problem.span, message)
            .help("write the value alone: its uncertainty follows from mass and radius")
            .fix(format!("Take {limits} out"), Edit::delete(Span::new(before, problem.span.end))),
    )
}
