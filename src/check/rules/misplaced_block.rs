use crate::check::{Draft, Slip};
use crate::syntax::Kind;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let kind = Kind::ALL.into_iter().find(|kind| kind.words().split(' ').eq(slip.found().split_whitespace()));
    let Some((kind, parent)) = kind.and_then(|kind| Some((kind, *kind.parents().first()?))) else {
        return slip.draft(format!("`{}` may not be here", slip.shown())).help("move it into the block it belongs to");
    };
    let draft = slip.draft(match slip.block().filter(|block| block.span.start < slip.span().start) {
        Some(block) => format!("a `{kind}` block is in a `{}`", block.kind),
        None => format!("a `{kind}` block is outside every `{parent}`"),
    });
    let above = if slip.closed_before() { "; is there a `}` too many above?" } else { "" };
    draft.help(format!("move it between the braces of the `{parent}` it belongs to{above}"))
}
