//! What is stuck to a number, or comes after it, that should not.

use super::{Cursor, SyntaxError, SyntaxErrorKind, error, mended};
use crate::text::Span;

/// What is wrong with a number from what follows it directly; the cursor comes after it.
pub(super) fn stuck(number: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    match (next.peek()?, next.second()) {
        (',', Some('0'..='9')) => Some(decimal_comma(number, next)),
        ('"' | '″' | '“' | '”', _) => Some(quoted_unit(number, next).unwrap_or_else(|| inch(number, next, 1))),
        ('\'' | '’' | '′', Some('\'' | '’' | '′')) => Some(inch(number, next, 2)),
        ('\'' | '’' | '′' | '_', Some('0'..='9')) => Some(grouped(number, next)),
        ('\'' | '’' | '′', _) => Some(error(number.to(next.here()), SyntaxErrorKind::InchMark)),
        ('/', Some('0'..='9')) => Some(fraction(number, number, next)),
        ('¼' | '½' | '¾' | '⅛' | '⅜' | '⅝' | '⅞', _) => vulgar(number, next),
        ('.', Some('.')) | ('…', _) => Some(dots(Span::at(next.at), next)),
        ('.', _) => Some(error(number.to(next.rest_span()), SyntaxErrorKind::BadValue)),
        ('-', Some('0'..='9')) if behind_dash(next).is_some_and(|(_, after)| after.peek() == Some('/')) => {
            behind_dash(next).map(|(numerator, after)| fraction(number, numerator, after))
        }
        ('-' | '–' | '—' | '~', Some('0'..='9')) => {
            Some(mended(next.here(), SyntaxErrorKind::BadRange, next.here(), " to "))
        }
        (c, _) if c.is_alphabetic() => letter(number, next),
        _ => None,
    }
}

/// The digits after a dash, and what follows them.
fn behind_dash(next: Cursor<'_>) -> Option<(Span, Cursor<'_>)> {
    let mut after = next;
    after.eat("-").then(|| (after.digits(), after)).filter(|(digits, _)| !digits.is_empty())
}

/// What is wrong with a number from a number after it; the cursor is at the second one.
pub(super) fn followed(number: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    let mut after = next;
    let second = after.digits();
    match after.peek() {
        Some('/') if after.second().is_some_and(|c| c.is_ascii_digit()) => Some(fraction(number, second, after)),
        _ if second.len() == 3 && number.len() <= 3 => Some(grouped(number, next)),
        _ => None,
    }
}

/// `4,82 kg`. When the comma may as well part thousands there is no telling what to write.
fn decimal_comma(number: Span, next: Cursor<'_>) -> SyntaxError {
    let mut after = next;
    after.eat(",");
    let decimals = after.digits();
    let span = number.to(decimals);
    let thousands = decimals.len() == 3 && number.len() <= 3 && number.of(next.text) != "0";
    if thousands || number.of(next.text).contains('.') || after.peek() == Some(',') {
        return error(span, SyntaxErrorKind::DecimalComma);
    }
    mended(span, SyntaxErrorKind::DecimalComma, next.here(), ".")
}

/// `4 "kg"`
fn quoted_unit(number: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    let mark = next.peek()?;
    let inside = next.rest().trim_end().strip_prefix(mark)?;
    let unit = inside.strip_suffix(['"', '″', '“', '”'])?;
    let is_unit = unit.starts_with(char::is_alphabetic) && !unit.contains(['"', '″', '“', '”']);
    let whole = Span::new(next.at, next.rest_span().end);
    let space = if number.end == next.at { " " } else { "" };
    is_unit.then(|| mended(whole, SyntaxErrorKind::UnitSpelling, whole, format!("{space}{unit}")))
}

/// `12"`
fn inch(number: Span, next: Cursor<'_>, marks: usize) -> SyntaxError {
    let length = next.rest().chars().take(marks).map(char::len_utf8).sum::<usize>() as u32;
    let mark = Span::new(next.at, next.at + length);
    mended(number.to(mark), SyntaxErrorKind::InchMark, Span::new(number.end, mark.end), " in")
}

/// `1 150`, `1'150`, `1_150`: thousands set apart.
fn grouped(number: Span, next: Cursor<'_>) -> SyntaxError {
    let mut after = Cursor { at: number.end, ..next };
    let mut whole = number;
    while after.peek().is_some_and(|c| matches!(c, '\'' | '’' | '′' | '_' | ' ')) {
        after.at = after.here().end;
        let group = after.digits();
        if group.len() != 3 {
            break;
        }
        whole = whole.to(group);
    }
    let digits: String = whole.of(next.text).chars().filter(char::is_ascii_digit).collect();
    match whole == number {
        true => error(number.to(next.rest_span()), SyntaxErrorKind::BadValue),
        false => mended(whole, SyntaxErrorKind::DigitGrouping, whole, digits),
    }
}

/// `1 1/2`, `3/4`, `1-1/2"`: a fraction has a decimal form that is short when its denominator is one of a rule or a drill.
/// The cursor is at the stroke; `numerator` may be the whole number itself.
fn fraction(number: Span, numerator: Span, next: Cursor<'_>) -> SyntaxError {
    let mut after = next;
    after.eat("/");
    let denominator = after.digits();
    let span = number.to(denominator);
    if after.peek() == Some('/') {
        return error(number.to(next.rest_span()), SyntaxErrorKind::BadValue);
    }
    let value = |span: Span| span.of(next.text).parse::<u32>().ok();
    let whole = if number == numerator { Some(0) } else { value(number) };
    match (whole, value(numerator), value(denominator)) {
        (Some(whole), Some(above), Some(below @ (2 | 4 | 8 | 16 | 32 | 64))) if whole < 10_000 && above < 10_000 => {
            decimal(span, f64::from(whole) + f64::from(above) / f64::from(below), after)
        }
        _ if number == numerator => quotient(number, denominator, next),
        _ => error(span, SyntaxErrorKind::MixedFraction),
    }
}

