//! Lists: values separated by a comma and a space.

use super::one;
use crate::syntax::quoting::trim;
use crate::syntax::{Shape, SyntaxError, SyntaxErrorKind, Value};
use crate::text::Span;

/// The items of a list; `None` when no comma outside strings and parentheses has a space, or nothing, after it.
pub(super) fn split(text: &str, span: Span) -> Option<Vec<Span>> {
    let bytes = &text.as_bytes()[span.range()];
    if !bytes.contains(&b',') {
        return None;
    }
    let mut items = Vec::new();
    let mut start = span.start;
    let (mut quoted, mut depth) = (false, 0usize);
    for (at, byte) in (span.start..).zip(bytes) {
        match byte {
            b'"' => quoted = !quoted,
            _ if quoted => {}
            b'(' => depth += 1,
            b')' => depth = depth.saturating_sub(1),
            b',' if depth == 0 && matches!(bytes.get((at - span.start) as usize + 1), None | Some(b' ' | b'\t')) => {
                items.push(trim(text, Span::new(start, at)));
                start = at + 1;
            }
            _ => {}
        }
    }
    if items.is_empty() {
        return None;
    }
    items.push(trim(text, Span::new(start, span.end)));
    Some(items)
}

pub(super) fn read(text: &str, span: Span, items: &[Span], errors: &mut Vec<SyntaxError>) -> Value {
    let mut values = Vec::with_capacity(items.len());
    for (at, span) in items.iter().enumerate() {
        if span.is_empty() {
            errors.push(missing(items, at));
        } else {
            values.push(Value { span: *span, shape: one(text, *span, errors) });
        }
    }
    match (values.len(), values.pop()) {
        // A comma too many makes no list.
        (1, Some(only)) => only,
        (_, last) => {
            values.extend(last);
            Value { span, shape: Shape::List(values) }
        }
    }
}

/// `[0 mm, 164 mm]`, `(0 mm, 164 mm)`: a list in brackets, which needs none.
pub(super) fn bracketed(text: &str, span: Span) -> Option<SyntaxError> {
    let inside = span.of(text).strip_prefix(['(', '[', '{'])?.strip_suffix([')', ']', '}'])?;
    let list = inside.contains(", ") && !inside.contains(['(', '[', '{', ')', ']', '}', '"']);
    list.then(|| SyntaxError { span, kind: SyntaxErrorKind::BadValue, replace: Some((span, inside.trim().to_owned())) })
}

/// Two commas with nothing between, or one at either end: one of them goes.
fn missing(items: &[Span], at: usize) -> SyntaxError {
    let before = at.checked_sub(1).and_then(|before| items.get(before)).map(|before| before.end);
    let comma = match (before, items.get(at + 1)) {
        (Some(before), _) => Span::new(before, items[at].end),
        (None, Some(after)) => Span::new(items[at].start, after.start),
        (None, None) => items[at],
    };
    SyntaxError { span: comma, kind: SyntaxErrorKind::MissingValue, replace: Some((comma, String::new())) }
}
