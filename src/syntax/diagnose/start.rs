//! Values whose first characters already show what is wrong, clock places, and dates.

use super::{Cursor, SyntaxError, SyntaxErrorKind, error, mended, number};
use crate::syntax::quoting::quote;
use crate::syntax::quoting::{is_o_clock, straightened};
use crate::text::Span;

/// A value that starts with something no value starts with.
pub(in crate::syntax) fn odd_start(text: &str, span: Span) -> SyntaxError {
    let next = Cursor::new(text, span);
    let first = next.here();
    match first.of(text) {
        "“" | "”" | "„" | "‟" | "«" | "»" => curly(text, span),
        "'" | "‘" | "’" => single(text, span),
        "−" | "–" | "—" => {
            let mut after = Cursor { at: first.end, ..next };
            mended(first, SyntaxErrorKind::OperatorSpelling, first.to(after.blanks()), "-")
        }
        "+" if next.rest().starts_with("+/-") => limits(next, 3),
        "±" => limits(next, first.len()),
        "+" => plus(next),
        "*" | "/" | "@" | "×" | "÷" | "·" => error(first, SyntaxErrorKind::MissingOperand),
        "=" | "⌀" | "∅" => {
            super::word_before_number(text, span).unwrap_or_else(|| error(span, SyntaxErrorKind::BadValue))
        }
        "<" | "≤" => one_sided(next, "up to "),
        ">" | "≥" => one_sided(next, "from "),
        ")" => mended(first, SyntaxErrorKind::UnclosedParenthesis, first, ""),
        _ => number::vulgar(Span::at(span.start), next).unwrap_or_else(|| error(span, SyntaxErrorKind::BadValue)),
    }
}

/// `+ 3 mm`
fn plus(next: Cursor<'_>) -> SyntaxError {
    let mut after = Cursor { at: next.at + 1, ..next };
    let blanks = after.blanks();
    mended(next.here(), SyntaxErrorKind::MissingOperand, next.here().to(blanks), "")
}

fn curly(text: &str, span: Span) -> SyntaxError {
    match straightened(span.of(text)) {
        Some(plain) => mended(span, SyntaxErrorKind::CurlyQuotes, span, quote(plain)),
        None => error(span, SyntaxErrorKind::CurlyQuotes),
    }
}

fn single(text: &str, span: Span) -> SyntaxError {
    let quotes = ['\'', '‘', '’'];
    let inside = span.of(text).strip_prefix(quotes).and_then(|rest| rest.strip_suffix(quotes));
    match inside {
        Some(inside) => mended(span, SyntaxErrorKind::CurlyQuotes, span, quote(inside)),
        None => error(span, SyntaxErrorKind::BadValue),
    }
}

/// `± 0.5 g` without the number it belongs to.
fn limits(next: Cursor<'_>, length: u32) -> SyntaxError {
    let mut after = next;
    after.at += length;
    after.blanks();
    mended(next.rest_span(), SyntaxErrorKind::BadLimits, Span::new(next.at, after.at), "")
}

/// `< 6 mm`, `>= 6 mm`
fn one_sided(next: Cursor<'_>, instead: &str) -> SyntaxError {
    let mut after = next;
    let sign = after.pass(|c| matches!(c, '<' | '>' | '=' | '≤' | '≥' | ' ' | '\t'));
    mended(next.rest_span(), SyntaxErrorKind::BadRange, sign, instead)
}

/// A clock place that is none: `25:70`, `4:5`, `13 o'clock`.
pub(in crate::syntax) fn clock(text: &str, span: Span) -> SyntaxError {
    let mut next = Cursor::new(text, span);
    let hour = next.digits();
    let behind_hour = next.rest();
    let instead = match (hour.of(text), behind_hour.trim_start()) {
        ("0" | "00", minutes) if is_minutes(minutes) => Some((hour, "12".to_owned())),
        (_, words) if is_o_clock(words) => Some((Span::new(hour.end, span.end), " o'clock".to_owned())),
        _ => None,
    };
    SyntaxError { span, kind: SyntaxErrorKind::BadClock, replace: instead }
}

fn is_minutes(written: &str) -> bool {
    matches!(written.as_bytes(), [b':', b'0'..=b'5', b'0'..=b'9'])
}

/// Three numbers with one sign between them, or a date with something after it.
pub(in crate::syntax) fn date(text: &str, span: Span) -> Option<SyntaxError> {
    let mut next = Cursor::new(text, span);
    let first = next.digits();
    let sign = next.peek().filter(|c| matches!(c, '-' | '.' | '/'))?;
    next.at += 1;
    let second = next.digits();
    if next.peek() != Some(sign) {
        return None;
    }
    next.at += 1;
    let third = next.digits();
    let lengths = [first.len(), second.len(), third.len()];
    let ended = next.peek().is_none_or(|c| matches!(c, ' ' | '\t'));
    if !ended || !matches!(lengths, [4, 1..=2, 1..=2] | [1..=2, 1..=2, 2 | 4]) {
        return None;
    }
    let date = first.to(third);
    if lengths == [4, 2, 2] && sign == '-' {
        next.blanks();
        return Some(error(next.rest_span(), SyntaxErrorKind::TextAfterValue));
    }
    let written = |span: Span| span.of(text);
    let instead = match (lengths[0], sign) {
        _ if third.len() == 2 && first.len() < 4 => None,
        (4, _) => Some(format!("{}-{:0>2}-{:0>2}", written(first), written(second), written(third))),
        (_, '.') => Some(format!("{}-{:0>2}-{:0>2}", written(third), written(second), written(first))),
        _ => None,
    };
    Some(SyntaxError {
        span: date,
        kind: SyntaxErrorKind::DateSpelling,
        replace: instead.map(|instead| (date, instead)),
    })
}
