//! Facts that came over from another setup.

use crate::book::{Book, EffectiveBlock, EffectiveField, ItemId, SourceFile};
use crate::sheet::Block;
use crate::syntax::LineKind;

/// The facts of a block that are written in another item.
pub(super) fn brought<'b>(block: &EffectiveBlock<'b>, id: ItemId) -> Vec<EffectiveField<'b>> {
    block.fields.iter().filter(|field| field.item != id).copied().collect()
}

/// A fact as its line reads where it is written.
pub(super) fn line(book: &Book, field: &EffectiveField<'_>) -> String {
    let text = &book.file(field.item.file).text;
    format!("{}: {}", field.field.head.of(text), field.field.value_span.of(text))
}

/// Just after the brace of a block's heading.
pub(super) fn behind_heading(source: &SourceFile, block: &Block) -> Option<u32> {
    let tree = source.tree();
    let after = tree.lines.partition_point(|line| line.span.start <= block.heading.start);
    // The brace may stand alone on the line below.
    let here = tree.lines[after.checked_sub(1)?..].iter().take(2);
    let mut opens = here.filter_map(|line| match &line.kind {
        LineKind::Open(open) if open.kind_span.start == block.span.start => Some(open.brace.end),
        _ => None,
    });
    opens.next()
}