/// `½`, `1½`, `1 ½`; the cursor is at the sign, `whole` is the number before it or empty.
pub(super) fn vulgar(whole: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    let parts = [('¼', 0.25), ('½', 0.5), ('¾', 0.75), ('⅛', 0.125), ('⅜', 0.375), ('⅝', 0.625), ('⅞', 0.875)];
    let (_, part) = parts.into_iter().find(|(sign, _)| next.peek() == Some(*sign))?;
    let before = if whole.is_empty() { Some(0) } else { whole.of(next.text).parse::<u32>().ok() };
    let sign = next.here();
    let after = Cursor { at: sign.end, ..next };
    Some(decimal(whole.to(sign), f64::from(before.filter(|before| *before < 10_000)?) + part, after))
}

/// The fraction as a number with decimals; an inch mark after it becomes the unit.
fn decimal(span: Span, value: f64, after: Cursor<'_>) -> SyntaxError {
    let mark = after.rest().starts_with(['"', '″', '“', '”']);
    match mark {
        true => mended(span, SyntaxErrorKind::MixedFraction, span.to(after.here()), format!("{value} in")),
        false => mended(span, SyntaxErrorKind::MixedFraction, span, value.to_string()),
    }
}

/// `268.4/2 mm`, `10/3 in`: no fraction of a rule, but a division; the unit belongs to what is divided.
fn quotient(number: Span, divisor: Span, next: Cursor<'_>) -> SyntaxError {
    let mut after = Cursor { at: divisor.end, ..next };
    after.blanks();
    let has_unit = after.peek().is_some_and(|c| c.is_alphabetic() || "°%".contains(c));
    let kind = SyntaxErrorKind::OperatorWithoutSpaces;
    if !has_unit {
        return mended(next.here(), kind, next.here(), " / ");
    }
    let unit = after.unit();
    let [dividend, divided_by, unit_text] = [number, divisor, unit].map(|span| span.of(next.text));
    mended(next.here(), kind, number.to(unit), format!("{dividend} {unit_text} / {divided_by}"))
}

/// `3·10^-3 kg`, `3x10-3 kg`, `3 × 10⁻³ kg`; the cursor comes after the number, or after the blanks that follow it.
pub(super) fn power_of_ten(number: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    let mut after = next;
    let sign = ["x", "X", "×", "·", "⋅", "•", "*"].into_iter().find(|sign| after.eat(sign))?;
    after.blanks();
    if !after.eat("10") {
        return None;
    }
    let raised = after.eat("^");
    let negative = after.eat("-") || after.eat("−") || after.eat("⁻");
    let exponent = after.pass(|c| c.is_ascii_digit() || "⁰¹²³⁴⁵⁶⁷⁸⁹".contains(c));
    let written = exponent.of(next.text);
    let superscript = !written.is_ascii();
    if written.is_empty() || !(raised || negative || superscript) {
        return None;
    }
    let digits: String =
        written.chars().map(|c| "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().position(|d| d == c).map_or(c, plain_digit)).collect();
    let span = Span::new(next.at, next.at + sign.len() as u32).to(exponent);
    let instead = format!("e{}{digits}", if negative { "-" } else { "" });
    Some(mended(span, SyntaxErrorKind::OperatorSpelling, Span::new(number.end, exponent.end), instead))
}

fn plain_digit(value: usize) -> char {
    char::from(b'0' + value as u8)
}

/// `45°30'`: degrees and minutes; the cursor comes after the degrees.
pub(super) fn minutes(degrees: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    let mut after = next;
    after.blanks();
    if !after.eat("°") {
        return None;
    }
    after.blanks();
    let minutes = after.digits();
    after.blanks();
    let mark = ["'", "’", "′"].into_iter().any(|mark| after.eat(mark));
    let (whole, part) = (degrees.of(next.text).parse::<u32>().ok()?, minutes.of(next.text).parse::<u32>().ok()?);
    if !mark || part >= 60 || !after.rest().is_empty() && !after.rest().starts_with([' ', '\t', ',']) {
        return None;
    }
    let decimal = format!("{:.3}", f64::from(whole) + f64::from(part) / 60.0);
    let span = degrees.to(Span::at(after.at));
    let decimal = decimal.trim_end_matches('0').trim_end_matches('.');
    Some(mended(span, SyntaxErrorKind::BadValue, span, format!("{decimal} deg")))
}

/// `400..6000 rpm`, `400 rpm .. 6000 rpm`; `blanks` are those before the dots.
pub(super) fn dots(blanks: Span, next: Cursor<'_>) -> SyntaxError {
    let mut after = next;
    let dots = after.pass(|c| matches!(c, '.' | '…'));
    mended(dots, SyntaxErrorKind::BadRange, blanks.to(dots).to(after.blanks()), " to ")
}

/// `12O mm`, `1l5 mm`: letters that look like digits, and nothing else, run on from the number.
pub(super) fn letter(number: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    let mut after = next;
    let run = after.pass(|c| c.is_alphanumeric());
    let alike = |c: char| matches!(c, 'O' | 'o' | 'l' | 'I') || c.is_ascii_digit();
    if run.is_empty() || !run.of(next.text).chars().all(alike) {
        return None;
    }
    let mended_run = run.of(next.text).replace(['O', 'o'], "0").replace(['l', 'I'], "1");
    Some(mended(number.to(run), SyntaxErrorKind::LetterInNumber, run, mended_run))
}
