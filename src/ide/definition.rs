//! From a name to what it names.

use crate::book::{Book, FileId};
use crate::text::Span;

/// Where a name leads.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Definition {
    /// The name that was asked about.
    pub origin: Span,
    /// More than one where several things bear the name.
    pub targets: Vec<Target>,
}

/// What a name leads to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Target {
    pub file: FileId,
    /// The whole block or fact.
    pub whole: Span,
    /// The name in it.
    pub name: Span,
}

/// What the name at `offset` names; `None` where no name stands or it leads nowhere.
pub fn definition(book: &Book, file: FileId, offset: u32) -> Option<Definition> {
    let _ = (book, file, offset);
    None
}
