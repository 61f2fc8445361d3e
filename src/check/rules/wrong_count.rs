use crate::check::facts;
use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::{FactProblem, FactProblemKind};

pub static RULE: Rule = Rule {
    code: "wrong-count",
    severity: Severity::Error,
    title: "A list has more or fewer values than its fact wants",
    page: include_str!("wrong_count.md"),
    run: Run::Fact(say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::WrongCount { expected, found } = problem.kind else { return None };
    let subject = facts::subject(context, problem.span);
    let found = wording::counted(found, "value", "values");
    let key = facts::fact_at(context.source, problem.span).map(|fact| fact.field.key.meaning);
    let draft = context.draft(problem.span, format!("{subject} has {found}, and wants {expected}"));
    Some(draft.help(format!("write {expected} values with a comma and a space between. {}", key.unwrap_or(""))))
}
