use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::{FactProblem, FactProblemKind, FactProblemOf};
use crate::vocabulary::NameOf;

pub static RULE: Rule = Rule {
    code: "key-needs-name",
    severity: Severity::Error,
    title: "A fact does not say which channel or place it is of",
    page: include_str!("key_needs_name.md"),
    run: Run::Fact(FactProblemOf::KeyNeedsName, say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::KeyNeedsName { key } = problem.kind else { return None };
    let of = key.head_name?;
    let example = match of {
        NameOf::Place => "\"3\": …",
        _ => "left: …",
    };
    let message = format!("`{}` does not say which: it needs the name of {}", key.name, wording::name_of(of));
    Some(context.draft(problem.span, message).help(format!("write `{} {example}`", key.name)))
}
