//! What stands under the cursor, explained.

use crate::book::{Computing, FileId};
use crate::text::Span;

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Hover {
    /// The piece of text that is explained.
    pub span: Span,
    pub markdown: String,
}

/// The explanation of what stands at `offset`; `None` where nothing is to be said.
pub fn hover(computing: &Computing<'_>, file: FileId, offset: u32) -> Option<Hover> {
    let _ = (computing, file, offset);
    None
}
