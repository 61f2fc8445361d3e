//! Texts that name a file of the book's folder.

use crate::book::SourceFile;
use crate::text::Span;

/// A text that is the path of a file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct DocumentLink {
    /// Without the quotes.
    pub span: Span,
    /// Relative to the book, with `/`.
    pub path: String,
}

/// The texts of a file that are paths; `is_there` says whether the book's folder has a file at a path.
pub fn links(source: &SourceFile, is_there: &dyn Fn(&str) -> bool) -> Vec<DocumentLink> {
    let _ = (source, is_there);
    Vec::new()
}
