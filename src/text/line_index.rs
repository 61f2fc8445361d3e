//! Bytes ↔ lines and columns, in the three ways of counting columns that callers need.

use super::Span;

/// A place as line and column, both from zero; what a column counts depends on the method that made it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Position {
    pub line: u32,
    pub column: u32,
}

/// Where each line of one text starts. Lines end at LF; a CR before it belongs to the line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LineIndex {
    starts: Vec<u32>,
    len: u32,
    /// Whether a CR that no LF follows ends a line too.
    lone_returns: bool,
}

impl LineIndex {
    pub fn new(text: &str) -> Self {
        Self::of(text, false)
    }

    /// The same for editors, to which a CR by itself is the end of a line.
    pub fn with_lone_returns(text: &str) -> Self {
        Self::of(text, true)
    }

    fn of(text: &str, lone_returns: bool) -> Self {
        let len = text.len() as u32;
        let mut index = Self { starts: vec![0], len, lone_returns };
        index.find(text, 0, len + 1);
        index
    }

    /// Adds the starts of lines that lie after `from` and before `to`.
    fn find(&mut self, text: &str, from: u32, to: u32) {
        let bytes = text.as_bytes();
        let before = &bytes[from as usize..(to as usize - 1).min(bytes.len())];
        let ends_line = |at: usize, byte: u8| match byte {
            b'\n' => true,
            b'\r' => self.lone_returns && bytes.get(at + 1) != Some(&b'\n'),
            _ => false,
        };
        let places = before.iter().zip(from as usize..).filter(|(byte, at)| ends_line(*at, **byte));
        self.starts.extend(places.map(|(_, at)| at as u32 + 1));
    }

    /// Follows a change of the text, of which `text` is the outcome: `span` has been replaced by so many bytes.
    pub fn change(&mut self, span: Span, by: u32, text: &str) {
        // What is put in may part a CR from its LF, or bring them together, so the bytes around it count too.
        let first = self.line_of(span.start.saturating_sub(1)) as usize;
        let behind = self.starts.partition_point(|start| *start < span.end + 2);
        let moved = |old: u32| old + by - span.len();
        let rest: Vec<u32> = self.starts[behind..].iter().map(|start| moved(*start)).collect();
        self.starts.truncate(first + 1);
        self.len = text.len() as u32;
        let to = moved(span.end + 2).min(self.len + 1);
        self.find(text, self.starts[first], to);
        self.starts.extend(rest);
    }

    pub fn lines(&self) -> u32 {
        self.starts.len() as u32
    }

    /// The byte at which `line` starts; past the last line, the end of the text.
    pub fn start_of(&self, line: u32) -> u32 {
        self.starts.get(line as usize).copied().unwrap_or(self.len)
    }

    pub fn line_of(&self, offset: u32) -> u32 {
        self.starts.partition_point(|start| *start <= offset) as u32 - 1
    }

    /// Column in bytes (UTF-8 code units).
    pub fn utf8(&self, offset: u32) -> Position {
        let line = self.line_of(offset);
        Position { line, column: offset - self.start_of(line) }
    }

    /// Column in UTF-16 code units. `text` is the text this index was made from.
    pub fn utf16(&self, text: &str, offset: u32) -> Position {
        self.counted(text, offset, char::len_utf16)
    }

    /// Column in Unicode scalar values. `text` is the text this index was made from.
    pub fn scalars(&self, text: &str, offset: u32) -> Position {
        self.counted(text, offset, |_| 1)
    }

    /// The byte of a position with columns in bytes; a column past the line's end is the line's end.
    pub fn offset_of_utf8(&self, text: &str, position: Position) -> u32 {
        self.found(text, position, char::len_utf8)
    }

    /// The byte of a position with columns in UTF-16 code units; a column inside a pair is its start.
    pub fn offset_of_utf16(&self, text: &str, position: Position) -> u32 {
        self.found(text, position, char::len_utf16)
    }

    fn counted(&self, text: &str, offset: u32, width: fn(char) -> usize) -> Position {
        let line = self.line_of(offset);
        let before = &text[self.start_of(line) as usize..offset as usize];
        Position { line, column: before.chars().map(width).sum::<usize>() as u32 }
    }

    fn found(&self, text: &str, position: Position, width: fn(char) -> usize) -> u32 {
        let start = self.start_of(position.line);
        let line = text[start as usize..self.start_of(position.line.saturating_add(1)) as usize]
            .trim_end_matches(['\n', '\r']);
        let mut column = 0;
        for (at, character) in line.char_indices() {
            column += width(character) as u32;
            if column > position.column {
                return start + at as u32;
            }
        }
        start + line.len() as u32
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_counted_in_three_ways() {
        let text = "a\nµ𝄞x\r\nend";
        let index = LineIndex::new(text);
        let x = text.find('x').unwrap() as u32;
        assert_eq!(index.utf8(x), Position { line: 1, column: 6 });
        assert_eq!(index.utf16(text, x), Position { line: 1, column: 3 });
        assert_eq!(index.scalars(text, x), Position { line: 1, column: 2 });
        assert_eq!(index.offset_of_utf16(text, Position { line: 1, column: 3 }), x);
        assert_eq!(index.offset_of_utf16(text, Position { line: 1, column: 2 }), 4);
        assert_eq!(index.offset_of_utf8(text, Position { line: 1, column: 99 }), x + 1);
        assert_eq!(index.offset_of_utf8(text, Position { line: 9, column: 0 }), text.len() as u32);
    }
    #[test]
    fn a_return_by_itself_ends_a_line_for_editors() {
        let text = "a\rb\r\nc\r";
        assert_eq!(LineIndex::new(text).lines(), 2);
        let index = LineIndex::with_lone_returns(text);
        assert_eq!((index.lines(), index.start_of(1), index.start_of(2), index.start_of(3)), (4, 2, 5, 7));
    }

    #[test]
    fn a_changed_text_has_the_index_of_a_fresh_one() {
        let pieces = ["", "\n", "\r", "\r\n", "a", "\n\r", "ab\ncd", "\r\r", "\n\n\n"];
        for text in pieces.iter().flat_map(|a| pieces.iter().map(move |b| format!("x{a}y{b}z{a}"))) {
            for (start, end) in (0..=text.len()).flat_map(|start| (start..=text.len()).map(move |end| (start, end))) {
                for piece in pieces {
                    let after = format!("{}{piece}{}", &text[..start], &text[end..]);
                    let mut index = LineIndex::with_lone_returns(&text);
                    index.change(Span::new(start as u32, end as u32), piece.len() as u32, &after);
                    assert_eq!(index, LineIndex::with_lone_returns(&after), "{text:?} {start}..{end} {piece:?}");
                }
            }
        }
    }
}
