use crate::check::facts::{self, expected_at};
use crate::check::{Draft, FileContext, wording};
use crate::sheet::FactProblem;
use crate::text::Edit;
use crate::vocabulary::ValueType as T;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let written = context.text(problem.span);
    let list = matches!(expected_at(context.source, problem.span), Some(T::Names(_)));
    let listed = written.replace(" and ", ", ").replace(" & ", ", ");
    let quoted = wording::quoted(written);
    if list && written.contains(' ') {
        let listed = if listed == written { written.split_whitespace().collect::<Vec<_>>().join(", ") } else { listed };
        let message =
            format!("{} is several words, and a name of several words goes in quotes", wording::shown(written));
        return Some(
            context
                .draft(problem.span, message)
                .help(format!(
                    "write `{listed}` for several names, separated by a comma and a space, or `{quoted}` for one"
                ))
                .fix(format!("Write `{listed}`"), Edit::replace(problem.span, listed))
                .fix(format!("Write `{quoted}`"), Edit::replace(problem.span, quoted)),
        );
    }
    if facts::fact_at(context.source, problem.span).is_none() {
        let draft = context
            .draft(problem.span, format!("{} is a name of several words without quotes", wording::shown(written)));
        return Some(
            draft
                .help(format!(
                    "write {} before the colon; a name of one word may stand without quotes",
                    wording::shown(&quoted)
                ))
                .fix(format!("Write {}", wording::shown(&quoted)), Edit::replace(problem.span, quoted)),
        );
    }
    let subject = facts::subject(context, problem.span);
    let is = if written.contains(' ') { "several words without quotes" } else { "no plain word" };
    let message = format!("{subject} wants a name, and {} is {is}", wording::shown(written));
    Some(
        context
            .draft(problem.span, message)
            .help(format!("write {}; a name of one word may stand without quotes", wording::shown(&quoted)))
            .fix(format!("Write {}", wording::shown(&quoted)), Edit::replace(problem.span, quoted)),
    )
}
