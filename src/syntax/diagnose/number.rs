//! What is stuck to a number, or stands behind it, that should not.

use super::{Cursor, SyntaxError, SyntaxErrorKind, error, mended};
use crate::text::Span;

/// What is wrong with a number from what follows it directly; the cursor stands behind it.
pub(super) fn stuck(number: Span, next: Cursor<'_>) -> Option<SyntaxError> {
    match (next.peek()?, next.second()) {
        (',', Some('0'..='9')) => Some(decimal_comma(number, next)),
        ('"' | '″' | '“' | '”', _) => Some(inch(number, next, 1)),
        ('\'' | '’' | '′', Some('\'' | '’' | '′')) => Some(inch(number, next, 2)),
        ('\'' | '’' | '′' | '_', Some('0'..='9')) => Some(grouped(number, next)),
        ('\'' | '’' | '′', _) => Some(error(number.to(next.here()), SyntaxErrorKind::InchMark)),
        ('/', Some('0'..='9')) => Some(fraction(number, number, next)),
        ('.', Some('.')) | ('…', _) => Some(dots(Span::at(next.at), next)),
        ('.', _) => Some(error(number.to(next.rest_span()), SyntaxErrorKind::BadValue)),
        ('-' | '–' | '—' | '~', Some('0'..='9')) => {
            Some(mended(next.here(), SyntaxErrorKind::BadRange, next.here(), " to "))
        }
        (c, _) if c.is_alphabetic() => letter(number, next),
        _ => None,
    }
}

/// What is wrong with a number from a number behind it; the cursor stands at the second one.
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

/// `1 1/2`, `3/4`: a fraction has a decimal form that is short when its denominator is one of a rule or a drill.
/// The cursor stands at the stroke; `numerator` may be the whole number itself.
fn fraction(number: Span, numerator: Span, next: Cursor<'_>) -> SyntaxError {
    let mut after = next;
    after.eat("/");
    let denominator = after.digits();
    let span = number.to(denominator);
    let value = |span: Span| span.of(next.text).parse::<u32>().ok();
    let whole = if number == numerator { Some(0) } else { value(number) };
    let decimal = match (whole, value(numerator), value(denominator)) {
        (Some(whole), Some(above), Some(below @ (2 | 4 | 8 | 16 | 32 | 64))) if whole < 10_000 && above < 10_000 => {
            Some((f64::from(whole) + f64::from(above) / f64::from(below)).to_string())
        }
        _ => None,
    };
    SyntaxError { span, kind: SyntaxErrorKind::MixedFraction, replace: decimal.map(|decimal| (span, decimal)) }
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
