//! Bytes ↔ the positions of the protocol.

use std::sync::Arc;

use crate::server::protocol::{Position, PositionEncodingKind, Range, TextEdit};
use crate::text::{Edit, LineIndex, Position as At, Span};

/// What a column counts.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(in crate::server) enum Encoding {
    Utf8,
    /// What every client understands.
    #[default]
    Utf16,
}

impl Encoding {
    pub fn kind(self) -> PositionEncodingKind {
        match self {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
        }
    }
}

/// One text with the places of its lines.
#[derive(Clone)]
pub(in crate::server) struct Places<'t> {
    text: &'t str,
    lines: Arc<LineIndex>,
    encoding: Encoding,
}

impl<'t> Places<'t> {
    /// `lines` are those of `text`.
    pub fn new(text: &'t str, lines: Arc<LineIndex>, encoding: Encoding) -> Self {
        Self { text, lines, encoding }
    }

    pub fn of(text: &'t str, encoding: Encoding) -> Self {
        Self::new(text, Arc::new(LineIndex::with_lone_returns(text)), encoding)
    }

    pub fn position(&self, offset: u32) -> Position {
        let At { line, column } = match self.encoding {
            Encoding::Utf8 => self.lines.utf8(offset),
            Encoding::Utf16 => self.lines.utf16(self.text, offset),
        };
        Position::new(line, column)
    }

    pub fn range(&self, span: Span) -> Range {
        Range::new(self.position(span.start), self.position(span.end))
    }

    /// The byte at a position; what lies outside the text is the nearest place in it.
    pub fn offset(&self, position: Position) -> u32 {
        let at = At { line: position.line, column: position.character };
        match self.encoding {
            Encoding::Utf8 => self.lines.offset_of_utf8(self.text, at),
            Encoding::Utf16 => self.lines.offset_of_utf16(self.text, at),
        }
    }

    /// The bytes of a range; a range that ends before it starts is empty.
    pub fn span(&self, range: Range) -> Span {
        let start = self.offset(range.start);
        Span::new(start, self.offset(range.end).max(start))
    }

    pub fn edit(&self, edit: &Edit) -> TextEdit {
        TextEdit::new(self.range(edit.span), edit.text.clone())
    }

    pub fn edits(&self, edits: &[Edit]) -> Vec<TextEdit> {
        edits.iter().map(|edit| self.edit(edit)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_far_away_are_brought_back() {
        let places = Places::of("µ𝄞\nend", Encoding::Utf16);
        assert_eq!(places.offset(Position::new(0, 3)), 6);
        assert_eq!(places.offset(Position::new(0, 99)), 6);
        assert_eq!(places.offset(Position::new(99, 0)), 10);
        assert_eq!(places.offset(Position::new(u32::MAX, u32::MAX)), 10);
        let reversed = Range::new(Position::new(1, 2), Position::new(0, 0));
        assert_eq!(places.span(reversed), Span::at(9));
    }
}
