//! Units that are written as no unit is. What a unit means is not asked here.

use super::{Cursor, SyntaxError, SyntaxErrorKind, error, mended, number};
use crate::text::Span;

const JOINERS: [char; 4] = ['*', '/', '.', '·'];

/// The error in the shape of a unit after its number.
pub(in crate::syntax) fn unit(text: &str, number: Span, unit: Span) -> Option<SyntaxError> {
    let written = unit.of(text);
    if number.end == unit.start && written.starts_with(['O', 'o', 'l', 'I']) {
        let whole = number::letter(number, Cursor::new(text, unit));
        if whole.is_some() {
            return whole;
        }
    }
    if !written.contains(JOINERS) {
        return None;
    }
    if let Some(at) = written.find("..") {
        let dots = Cursor { at: unit.start + at as u32, ..Cursor::new(text, unit) };
        return Some(number::dots(Span::at(dots.at), dots));
    }
    operator_inside(written, unit).or_else(|| {
        let bare = written.trim_end_matches(JOINERS);
        let end = Span::new(unit.start + bare.len() as u32, unit.end);
        (!end.is_empty()).then(|| mended(unit, SyntaxErrorKind::UnitSpelling, end, ""))
    })
}

/// `3 mm*2`, `268.4 mm/2`: a digit after a joiner is a number, not an exponent.
fn operator_inside(written: &str, unit: Span) -> Option<SyntaxError> {
    let found = written
        .match_indices(JOINERS)
        .find(|(at, joiner)| written[at + joiner.len()..].starts_with(|c: char| c.is_ascii_digit()));
    let (at, joiner) = found?;
    let start = unit.start + at as u32;
    let span = Span::new(start, start + joiner.len() as u32);
    Some(match joiner {
        "*" | "/" => mended(span, SyntaxErrorKind::OperatorWithoutSpaces, span, format!(" {joiner} ")),
        "·" => mended(span, SyntaxErrorKind::OperatorSpelling, span, " * "),
        _ => error(span, SyntaxErrorKind::OperatorWithoutSpaces),
    })
}

/// What is wrong with a unit from what follows it directly; the cursor comes after it.
pub(super) fn stuck(unit: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    match (next.peek()?, next.second()) {
        ('-' | '‑', Some(c)) if c.is_alphabetic() => {
            let span = Span::new(unit.start, unit.end + joined(next).len());
            Some(mended(span, SyntaxErrorKind::UnitSpelling, next.here(), "·"))
        }
        ('-' | '^' | '⁻', _) => negative_exponent(unit, next),
        _ => None,
    }
}

/// A joiner and the unit after it.
fn joined(next: Cursor<'_>) -> Span {
    let mut after = Cursor { at: next.here().end, ..next };
    next.here().to(after.unit())
}

/// `1150 min-1`, `1150 min^-1`, `1150 min⁻¹`
fn negative_exponent(unit: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    let mut after = next;
    after.eat("^");
    let minus = after.eat("-") || after.eat("⁻");
    let exponent = after.pass(|c| c.is_ascii_digit() || matches!(c, '¹' | '²' | '³'));
    let alone = after.peek().is_none_or(|c| matches!(c, ' ' | '\t' | ',' | ')'));
    let mut behind = after;
    behind.blanks();
    if !minus || exponent.is_empty() || !alone || behind.peek().is_some_and(char::is_alphabetic) {
        return None;
    }
    let span = unit.to(exponent);
    Some(match unit.of(next.text).trim_end_matches('^') {
        "min" => mended(span, SyntaxErrorKind::UnitSpelling, span, "1/min"),
        "s" if exponent.of(next.text) == "1" => mended(span, SyntaxErrorKind::UnitSpelling, span, "Hz"),
        _ => error(span, SyntaxErrorKind::UnitSpelling),
    })
}

/// What is wrong with a unit from letters after a blank; the cursor is at them.
///
/// Two short runs are one unit that came apart (`3 g mm`); anything longer is words.
pub(super) fn followed(unit: Span, next: Cursor<'_>) -> SyntaxError {
    let mut after = next;
    let second = after.unit();
    let short = |span: Span| span.of(next.text).chars().count() <= 3;
    let joined = after.eat(" ").then(|| after.peek()).flatten();
    match (second.of(next.text), joined) {
        ("per", Some(c)) if c.is_alphabetic() => {
            let between = Span::new(unit.end, after.at);
            return mended(unit.to(after.unit()), SyntaxErrorKind::UnitSpelling, between, "/");
        }
        // `400 rpm up to 6000 rpm`
        ("up", Some('t')) => return mended(second, SyntaxErrorKind::BadRange, second.to(Span::at(after.at)), ""),
        ("x" | "X", Some(c)) if c.is_alphabetic() => {
            let between = Span::new(unit.end, after.at);
            return mended(unit.to(after.unit()), SyntaxErrorKind::SpaceInUnit, between, "·");
        }
        ("x" | "X", Some(c)) if c.is_ascii_digit() => {
            return mended(second, SyntaxErrorKind::OperatorSpelling, second, "*");
        }
        _ => {}
    }
    if !short(unit) || !short(second) || second.is_empty() || !is_symbol(second.of(next.text)) {
        return error(next.rest_span(), SyntaxErrorKind::TextAfterValue);
    }
    let between = Span::new(unit.end, second.start);
    mended(unit.to(second), SyntaxErrorKind::SpaceInUnit, between, "·")
}

/// Whether letters after a unit may be a symbol of it: no word of a remark, and no tolerance class such as `H7`.
fn is_symbol(written: &str) -> bool {
    let words = ["and", "or", "off", "max", "min", "dia", "nom", "abs", "ca", "od", "id"];
    let bare = written.trim_end_matches(['2', '3', '²', '³', '^']);
    !words.contains(&&*written.to_lowercase()) && bare.chars().all(|c| c.is_ascii_alphabetic() || "µμ°·*./".contains(c))
}
