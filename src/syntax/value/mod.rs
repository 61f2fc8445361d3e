//! The inner tier: one value. Its first character says what it may be.

mod build;
mod clock;
mod list;
mod number;
mod numeric;
mod shortcut;
mod text;

use super::quoting::trim;
use super::{Shape, SyntaxError, SyntaxErrorKind, Value, diagnose};
use crate::text::Span;

/// Reads the value at `span` of `text`.
pub(super) fn read(text: &str, span: Span, errors: &mut Vec<SyntaxError>) -> Value {
    let span = trim(text, span);
    if span.is_empty() {
        errors.push(SyntaxError { span, kind: SyntaxErrorKind::MissingValue, replace: None });
        return Value { span, shape: Shape::Nothing };
    }
    if span.of(text) == "?" {
        return Value { span, shape: Shape::Unknown };
    }
    if is_blank_filler(span.of(text)) {
        errors.push(SyntaxError { span, kind: SyntaxErrorKind::MissingValue, replace: None });
        return Value { span, shape: Shape::Broken };
    }
    if let Some(error) = list::bracketed(text, span) {
        return Value { span, shape: broken(errors, error) };
    }
    match list::split(text, span) {
        Some(items) => list::read(text, span, &items, errors),
        None => Value { span, shape: one(text, span, errors) },
    }
}

/// A value that is no list. `span` is not empty.
fn one(text: &str, span: Span, errors: &mut Vec<SyntaxError>) -> Shape {
    match text.as_bytes()[span.start as usize] {
        b'"' => text::string(text, span, errors),
        b'a'..=b'z' | b'A'..=b'Z' => text::lettered(text, span, errors),
        // A unit alone that begins with a digit, in a list of units.
        b'1' if span.of(text) == "1/min" => Shape::Words,
        b'0'..=b'9' | b'-' | b'(' | b'.' => numeric::number_like(text, span, errors),
        _ if span.of(text).starts_with(char::is_alphabetic) => text::words(text, span, errors),
        _ => broken(errors, diagnose::odd_start(text, span)),
    }
}

/// What people put where a value is still to come: `-`, `??`, `…`.
fn is_blank_filler(written: &str) -> bool {
    written.chars().all(|c| matches!(c, '-' | '–' | '—' | '?' | '_' | '.' | '…' | '/'))
}

fn broken(errors: &mut Vec<SyntaxError>, error: SyntaxError) -> Shape {
    errors.push(error);
    Shape::Broken
}
