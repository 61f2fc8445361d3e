//! Another name for a thing, everywhere in the book.

use crate::book::{Book, FileId};
use crate::check::FileEdit;
use crate::text::Span;

/// A name that can be changed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Renameable {
    /// The name without its quotes.
    pub span: Span,
    pub name: String,
}

/// Why a name cannot be changed so, in words for people.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Refused(pub String);

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// The name at `offset`, if it can be changed.
pub fn prepare_rename(book: &Book, file: FileId, offset: u32) -> Result<Renameable, Refused> {
    let _ = (book, file, offset);
    Err(Refused("there is no name here".to_owned()))
}

/// The edits that give what is named at `offset` another name everywhere. `name` is written without quotes.
pub fn rename(book: &Book, file: FileId, offset: u32, name: &str) -> Result<Vec<FileEdit>, Refused> {
    let _ = (book, file, offset, name);
    Err(Refused("there is no name here".to_owned()))
}
