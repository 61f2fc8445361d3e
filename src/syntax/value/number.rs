//! Numbers as written.

use crate::syntax::{Number, SyntaxError, SyntaxErrorKind};
use crate::text::Span;

/// The most digits that a number may have, and the largest power of ten.
const MOST_DIGITS: usize = 40;
const LARGEST_EXPONENT: i32 = 30;

/// Reads a number that the grammar has taken; `followed` tells that something is stuck to its end.
///
/// `5.` and `.5` are read, with an error; too many digits and a monstrous exponent leave `None`.
pub(super) fn read(text: &str, span: Span, followed: bool, errors: &mut Vec<SyntaxError>) -> Option<Number> {
    let written = span.of(text);
    let (mantissa, exponent) = written.split_once(['e', 'E']).unwrap_or((written, ""));
    let (whole, decimals) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    if whole.len() + decimals.len() > MOST_DIGITS {
        errors.push(SyntaxError { span, kind: SyntaxErrorKind::TooManyDigits, replace: None });
        return None;
    }
    let Some(power) = power_of_ten(exponent) else {
        errors.push(SyntaxError { span, kind: SyntaxErrorKind::ExponentOutOfRange, replace: None });
        return None;
    };
    if whole.is_empty() {
        let replace = Some((Span::at(span.start), "0".to_owned()));
        errors.push(SyntaxError { span, kind: SyntaxErrorKind::PointWithoutZero, replace });
    } else if mantissa.ends_with('.') {
        let point = span.start + whole.len() as u32;
        let instead = if followed && exponent.is_empty() { " " } else { "" };
        let replace = Some((Span::new(point, point + 1), instead.to_owned()));
        errors.push(SyntaxError { span, kind: SyntaxErrorKind::PointWithoutDigits, replace });
    }
    let value = written.parse().ok()?;
    Some(Number { span, value, last_digit: power as i16 - decimals.len() as i16 })
}

/// The exponent that is written, 0 when none is; `None` when it is too large either way.
fn power_of_ten(written: &str) -> Option<i32> {
    let negative = written.starts_with('-');
    let digits = written.trim_start_matches(['+', '-']).trim_start_matches('0');
    if digits.len() > 2 {
        return None;
    }
    let power = digits.bytes().fold(0, |power, digit| power * 10 + i32::from(digit - b'0'));
    (power <= LARGEST_EXPONENT).then_some(if negative { -power } else { power })
}
