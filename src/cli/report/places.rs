//! Lines and columns for programs: both count from 1, columns in Unicode scalar values; bytes from 0, ends exclusive.

use std::cell::OnceCell;

use serde::Serialize;

use crate::book::{Book, FileId};
use crate::check::Place;
use crate::text::LineIndex;

#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub(in crate::cli) struct Point {
    pub line: u32,
    pub column: u32,
    pub byte: u32,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub(in crate::cli) struct Extent {
    pub start: Point,
    pub end: Point,
}

/// Finds lines and columns in the files of one book; the lines of a file are counted when it is first asked for.
pub(in crate::cli) struct Places<'b> {
    book: &'b Book,
    lines: Vec<OnceCell<LineIndex>>,
}

impl<'b> Places<'b> {
    pub fn new(book: &'b Book) -> Self {
        Self { book, lines: book.files().map(|_| OnceCell::new()).collect() }
    }

    pub fn extent(&self, place: Place) -> Extent {
        Extent { start: self.point(place.file, place.span.start), end: self.point(place.file, place.span.end) }
    }

    pub fn point(&self, file: FileId, byte: u32) -> Point {
        let text = &self.book.file(file).text;
        let lines = self.lines[file.0 as usize].get_or_init(|| LineIndex::new(text));
        let position = lines.scalars(text, byte);
        Point { line: position.line + 1, column: position.column + 1, byte }
    }
}
