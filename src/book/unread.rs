//! Whether all that is written in an item could be read.

use super::files::{Book, ItemId, SourceFile};
use crate::sheet::{Block, FactProblemKind, NameAt};
use crate::syntax::Kind;
use crate::text::Span;

/// Whether every line of an item could be read under a name that its block knows. Where one could not, a fact that
/// seems to be missing may be in it.
pub fn is_read_whole(book: &Book, id: ItemId) -> bool {
    reads_whole(book.file(id.file), book.item(id))
}

/// The same of an item of a file. What is wrong beside an item counts too, where it touches it.
pub(super) fn reads_whole(source: &SourceFile, block: &Block) -> bool {
    let errors = touching(&source.errors, |error| error.span, block.span);
    let problems = touching(&source.sheet.problems, |problem| problem.span, block.span);
    let unread = |kind: &FactProblemKind| {
        matches!(
            kind,
            FactProblemKind::UnknownKey { .. }
                | FactProblemKind::KeyNeedsName { .. }
                | FactProblemKind::BlockTwice { .. }
        )
    };
    // In a tolerance a misspelled key reads as the name of a plane.
    let is_plane = |name: &NameAt| block.inner(Kind::Plane).any(|plane| plane.name_text() == &*name.text);
    let mut named = block.inner(Kind::Tolerance).flat_map(Block::named_fields);
    named.all(|(name, _)| is_plane(name)) && errors.is_empty() && !problems.iter().any(|problem| unread(&problem.kind))
}

/// Those of things in the order of their spans that touch a span; one that begins earlier counts when it reaches into it.
pub fn touching<T>(all: &[T], span: impl Fn(&T) -> Span, of: Span) -> &[T] {
    let first = all.partition_point(|one| span(one).start < of.start);
    let reaches_in = first > 0 && span(&all[first - 1]).end >= of.start;
    let from = &all[first - usize::from(reaches_in)..];
    &from[..from.partition_point(|one| span(one).start <= of.end)]
}
