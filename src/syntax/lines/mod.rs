//! The outer tier: a file as lines, with the blocks over them.

mod again;
mod braces;
mod code;
mod fact;
mod heading;
mod opening;
mod recover;

pub(super) use again::read_again;

use pest::Parser;
use pest::iterators::Pair;

use recover::Ending;

use super::conflict::{Conflicts, Place, marker};
use super::grammar::{Grammar, Rule};
use super::nest::Nest;
use super::{Head, Line, LineKind, Name, SyntaxError, SyntaxErrorKind, Tree, hidden, quoting};
use crate::text::Span;

/// Bytes read at one time: whole lines, few enough that the grammar's tokens stay in the processor's cache.
const CHUNK: usize = 16 * 1024;

/// Reads a whole file.
pub(super) fn read(text: &str) -> Tree {
    // Spans are four bytes a side; the program refuses larger files before it comes to this.
    let text = beginning(text, u32::MAX as usize - 1);
    let mut reader = Reader::new(text);
    let mut start = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    loop {
        let end = end_of_chunk(text.as_bytes(), start);
        reader.chunk(start, &text[start..end]);
        if end == text.len() {
            return reader.finish();
        }
        start = end + 1;
    }
}

/// At most `longest` bytes of `text`.
fn beginning(text: &str, longest: usize) -> &str {
    let end = (0..=longest.min(text.len())).rev().find(|end| text.is_char_boundary(*end));
    &text[..end.unwrap_or(0)]
}

/// The end of the line that [`CHUNK`] bytes from `start` fall into.
fn end_of_chunk(text: &[u8], start: usize) -> usize {
    let rest = text.get(start + CHUNK..).unwrap_or_default();
    rest.iter().position(|byte| *byte == b'\n').map_or(text.len(), |at| start + CHUNK + at)
}

/// One line as the grammar saw it.
struct Raw {
    /// Without its line end.
    line: Span,
    words: Option<Span>,
    name: Option<Span>,
    rule: Rule,
    /// Where `rule` begins: the colon, the arrow, the brace, the `#`, or what is not understood.
    mark: u32,
}

struct Reader<'t> {
    text: &'t str,
    lines: Vec<Line>,
    nest: Nest,
    errors: Vec<SyntaxError>,
    conflicts: Option<Conflicts>,
    /// Whether the text may hold characters that cannot be seen.
    hidden: bool,
}

impl<'t> Reader<'t> {
    fn new(text: &'t str) -> Self {
        Self {
            text,
            lines: Vec::with_capacity(text.len() / 24 + 1),
            nest: Nest::default(),
            errors: Vec::new(),
            conflicts: None,
            hidden: hidden::possible(text.as_bytes()),
        }
    }

    fn chunk(&mut self, offset: usize, chunk: &str) {
        match Grammar::parse(Rule::lines, chunk) {
            Ok(pairs) => pairs.for_each(|lines| self.grammatical(offset, lines)),
            // The rule takes any text; were it ever to fail, each line would still be looked at by hand.
            Err(_) => self.ungrammatical(offset, chunk),
        }
    }

    fn grammatical(&mut self, offset: usize, lines: Pair<'_, Rule>) {
        let mut start = offset as u32;
        let (mut words, mut name) = (None, None);
        for pair in lines.into_inner().flatten() {
            let (rule, span) = (pair.as_rule(), pair.as_span());
            let span = Span::new((offset + span.start()) as u32, (offset + span.end()) as u32);
            match rule {
                Rule::line => {}
                Rule::words => words = Some(span),
                Rule::name | Rule::digits => name = Some(span),
                rule => {
                    let line = self.without_cr(Span::new(start, span.end));
                    start = span.end + 1;
                    self.line(Raw { line, words: words.take(), name: name.take(), rule, mark: span.start });
                }
            }
        }
    }

    fn ungrammatical(&mut self, offset: usize, chunk: &str) {
        let mut start = offset as u32;
        for line in chunk.split('\n') {
            let span = Span::new(start, start + line.len() as u32);
            start = span.end + 1;
            let line = self.without_cr(span);
            self.line(Raw { line, words: None, name: None, rule: Rule::junk, mark: line.start });
        }
    }

