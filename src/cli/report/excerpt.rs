//! The lines of a file that a report shows, found through the file's line index.

use std::sync::Arc;

use miette::{MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};

use crate::cli::terminal::is_harmful;
use crate::text::{LineIndex, Span};

/// A longer line is shown only around what the report is about.
const LONGEST_LINE: usize = 160;
/// How much of a long line comes before what the report is about.
const BEFORE: usize = 40;
/// The longest piece of a long line that is underlined.
const LONGEST_LABEL: u32 = 100;

/// One file for reports: its text as a terminal may show it, byte for byte in the same places.
#[derive(Debug)]
pub(super) struct Excerpt {
    name: String,
    text: Arc<str>,
    lines: LineIndex,
}

impl Excerpt {
    pub fn new(name: String, text: &Arc<str>) -> Self {
        Self { name, lines: LineIndex::new(text), text: harmless(text) }
    }

    /// What can be underlined of a span: its first line, and of that not more than fits a screen.
    pub fn label(&self, span: Span) -> SourceSpan {
        let line = self.lines.line_of(span.start);
        let (start, end) = self.line(line);
        let last = if end - start > LONGEST_LINE { span.start + LONGEST_LABEL } else { end as u32 };
        let mut end = span.end.min(last).max(span.start) as usize;
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        (span.start as usize..end).into()
    }

    /// Whether what is shown of both places begins with `first`, or they are shown in one piece.
    pub fn begins_with(&self, first: Span, other: Span) -> bool {
        /// A line on either side of each place is shown too.
        const AROUND: u32 = 2;
        self.lines.line_of(other.start) + AROUND >= self.lines.line_of(first.start)
    }

    /// Start and end of a line, without its line end.
    fn line(&self, line: u32) -> (usize, usize) {
        let start = self.lines.start_of(line) as usize;
        let end = self.lines.start_of(line + 1) as usize;
        (start, start + self.text[start..end].trim_end_matches(['\n', '\r']).len())
    }

    fn is_long(&self, line: u32) -> bool {
        let (start, end) = self.line(line);
        end - start > LONGEST_LINE
    }

    fn contents(&self, start: usize, end: usize, lines: usize) -> MietteSpanContents<'_> {
        let position = self.lines.scalars(&self.text, start as u32);
        MietteSpanContents::new_named(
            self.name.clone(),
            self.text[start..end].as_bytes(),
            (start..end).into(),
            position.line as usize,
            position.column as usize,
            lines,
        )
    }

    /// The part of a long line around a span.
    fn window(&self, start: usize, end: usize, line: u32) -> Result<MietteSpanContents<'_>, MietteError> {
        let (first, last) = self.line(line);
        if end - start > LONGEST_LABEL as usize {
            return Err(MietteError::OutOfBounds);
        }
        let mut from = first.max(start.saturating_sub(BEFORE));
        while !self.text.is_char_boundary(from) {
            from += 1;
        }
        let mut to = last.min(from + LONGEST_LINE).max(end);
        while !self.text.is_char_boundary(to) {
            to -= 1;
        }
        Ok(self.contents(from, to, 1))
    }
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let (start, end) = (span.offset(), span.offset() + span.len());
        if end > self.text.len() {
            return Err(MietteError::OutOfBounds);
        }
        let (first, last) = (self.lines.line_of(start as u32), self.lines.line_of(end as u32));
        if first == last && self.is_long(first) {
            let window = if before == 0 { self.contents(start, end, 1) } else { self.window(start, end, first)? };
            return Ok(Box::new(window));
        }
        // Without lines before it, the place itself is asked for.
        if before == 0 {
            return Ok(Box::new(self.contents(start, end, 1)));
        }
        let from = first.saturating_sub(before as u32);
        let to = (last + after as u32).min(self.lines.lines() - 1);
        let from = (from..first).find(|line| !(*line..first).any(|line| self.is_long(line))).unwrap_or(first);
        let to = (last..=to).take_while(|line| *line == last || !self.is_long(*line)).last().unwrap_or(last);
        let contents = self.contents(self.line(from).0, self.line(to).1, (to - from + 1) as usize);
        Ok(Box::new(contents))
    }
}

/// The text with every character that would drive the terminal replaced by one of the same length in bytes.
fn harmless(text: &Arc<str>) -> Arc<str> {
    let carried = |character: char| character == '\r' || !is_harmful(character);
    if text.chars().all(carried) {
        return text.clone();
    }
    let replaced = text.chars().map(|character| match character.len_utf8() {
        _ if carried(character) => character,
        1 => '?',
        2 => '¤',
        _ => '\u{fffd}',
    });
    replaced.collect::<String>().into()
}
