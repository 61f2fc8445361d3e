//! Everywhere a thing is named.

use crate::book::{Book, FileId};
use crate::check::Place;

/// Every place in the book that names what the name at `offset` names, in the order of files; with the place where it
/// is described when that is wanted too.
pub fn references(book: &Book, file: FileId, offset: u32, with_description: bool) -> Vec<Place> {
    let _ = (book, file, offset, with_description);
    Vec::new()
}
