//! Where the code of a line ends and its comment begins.

use super::quoting::trim;
use crate::text::Span;

/// A stretch of a line up to its comment.
pub(super) struct Code {
    /// Without blanks at its ends.
    pub span: Span,
    pub comment: Option<Span>,
    /// Where a string begins that is not closed; it takes the rest of the line.
    pub unclosed: Option<u32>,
}

impl Code {
    /// The code between `start` and the comment of a line that ends at `end`; `start` lies outside strings.
    pub fn split(text: &str, start: u32, end: u32) -> Self {
        let mut unclosed = None;
        let mut comment = None;
        for (at, byte) in (start..end).zip(&text.as_bytes()[start as usize..end as usize]) {
            match byte {
                b'"' => unclosed = if unclosed.is_none() { Some(at) } else { None },
                b'#' if unclosed.is_none() => {
                    comment = Some(Span::new(at, end));
                    break;
                }
                _ => {}
            }
        }
        let code_end = comment.map_or(end, |comment| comment.start);
        Self { span: trim(text, Span::new(start, code_end)), comment, unclosed }
    }

    /// The last byte, unless it lies in a string that is not closed.
    pub fn last(&self, text: &str) -> Option<u8> {
        let last = text.as_bytes()[self.span.range()].last().copied();
        if self.unclosed.is_none() { last } else { None }
    }
}
