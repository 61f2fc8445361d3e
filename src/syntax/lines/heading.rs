//! Headings: a kind and at most one name.

use super::quoting::{bare, end_of_string, quote, quoted, trim};
use crate::syntax::grammar::{are_words, is_word};
use crate::syntax::{Kind, Name, SyntaxError, SyntaxErrorKind};
use crate::text::Span;

/// What comes before the brace.
pub(super) struct Heading {
    /// From the first to the last character.
    pub span: Span,
    /// `None` when the words are no kind.
    pub kind: Option<(Kind, Span)>,
    pub name: Option<Name>,
    pub error: Option<SyntaxError>,
}

impl Heading {
    pub fn read(text: &str, span: Span) -> Self {
        let span = trim(text, span);
        let kind = kind_of(text, span);
        let mut heading = Self { span, kind, name: None, error: None };
        match kind {
            Some((_, kind_span)) => heading.read_name(text, Span::new(kind_span.end, span.end)),
            None => heading.error = Some(SyntaxError { span, kind: SyntaxErrorKind::UnknownKind, replace: None }),
        }
        heading
    }

    /// Reads what follows the kind.
    pub fn read_name(&mut self, text: &str, span: Span) {
        let span = trim(text, span);
        let written = span.of(text);
        if written.starts_with('"') {
            let whole = end_of_string(text, span);
            let end = whole.unwrap_or(span.end);
            self.name = Some(quoted(text, Span::new(span.start, end), whole.is_some()));
            if end < span.end {
                self.bad_name(trim(text, Span::new(end, span.end)), None);
            }
        } else if !written.is_empty() {
            self.name = Some(bare(text, span));
            if !(is_word(written) || self.takes_words() && are_words(written)) {
                self.bad_name(span, (!written.contains('"')).then(|| quote(written)));
            }
        }
    }

    /// The ends of a shaft, after which keyways are named, have names of two words.
    fn takes_words(&self) -> bool {
        self.kind.is_some_and(|(kind, _)| kind == Kind::Keyway)
    }

    fn bad_name(&mut self, span: Span, instead: Option<String>) {
        let replace = instead.map(|instead| (span, instead));
        self.error = Some(SyntaxError { span, kind: SyntaxErrorKind::BadBlockName, replace });
    }
}

/// The kind whose words begin `span`.
fn kind_of(text: &str, span: Span) -> Option<(Kind, Span)> {
    Kind::ALL.into_iter().find_map(|kind| {
        let length = length_of_words(span.of(text), kind.words())?;
        Some((kind, Span::new(span.start, span.start + length as u32)))
    })
}

/// How much of `text` the words take, whatever the blanks between them; `None` when it does not begin with them.
fn length_of_words(text: &str, words: &str) -> Option<usize> {
    let mut rest = text;
    for (at, word) in words.split(' ').enumerate() {
        let next = rest.trim_start_matches([' ', '\t']);
        if at > 0 && next.len() == rest.len() {
            return None;
        }
        rest = next.strip_prefix(word)?;
    }
    rest.starts_with([' ', '\t', '"']).then_some(()).or(rest.is_empty().then_some(()))?;
    Some(text.len() - rest.len())
}