    /// Carriage returns at the end of a line are part of the line end.
    fn without_cr(&self, line: Span) -> Span {
        let returns = self.text.as_bytes()[line.range()].iter().rev().take_while(|byte| **byte == b'\r').count();
        Span::new(line.start, line.end - returns as u32)
    }

    fn line(&mut self, raw: Raw) {
        if self.in_conflict(&raw) {
            return self.push(raw.line, LineKind::Conflict, None, self.nest.depth());
        }
        let errors_before = self.errors.len();
        match raw.rule {
            Rule::empty => self.plain(raw.line, LineKind::Blank, None),
            Rule::comment => self.plain(raw.line, LineKind::Comment, Some(raw.mark)),
            Rule::unfinished => self.unfinished(raw),
            Rule::fact | Rule::pin => self.fact(raw),
            Rule::open => self.open(raw),
            Rule::close => self.close(raw),
            _ => self.recover(raw.line),
        }
        if self.hidden {
            self.look_for_hidden(errors_before);
        }
    }

    fn in_conflict(&mut self, raw: &Raw) -> bool {
        let unconflicted = self.conflicts.is_none();
        if unconflicted && (raw.rule != Rule::junk || marker(raw.line.of(self.text).as_bytes()).is_none()) {
            return false;
        }
        let conflicts = self.conflicts.get_or_insert_with(|| Conflicts::find(self.text, raw.line.start));
        conflicts.place(raw.line.start) == Place::Skipped
    }

    /// A hidden or wide character in the code of a line is its one error; in a string or a comment it is one more.
    fn look_for_hidden(&mut self, errors_before: usize) {
        let Some(line) = self.lines.last() else { return };
        if let Some(error) = hidden::find(self.text, line.span, line.comment) {
            if error.kind.is_of_letters() {
                self.errors.truncate(errors_before);
            }
            self.errors.push(error);
        }
    }

    fn push(&mut self, span: Span, kind: LineKind, comment: Option<Span>, depth: usize) {
        self.lines.push(Line { span, kind, comment, depth: depth as u16 });
    }

    /// A line that opens and closes nothing.
    fn plain(&mut self, span: Span, kind: LineKind, comment: Option<u32>) {
        self.nest.line(self.lines.len() as u32);
        let comment = comment.map(|start| Span::new(start, span.end));
        self.push(span, kind, comment, self.nest.depth());
    }

    fn unfinished(&mut self, raw: Raw) {
        let head = self.head(&raw);
        let comment = (raw.mark < raw.line.end).then_some(raw.mark);
        if self.heading_without_brace(raw.line, head.span, comment, Ending::Nothing) {
            return;
        }
        self.error(head.span, SyntaxErrorKind::UnfinishedLine, None);
        self.plain(raw.line, LineKind::Unfinished(head), comment);
    }

    fn head(&self, raw: &Raw) -> Head {
        let span = match (raw.words, raw.name) {
            (Some(words), Some(name)) => words.to(name),
            (words, name) => words.or(name).unwrap_or(Span::at(raw.mark)),
        };
        Head { span, words: raw.words, name: raw.name.map(|name| self.name(name)) }
    }

    /// A name in quotes, or of digits alone.
    fn name(&self, span: Span) -> Name {
        match self.text.as_bytes()[span.start as usize] {
            b'"' => quoting::quoted(self.text, span, true),
            _ => quoting::bare(self.text, span),
        }
    }

    fn error(&mut self, span: Span, kind: SyntaxErrorKind, replace: Option<(Span, String)>) {
        self.errors.push(SyntaxError { span, kind, replace });
    }

    fn finish(self) -> Tree {
        let (top, unclosed) = self.nest.end(&self.lines);
        let conflicts = self.conflicts.unwrap_or_default().whole.into_iter().map(|span| SyntaxError {
            span,
            kind: SyntaxErrorKind::ConflictMarkers,
            replace: None,
        });
        let mut errors = self.errors;
        errors.extend(unclosed);
        errors.extend(conflicts);
        errors.sort_by_key(|error| error.span);
        Tree { lines: self.lines, top, errors }
    }
}
