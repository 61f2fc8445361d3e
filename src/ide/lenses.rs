//! Lines above an item: who uses it.

use crate::book::{Book, FileId};
use crate::check::Place;
use crate::text::Span;

/// Words above a heading, and the places they speak of.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lens {
    /// The heading.
    pub span: Span,
    /// `3 setups`
    pub title: String,
    /// Where the item is named.
    pub places: Vec<Place>,
}

/// The lenses of a file: how many setups use each rotor, machine, arbor and set of masses, how many records each setup.
pub fn lenses(book: &Book, file: FileId) -> Vec<Lens> {
    let _ = (book, file);
    Vec::new()
}
