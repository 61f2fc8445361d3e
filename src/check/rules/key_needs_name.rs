use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::vocabulary::NameOf;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::KeyNeedsName { key } = problem.kind else { return None };
    let of = key.head_name?;
    let example = match of {
        NameOf::Place => "3: …",
        NameOf::Position => "1: …",
        _ => "left: …",
    };
    let message = format!("`{}` does not say which: it needs the name of {}", key.name, wording::name_of(of));
    Some(context.draft(problem.span, message).help(format!("write `{} {example}`", key.name)))
}
