//! Values that start with a quote or a letter.

use super::{broken, numeric};
use crate::syntax::grammar::Rule;
use crate::syntax::quoting::{end_of_string, quote, quoted, trim};
use crate::syntax::{Shape, SyntaxError, SyntaxErrorKind, diagnose};
use crate::text::Span;

/// A string, which should be all of the value.
pub(super) fn string(text: &str, span: Span, errors: &mut Vec<SyntaxError>) -> Shape {
    let Some(end) = end_of_string(text, span) else {
        let replace = Some((Span::at(span.end), "\"".to_owned()));
        errors.push(SyntaxError { span, kind: SyntaxErrorKind::UnclosedQuote, replace });
        return Shape::Quoted(quoted(text, span, false));
    };
    if let Some(error) = escaped_quote(text, span.start, end) {
        return broken(errors, error);
    }
    if end < span.end {
        if let Some(error) = quote_inside(text, span, end) {
            return broken(errors, error);
        }
        let rest = trim(text, Span::new(end, span.end));
        return broken(errors, SyntaxError { span: rest, kind: SyntaxErrorKind::TextAfterValue, replace: None });
    }
    Shape::Quoted(quoted(text, span, true))
}

/// `"the "long" arbor"`: a letter is stuck to the quote that ends the string at `end`, and another quote ends the value.
fn quote_inside(text: &str, span: Span, end: u32) -> Option<SyntaxError> {
    let whole = span.of(text);
    let stuck = text[end as usize..].starts_with(char::is_alphanumeric);
    (stuck && whole.ends_with('"')).then(|| SyntaxError {
        span: Span::new(end - 1, end),
        kind: SyntaxErrorKind::EscapedQuote,
        replace: Some((span, quote(&whole[1..whole.len() - 1].replace("\"\"", "\"")))),
    })
}

/// `"a \"b\" c"`: the string ends at `end`, after a backslash, and more is stuck to it, be it only a comment.
fn escaped_quote(text: &str, start: u32, end: u32) -> Option<SyntaxError> {
    let bytes = text.as_bytes();
    let backslash = bytes[end as usize - 2] == b'\\' && end - start > 2;
    let stuck = bytes.get(end as usize).is_some_and(|byte| !matches!(byte, b' ' | b'\t' | b'\r' | b'\n' | b','));
    (backslash && stuck).then(|| SyntaxError {
        span: Span::new(end - 2, end),
        kind: SyntaxErrorKind::EscapedQuote,
        replace: unescaped(text, start),
    })
}

/// The string from `start` to the first quote without a backslash, with its quotes doubled.
fn unescaped(text: &str, start: u32) -> Option<(Span, String)> {
    let rest = &text[start as usize + 1..];
    let line = &rest[..rest.find(['\n', '\r']).unwrap_or(rest.len())];
    let mut last = 0;
    let end = line.bytes().enumerate().find_map(|(at, byte)| {
        let found = byte == b'"' && last != b'\\';
        last = byte;
        found.then_some(at)
    })?;
    let span = Span::new(start, start + end as u32 + 2);
    Some((span, quote(&line[..end].replace("\\\"", "\""))))
}

/// A grade, a one-sided range, or words.
pub(super) fn lettered(text: &str, span: Span, errors: &mut Vec<SyntaxError>) -> Shape {
    let written = span.of(text);
    match written.as_bytes()[0] {
        b'G' | b'g' if is_grade(written) => numeric::ruled(text, span, Rule::grade, errors),
        b'u' if begins_number(written, &["up", "to"]) => numeric::ruled(text, span, Rule::up_to, errors),
        b'f' if begins_number(written, &["from"]) => numeric::ruled(text, span, Rule::from_up, errors),
        b't' if begins_number(written, &["to"]) => broken(errors, to_alone(span)),
        _ => words(text, span, errors),
    }
}

/// `G` before a number. `g1` is a word like any other; `g 1` and `g6.3` cannot be one.
fn is_grade(written: &str) -> bool {
    let behind = written[1..].trim_start_matches([' ', '\t']);
    let number = behind.starts_with(|c: char| c.is_ascii_digit());
    number && (written.starts_with('G') || behind.len() < written.len() - 1 || behind.contains(['.', ',']))
}

/// Whether the words stand first and something that can only be a number, or nothing, follows.
fn begins_number(written: &str, words: &[&str]) -> bool {
    let mut rest = written;
    for word in words {
        let Some(next) = rest.strip_prefix(word) else { return false };
        rest = next.trim_start_matches([' ', '\t']);
        if rest.len() == next.len() && !next.is_empty() {
            return false;
        }
    }
    rest.is_empty() || rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '(' | '.'))
}

fn to_alone(span: Span) -> SyntaxError {
    let replace = Some((Span::at(span.start), "up ".to_owned()));
    SyntaxError { span, kind: SyntaxErrorKind::BadRange, replace }
}

/// Bare text. Whether it is a choice, a name, or prose that lacks its quotes, the key decides.
///
/// Nearly every character may be in it; but a quote, a colon or an arrow, a brace and a comma stuck to the next word
/// are signs of something else.
pub(super) fn words(text: &str, span: Span, errors: &mut Vec<SyntaxError>) -> Shape {
    if let Some(error) = diagnose::word_before_number(text, span) {
        return broken(errors, error);
    }
    let written = span.of(text);
    let Some(at) = written.bytes().position(|byte| matches!(byte, b'"' | b':' | b'=' | b'{' | b'}' | b',')) else {
        return Shape::Words;
    };
    match odd_in_words(written, at) {
        Some((at, kind)) => broken(errors, odd_words(text, span, span.start + at as u32, kind)),
        None => Shape::Words,
    }
}

fn odd_in_words(written: &str, from: usize) -> Option<(usize, SyntaxErrorKind)> {
    let bytes = written.as_bytes();
    (from..bytes.len()).find_map(|at| match bytes[at] {
        b'"' if bytes[at + 1..].contains(&b'"') => Some((at, SyntaxErrorKind::TextAfterValue)),
        b'"' => Some((at, SyntaxErrorKind::UnclosedQuote)),
        b':' | b'{' | b'}' => Some((at, SyntaxErrorKind::TextAfterValue)),
        b'=' if bytes.get(at + 1) == Some(&b'>') => Some((at, SyntaxErrorKind::TextAfterValue)),
        b',' => Some((at, SyntaxErrorKind::CommaWithoutSpace)),
        _ => None,
    })
}

fn odd_words(text: &str, span: Span, at: u32, kind: SyntaxErrorKind) -> SyntaxError {
    if kind == SyntaxErrorKind::CommaWithoutSpace {
        let comma = Span::new(at, at + 1);
        return SyntaxError { span: comma, kind, replace: Some((Span::at(comma.end), " ".to_owned())) };
    }
    let written = span.of(text);
    // A quote at the very end was to close the text, and is not part of it.
    let inside = if kind == SyntaxErrorKind::UnclosedQuote { written.trim_end_matches('"') } else { written };
    SyntaxError { span: Span::new(at, span.end), kind, replace: Some((span, quote(inside))) }
}
