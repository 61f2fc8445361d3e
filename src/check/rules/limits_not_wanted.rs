use crate::check::facts;
use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::{FactProblem, FactProblemOf};
use crate::text::{Edit, Span};

pub static RULE: Rule = Rule {
    code: "limits-not-wanted",
    severity: Severity::Error,
    title: "A demand has limits, though it is exact",
    page: include_str!("limits_not_wanted.md"),
    run: Run::Fact(FactProblemOf::LimitsNotWanted, say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let subject = facts::subject(context, problem.span);
    let limits = wording::shown(context.text(problem.span));
    let before = context.source.text[..problem.span.start as usize].trim_end().len() as u32;
    let message = format!("{subject} is demanded, not measured, and has the limits {limits}");
    Some(
        context
            .draft(problem.span, message)
            .help("state the value alone: what it is uncertain by is worked out from mass and radius")
            .fix(format!("Take {limits} out"), Edit::delete(Span::new(before, problem.span.end))),
    )
}
