use crate::check::facts;
use crate::check::{Draft, FileContext, names, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::Edit;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::UnknownChoice { choices, suggestion } = problem.kind else { return None };
    let written = context.text(problem.span);
    let subject = facts::subject(context, problem.span);
    let found = wording::shown(written);
    let draft = match choices.iter().find(|choice| **choice == written.trim_matches('"')) {
        Some(choice) => {
            return Some(
                context
                    .draft(problem.span, format!("{subject} is a choice, so {found} takes no quotes"))
                    .help(format!("write `{choice}` without quotes"))
                    .fix(format!("Write `{choice}`"), Edit::replace(problem.span, *choice)),
            );
        }
        None => context.draft(problem.span, format!("{subject} cannot be {found}")),
    };
    let all = wording::and_list(&names::in_backticks(choices));
    Some(match suggestion {
        Some(choice) => draft
            .help(format!("did you mean `{choice}`? The choices are {all}"))
            .fix(format!("Write `{choice}`"), Edit::replace(problem.span, choice)),
        // `clockwise`, where the choices go on with the end it is seen from.
        None => {
            let longer =
                choices.iter().filter(|choice| choice.strip_prefix(written).is_some_and(|on| on.starts_with(' ')));
            longer.fold(draft.help(format!("the choices are {all}")), |draft, choice| {
                draft.fix(format!("Write `{choice}`"), Edit::replace(problem.span, *choice))
            })
        }
    })
}
