//! What comes after a value that was complete, and what it may have been meant to be.

use super::slip::Slip;
use crate::syntax::{self, Shape};
use crate::text::{Edit, Span};
use crate::units::{Dimension, Unit};
use crate::vocabulary::{KeySpec, ValueType};

/// `3 g (with wax)`, `3 g // with wax`: the rest of the line as a remark, where it reads like one and the value before it
/// is whole.
pub fn as_remark(slip: &Slip<'_>) -> Option<Edit> {
    let found = slip.found();
    let bare = found.trim_start_matches(['/', '*', '-', ';', '=', '>', ' ']);
    let words = bare.starts_with(|c: char| c.is_alphabetic() || "(\"[".contains(c)) || found.starts_with('=');
    let words = words && !bare.contains(':');
    let last = slip.behind().trim().is_empty() && slip.blanks_before() > 0;
    let marker = Span::new(slip.span().start, slip.span().start + (found.len() - bare.len()) as u32);
    (words && last && !bare.is_empty() && before_is_whole(slip)).then(|| Edit::replace(marker, "# "))
}

/// Whether what comes before the error is a value by itself: a number with a unit that is known, words, a text.
fn before_is_whole(slip: &Slip<'_>) -> bool {
    let Some(fact) = slip.fact() else { return false };
    let before = Span::new(fact.value_span.start, slip.span().start - slip.blanks_before());
    let (value, errors) = syntax::parse_value(slip.text(), before);
    let with_unit = |text: &str| text.rsplit(' ').next().is_some_and(|unit| Unit::parse(unit).is_ok());
    let plain = matches!(fact.key.value, ValueType::Number | ValueType::Count | ValueType::Setting);
    errors.is_empty()
        && match value.shape {
            Shape::Amount(_) => plain || with_unit(before.of(slip.text())),
            Shape::Broken | Shape::Nothing => false,
            _ => true,
        }
}

/// `6 mm max`
pub fn range_of(slip: &Slip<'_>) -> Option<Edit> {
    let lead = match slip.found().trim_end_matches('.') {
        "max" | "maximum" | "at most" => "up to ",
        "min" | "minimum" | "at least" => "from ",
        _ => return None,
    };
    let value = slip.fact().filter(|_| slip.takes_range())?.value_span;
    let amount = slip.value()?.strip_suffix(slip.found())?.trim_end();
    Some(Edit::replace(value, format!("{lead}{amount}")))
}

/// `0 mm 164 mm`, `0 mm; 164 mm`, `0 mm and 164 mm`: where the key takes a list, a comma is missing.
pub fn next_of_list(slip: &Slip<'_>) -> Option<Edit> {
    use ValueType as T;
    let list = matches!(
        slip.fact()?.key.value,
        T::Quantities(..)
            | T::Ranges(_)
            | T::Names(_)
            | T::Readings
            | T::ReadingOfDay
            | T::Weighing
            | T::Positions
            | T::LineHeads
            | T::UnitNames(_)
    );
    let found = slip.found();
    let sign = ["and ", "& ", "; ", "/ ", "| ", "+ "].into_iter().find(|sign| found.starts_with(sign));
    let next = &found[sign.map_or(0, str::len)..];
    let begins = next.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '"' | '-'));
    let before = slip.span().start - slip.blanks_before();
    let bare = next.bytes().all(|byte| byte.is_ascii_digit() || byte == b' ');
    let (end, rest) = match bare && next.contains(' ') {
        true => (slip.span().end, next.split_whitespace().collect::<Vec<_>>().join(", ")),
        false => (slip.span().start + (found.len() - next.len()) as u32, String::new()),
    };
    (list && begins).then(|| Edit::replace(Span::new(before, end), format!(", {rest}")))
}

/// `12 lb 4 oz`: a sum, when the two units differ and are of one dimension.
pub fn sum_of_units(slip: &Slip<'_>) -> Option<Edit> {
    let unit = |text: &str| {
        let token = text.trim().rsplit(' ').next()?;
        Unit::parse(token.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.')).ok()
    };
    let found = slip.found();
    let first = slip.value()?.strip_suffix(found)?;
    let (one, other) = (unit(first)?, unit(found)?);
    let number = found.starts_with(|c: char| c.is_ascii_digit()) && found.split_whitespace().count() <= 2;
    let sum = number && one != other && one.dimension() == other.dimension();
    sum.then(|| Edit::insert(slip.span().start, "+ "))
}

/// `(1.82 ± 0.01) kg` as `1.82 kg ± 0.01 kg`.
pub fn limits_before_unit(slip: &Slip<'_>) -> Option<Edit> {
    let unit = slip.found();
    let inside = slip.value()?.strip_suffix(unit)?.trim_end().strip_prefix('(')?.strip_suffix(')')?;
    let (value, limits) = inside.split_once('±').or_else(|| inside.split_once("+/-"))?;
    let numbers = value.trim().parse::<f64>().is_ok() && limits.trim().parse::<f64>().is_ok();
    let reads = format!("{} {unit} ± {} {unit}", value.trim(), limits.trim());
    (numbers && Unit::parse(unit).is_ok()).then_some(Edit::replace(slip.fact()?.value_span, reads))
}

/// `3 g; radius: 134 mm`, `3 g, radius: 134 mm`: a second fact, which belongs on a line of its own.
pub fn second_fact(slip: &Slip<'_>) -> Option<Edit> {
    let value = slip.fact()?.value_span;
    let colon = slip.span().start + Span::new(slip.span().start, value.end).of(slip.text()).find(':')? as u32;
    let before = Span::new(value.start, colon).of(slip.text());
    let keys = slip.block()?.spec().keys.iter();
    let named = |key: &&KeySpec| {
        let rest = before.strip_suffix(key.name);
        rest.is_some_and(|rest| rest.ends_with([' ', '\t', ';', ',']) && !rest.trim().is_empty())
    };
    let key = keys.filter(named).max_by_key(|key| key.name.len())?;
    let start = colon - key.name.len() as u32;
    let first = Span::new(value.start, start).of(slip.text()).trim_end_matches([' ', '\t', ';', ',']);
    let gap = Span::new(value.start + first.len() as u32, start);
    Some(Edit::replace(gap, format!("\n{}", slip.indent())))
}

/// `10 div < 90 deg`, `10 div; 90 deg`, `2.1 mark coarse`: a reading whose angle or scale has another sign before it.
pub fn rest_of_reading(slip: &Slip<'_>) -> Option<Edit> {
    let reading = matches!(
        slip.fact()?.key.value,
        ValueType::Reading | ValueType::UnbalanceVector | ValueType::UnbalanceOrPercentage
    );
    let found = slip.found();
    let rest = found.trim_start_matches([';', '<', '/', '|', ',', ' ']);
    let unit = rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.' || c == ' ');
    let angle = unit.len() < rest.len() && Unit::parse(unit).is_ok_and(|unit| unit.dimension() == Dimension::ANGLE);
    let before = slip.value()?.strip_suffix(found)?.trim_end();
    // Marks are counted on a scale: what stands alone after them is its name.
    let marks = Unit::parse(before.rsplit([' ', '\t']).next()?).is_ok_and(|unit| unit.dimension() == Dimension::MARK);
    let scale = marks && !rest.is_empty() && rest.chars().all(|c| c.is_alphanumeric() || c == '-');
    let sign = if angle { " @ " } else { " on " };
    let place =
        Span::new(slip.span().start - slip.blanks_before(), slip.span().start + (found.len() - rest.len()) as u32);
    let begun = before.ends_with("on") || before.ends_with('@');
    (reading && !begun && (angle || scale)).then(|| Edit::replace(place, sign))
}
