//! Why a value is not readable: what the grammar only refuses is looked at again here, by hand, to find the one thing
//! that is wrong and, where it is plain, what to write instead.

mod behind;
mod cursor;
mod lead;
mod number;
mod start;
mod unit;
mod walk;

pub(super) use lead::word_before_number;
pub(super) use start::{clock, date, odd_start};
pub(super) use unit::unit;

use super::grammar::Rule;
use super::{SyntaxError, SyntaxErrorKind};
use crate::text::Span;
use cursor::Cursor;

/// The error in a value that `rule` did not take.
pub(super) fn numeric(text: &str, span: Span, rule: Rule) -> SyntaxError {
    start::date(text, span)
        .or_else(|| parenthesis(text, span))
        .or_else(|| walk::Walk::new(text, span, rule).error())
        .unwrap_or_else(|| error(span, SyntaxErrorKind::BadValue))
}

fn error(span: Span, kind: SyntaxErrorKind) -> SyntaxError {
    SyntaxError { span, kind, replace: None }
}

fn mended(span: Span, kind: SyntaxErrorKind, replace: Span, instead: impl Into<String>) -> SyntaxError {
    SyntaxError { span, kind, replace: Some((replace, instead.into())) }
}

/// A parenthesis without its other one.
fn parenthesis(text: &str, span: Span) -> Option<SyntaxError> {
    let mut open = Vec::new();
    for (at, byte) in (span.start..).zip(span.of(text).bytes()) {
        let here = Span::new(at, at + 1);
        match byte {
            b'(' => open.push(here),
            b')' if open.pop().is_none() => return Some(mended(here, SyntaxErrorKind::UnclosedParenthesis, here, "")),
            _ => {}
        }
    }
    let unclosed = open.pop()?;
    let operators = [" + ", " - ", " * ", " / "]
        .iter()
        .map(|one| text[unclosed.end as usize..span.end as usize].matches(one).count());
    if operators.sum::<usize>() > 1 {
        // Where it closes makes another number of it.
        return Some(error(unclosed, SyntaxErrorKind::UnclosedParenthesis));
    }
    let closing = ")".repeat(open.len() + 1);
    Some(mended(unclosed, SyntaxErrorKind::UnclosedParenthesis, Span::at(span.end), closing))
}
