//! A text that has been read before and was changed in one stretch: what the change did not touch is not read again.
//!
//! Blocks are nested again over all lines, which is cheap; what is kept is the reading of a single line, and of a line
//! that depends on nothing but its own text: a fact, a heading, a closing brace, each without an error.

use super::heading::Heading;
use super::{Line, LineKind, Reader, SyntaxErrorKind, Tree, beginning, end_of_chunk, read};
use crate::syntax::moved::Distance;
use crate::text::Span;

/// Reads `text`; `before` is the tree of `old`.
pub(in crate::syntax) fn read_again(old: &str, before: &Tree, text: &str) -> Tree {
    let text = beginning(text, u32::MAX as usize - 1);
    let had_conflict = before.errors.iter().any(|error| error.kind == SyntaxErrorKind::ConflictMarkers);
    if had_conflict || old.starts_with('\u{feff}') != text.starts_with('\u{feff}') {
        return read(text);
    }
    Again::new(old, before, text).read().unwrap_or_else(|| read(text))
}

struct Again<'a> {
    before: &'a Tree,
    reader: Reader<'a>,
    /// Lines of `before`, up to here, that are in the new text where they stood.
    front: usize,
    /// Lines of `before`, from here on, that have moved by `distance`.
    back: usize,
    distance: Distance,
    /// Where the lines begin that still have to be read.
    unread: Option<u32>,
}

impl<'a> Again<'a> {
    fn new(old: &str, before: &'a Tree, text: &'a str) -> Self {
        let (old_bytes, bytes) = (old.as_bytes(), text.as_bytes());
        let same_front = same_front(old_bytes, bytes);
        let shorter = old.len().min(text.len());
        let same_back = same_back(old_bytes, bytes).min(shorter - same_front) as u32;
        let lines = &before.lines;
        // A line is the same when its own text and the line ends around it are.
        let starts_in_front = lines.partition_point(|line| line.span.start as usize <= same_front);
        let front = starts_in_front.saturating_sub(1);
        let back = lines.partition_point(|line| line.span.start <= old.len() as u32 - same_back).max(front);
        let distance = Distance::between(old.len() as u32, text.len() as u32);
        Self { before, reader: Reader::new(text), front, back, distance, unread: None }
    }

    /// `None` when the text turns out to hold a conflict, which is a matter of more than one line.
    fn read(mut self) -> Option<Tree> {
        let in_error = self.lines_in_error();
        let lines = &self.before.lines;
        let unmoved = Distance::between(0, 0);
        for (index, line) in lines[..self.front].iter().enumerate() {
            self.line(line, unmoved, in_error[index])?;
        }
        let changed = lines.get(self.front).map_or(0, |line| line.span.start);
        let resumes = lines.get(self.back).map(|line| self.distance.offset(line.span.start));
        if resumes.is_none_or(|resumes| resumes > changed) {
            self.unread.get_or_insert(changed);
        }
        for (index, line) in lines.iter().enumerate().skip(self.back) {
            self.line(line, self.distance, in_error[index])?;
        }
        self.catch_up(self.reader.text.len())?;
        Some(self.reader.finish())
    }

    /// For each line, whether an error begins on it.
    fn lines_in_error(&self) -> Vec<bool> {
        let lines = &self.before.lines;
        let mut in_error = vec![false; lines.len()];
        let mut at = 0;
        for error in &self.before.errors {
            while lines.get(at + 1).is_some_and(|next| next.span.start <= error.span.start) {
                at += 1;
            }
            in_error[at] = true;
        }
        in_error
    }

    fn line(&mut self, line: &Line, by: Distance, in_error: bool) -> Option<()> {
        let start = by.offset(line.span.start);
        if in_error || !stands_for_itself(line, self.reader.nest.depth()) {
            self.unread.get_or_insert(start);
            return Some(());
        }
        if self.unread.is_some() {
            self.catch_up(start as usize - 1)?;
            // What was read may have left the line outside every block.
            if !stands_for_itself(line, self.reader.nest.depth()) {
                self.unread = Some(start);
                return Some(());
            }
        }
        self.reader.take(line, by);
        Some(())
    }

    /// Reads what has not been read, up to `end`.
    fn catch_up(&mut self, end: usize) -> Option<()> {
        let Some(start) = self.unread.take() else { return Some(()) };
        let text = &self.reader.text[..end];
        let mut start = start as usize;
        loop {
            let chunk_end = end_of_chunk(text.as_bytes(), start);
            self.reader.chunk(start, &text[start..chunk_end]);
            if self.reader.conflicts.is_some() {
                return None;
            }
            if chunk_end == end {
                return Some(());
            }
            start = chunk_end + 1;
        }
    }
}

/// Bytes compared at one time.
const STEP: usize = 64;

/// How many bytes are the same, from the first on.
fn same_front(a: &[u8], b: &[u8]) -> usize {
    let steps = STEP * a.chunks_exact(STEP).zip(b.chunks_exact(STEP)).take_while(|(a, b)| a == b).count();
    steps + a[steps..].iter().zip(&b[steps..]).take_while(|(a, b)| a == b).count()
}

/// How many bytes are the same, from the last on.
fn same_back(a: &[u8], b: &[u8]) -> usize {
    let steps = STEP * a.rchunks_exact(STEP).zip(b.rchunks_exact(STEP)).take_while(|(a, b)| a == b).count();
    let (a, b) = (&a[..a.len() - steps], &b[..b.len() - steps]);
    steps + a.iter().rev().zip(b.iter().rev()).take_while(|(a, b)| a == b).count()
}

/// Whether a line without an error means the same wherever it is at this depth.
fn stands_for_itself(line: &Line, depth: usize) -> bool {
    match &line.kind {
        LineKind::Blank | LineKind::Comment => true,
        LineKind::Fact(_) | LineKind::Pin(_) => depth > 0,
        LineKind::Open(open) => open.kind_span.start >= line.span.start && open.brace.start < open.brace.end,
        LineKind::Close(_) => depth > 0,
        LineKind::Unfinished(_) | LineKind::Junk | LineKind::Conflict => false,
    }
}

impl Reader<'_> {
    /// A line as it was read before, nested as blocks stand now.
    fn take(&mut self, line: &Line, by: Distance) {
        let index = self.lines.len() as u32;
        match &line.kind {
            LineKind::Open(open) => {
                let open = open.moved(by);
                let end = open.name.as_ref().map_or(open.kind_span.end, |name| name.span.end);
                let span = Span::new(open.kind_span.start, end);
                let heading = Heading { span, kind: Some((open.kind, open.kind_span)), name: open.name, error: None };
                let comment = line.comment.map(|comment| by.span(comment));
                self.open_block(by.span(line.span), heading, open.brace, Span::at(open.brace.end), comment);
            }
            LineKind::Close(brace) => {
                self.nest.close(Some(index), by.offset(brace.end));
                self.take_plain(line, by);
            }
            _ => {
                self.nest.line(index);
                self.take_plain(line, by);
            }
        }
    }

    fn take_plain(&mut self, line: &Line, by: Distance) {
        let depth = self.nest.depth() as u16;
        self.lines.push(Line { depth, ..line.moved(by) });
    }
}
