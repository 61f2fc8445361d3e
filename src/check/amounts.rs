//! Numbers in messages, and what several rules compare them with.

use crate::book::{self, Val};
use crate::sheet::{FieldValue, StatedRange};
use crate::units::{self, Amount, Unit, Vector};

/// An amount in a unit, without its uncertainty.
pub fn amount<T: Amount>(value: T, unit: Unit) -> String {
    book::display_value(value.raw(), unit, 0.0)
}

/// A vector in a unit, without its uncertainty: `42.1 g·mm @ 310 deg`.
pub fn vector<T: Amount>(value: Vector<T>, unit: Unit) -> String {
    book::display_vector(value.amount().raw(), value.angle().in_radians(), unit, 0.0, 0.0)
}

/// A known value in its own unit, without its uncertainty; `?` for a hole, which no message should name.
pub fn shown<T: Amount>(value: &Val<T>) -> String {
    value.get().map_or_else(|| "?".to_owned(), |known| amount(known, value.unit))
}

/// A known value in its own unit with `±`, k = 2.
pub fn with_uncertainty<T: Amount>(value: &Val<T>) -> String {
    let standard = value.standard_uncertainty();
    value.get().map_or_else(|| "?".to_owned(), |known| book::display_value(known.raw(), value.unit, standard))
}

/// A share as a percentage: `19.2 %`.
pub fn percent(share: f64) -> String {
    units::quantity(100.0 * share, "%", None)
}

/// A share that is a limit and not a result: `5 %`.
pub fn limit(share: f64) -> String {
    format!("{} %", units::plainly(100.0 * share))
}

/// A plain ratio: `3.33`.
pub fn ratio(value: f64) -> String {
    units::number(value, None)
}

/// The ends of a fact that is a range or several; an end that is not given is infinite. Empty when it is a hole.
pub fn ranges(value: &FieldValue) -> Vec<[f64; 2]> {
    let ends = |range: &StatedRange| {
        [range.low.map_or(f64::NEG_INFINITY, |low| low.base), range.high.map_or(f64::INFINITY, |high| high.base)]
    };
    match value {
        FieldValue::Range(range) => vec![ends(range)],
        FieldValue::Ranges(ranges) => ranges.iter().map(ends).collect(),
        FieldValue::Quantity(stated) => vec![[stated.base, stated.base]],
        _ => Vec::new(),
    }
}

/// Whether a value lies in one of the ranges. A range that is one single value may be missed by a share of it.
pub fn is_within(ranges: &[[f64; 2]], value: f64, share: f64) -> bool {
    let noise = 1e-9 * value.abs();
    ranges.iter().any(|[low, high]| {
        let reach = if low == high { low.abs() * share } else { 0.0 };
        value >= low - reach - noise && value <= high + reach + noise
    })
}

/// `0.5 - 40 kg` as `0.5 kg to 40 kg`.
pub fn dash_as_range(written: &str) -> Option<String> {
    let (low, high) = written.split_once(" - ")?;
    let (number, unit) = high.split_once(' ')?;
    let low = if low.parse::<f64>().is_ok() { format!("{low} {unit}") } else { low.to_owned() };
    let begins = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
    (begins(number) && begins(&low) && !high.contains(" - ")).then(|| format!("{low} to {high}"))
}

/// `10.30` as `10:30`: a place of the clock with a point for its colon.
pub fn clock_with_point(written: &str) -> Option<String> {
    let (hour, minute) = written.split_once('.')?;
    let hours = hour.parse::<u8>().is_ok_and(|hour| (1..=12).contains(&hour));
    let minutes = minute.len() == 2 && minute.parse::<u8>().is_ok_and(|minute| minute < 60);
    (hours && minutes).then(|| format!("{hour}:{minute}"))
}
