//! Bytes ↔ lines and columns, in the three ways of counting columns that callers need.

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
}

impl LineIndex {
    pub fn new(text: &str) -> Self {
        let mut starts = vec![0];
        starts.extend(text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at as u32 + 1));
        Self { starts, len: text.len() as u32 }
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
        let line = text[start as usize..self.start_of(position.line + 1) as usize].trim_end_matches(['\n', '\r']);
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
}
