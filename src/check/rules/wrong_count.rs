use crate::check::facts::{self, expected_at};
use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::vocabulary::ValueType as T;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::WrongCount { expected, found } = problem.kind else { return None };
    let subject = facts::subject(context, problem.span);
    let found = if found == 1 { "1 value".to_owned() } else { format!("{found} values") };
    let meaning = facts::fact_at(context.source, problem.span).map_or("", |fact| fact.field.key.meaning);
    let first = meaning.chars().next().map_or_else(String::new, |first| first.to_lowercase().to_string());
    let meaning = format!("{first}{}", meaning.chars().skip(1).collect::<String>());
    let draft = context.draft(problem.span, format!("{subject} has {found}, and wants {expected}"));
    if matches!(expected_at(context.source, problem.span), Some(T::Weighing)) {
        return Some(draft.help(format!("write {}", wording::expected(T::Weighing))));
    }
    let help = format!("write {expected} values separated by a comma and a space: {}", meaning.trim_end_matches('.'));
    Some(draft.help(help))
}
