use crate::check::facts;
use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::{FactProblem, FactProblemOf};

pub static RULE: Rule = Rule {
    code: "not-finite",
    severity: Severity::Error,
    title: "A value is larger than any number",
    page: include_str!("not_finite.md"),
    run: Run::Fact(FactProblemOf::NotFinite, say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let subject = facts::subject(context, problem.span);
    let message = format!("{subject}: {} is too large to reckon with", wording::shown(context.text(problem.span)));
    Some(context.draft(problem.span, message).help("look at its exponents and divisors again"))
}
