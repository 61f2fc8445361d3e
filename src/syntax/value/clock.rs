//! Clock places and dates.

use pest::Parser;

use super::broken;
use crate::syntax::grammar::{Grammar, Rule};
use crate::syntax::{Shape, SyntaxError, SyntaxErrorKind, diagnose};
use crate::text::Span;

/// Which of the two a value that starts with a digit is, if either: `d:dd`, `d o'clock`, `dddd-dd-dd`.
pub(super) fn rule_of(text: &str) -> Option<Rule> {
    let written = text.as_bytes();
    let digits = written.iter().take(5).take_while(|byte| byte.is_ascii_digit()).count();
    match written.get(digits)? {
        b':' => Some(Rule::clock),
        b'-' if digits == 4
            && matches!(written, [_, _, _, _, _, a, b, b'-', ..] if a.is_ascii_digit() && b.is_ascii_digit()) =>
        {
            Some(Rule::date)
        }
        b' ' | b'\t' | b'o' | b'O' if digits > 0 && crate::syntax::quoting::is_o_clock(text[digits..].trim()) => {
            Some(Rule::clock)
        }
        _ => None,
    }
}

pub(super) fn read(text: &str, span: Span, rule: Rule, errors: &mut Vec<SyntaxError>) -> Shape {
    let shape = match rule {
        Rule::clock => clock(span.of(text)),
        _ => date(span.of(text)),
    };
    shape.unwrap_or_else(|| match rule {
        Rule::clock => broken(errors, diagnose::clock(text, span)),
        _ => {
            let other = SyntaxError { span, kind: SyntaxErrorKind::DateSpelling, replace: None };
            broken(errors, diagnose::date(text, span).unwrap_or(other))
        }
    })
}

/// The numbers that the grammar finds in a clock place or a date.
fn numbers(rule: Rule, written: &str) -> Option<[i16; 3]> {
    let mut numbers = [0; 3];
    for (number, pair) in numbers.iter_mut().zip(Grammar::parse(rule, written).ok()?.next()?.into_inner()) {
        *number = pair.as_str().parse().ok()?;
    }
    Some(numbers)
}

/// A place on a clock face: hours from 1 to 12, minutes in two digits.
fn clock(written: &str) -> Option<Shape> {
    let [hour, minute, _] = numbers(Rule::clock, written)?;
    let two_digits = written.rsplit(':').next().is_some_and(|minutes| minutes.len() == 2) || !written.contains(':');
    let on_the_face = two_digits && (1..=12).contains(&hour) && (0..60).contains(&minute);
    on_the_face.then_some(Shape::Clock { hour: hour as u8, minute: minute as u8 })
}

fn date(written: &str) -> Option<Shape> {
    let [year, month, day] = numbers(Rule::date, written)?;
    Some(Shape::Date { year, month: month as i8, day: day as i8 })
}
