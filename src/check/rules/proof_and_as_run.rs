use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;
use crate::vocabulary::record;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (block, kept) = (context.effective(), context.block.inner(Kind::AsRun).next());
    let (Some(field), Some(kept)) = (block.field(record::PROOF), kept) else { return };
    let message = format!("the record has both {} and `{}`", context.line(field), Kind::AsRun);
    let draft = context.draft(kept.heading, message).about(field, "the proof");
    sink.report(draft.help("the proof says by which limits and influences it was run: take one of the two out"));
}
