use crate::check::facts;
use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::{FactProblem, FactProblemOf};

pub static RULE: Rule = Rule {
    code: "not-whole",
    severity: Severity::Error,
    title: "A count is not a whole number",
    page: include_str!("not_whole.md"),
    run: Run::Fact(FactProblemOf::NotWhole, say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let subject = facts::subject(context, problem.span);
    let written = wording::shown(context.text(problem.span));
    let message = format!("{subject} is a count, and {written} is not a whole number from 1");
    Some(context.draft(problem.span, message).help("write a whole number, without decimals, such as `8`"))
}
