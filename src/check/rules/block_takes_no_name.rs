use crate::check::facts::block_at;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::{Edit, Span};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::BlockTakesNoName { block } = problem.kind else { return None };
    let name = block_at(context.source, problem.span)?.name.as_ref()?;
    let blank = context.text(problem.span).trim_end_matches(context.text(name.span)).trim_end().len() as u32;
    let parent = block.parents().first().map_or_else(|| "file".to_owned(), |parent| parent.to_string());
    let message = format!("`{block}` takes no name, and here it has {}", wording::shown(context.text(name.span)));
    Some(
        context
            .draft(name.span, message)
            .help(format!("a `{parent}` has one `{block}`, so it needs none: write `{block} {{`"))
            .fix("Take the name out", Edit::delete(Span::new(problem.span.start + blank, name.span.end))),
    )
}
