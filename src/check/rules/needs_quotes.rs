use crate::check::facts;
use crate::check::facts::line_around;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::{Edit, Span};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::NeedsQuotes { whole } = problem.kind else { return None };
    let written = context.text(whole);
    let subject = facts::subject(context, whole);
    let message = format!("{subject} is a text, and {} has no quotes", wording::shown(written));
    let draft = context.draft(whole, message);
    let line = line_around(&context.source.text, whole.start);
    let line_start = context.source.text[..whole.start as usize].rfind('\n').map_or(0, |at| at + 1);
    let rest = Span::new(whole.start, (line_start + line.trim_end().len()) as u32);
    let quoted = wording::quoted(written);
    if rest.end <= whole.end {
        return Some(
            draft
                .help(format!("write {}", wording::shown(&quoted)))
                .fix("Put it in quotes", Edit::replace(whole, quoted)),
        );
    }
    // Outside quotes a `#` begins a comment: the end of the text may be lost in it.
    let all = wording::quoted(context.text(rest));
    Some(
        draft
            .help(format!("without quotes the text ends at the `#`: write {}", wording::shown(&all)))
            .fix("Put all of the line in quotes", Edit::replace(rest, all))
            .fix("Put it in quotes up to the comment", Edit::replace(whole, quoted)),
    )
}
