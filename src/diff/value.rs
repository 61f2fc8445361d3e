//! Whether two stated values say the same, whatever unit and spelling they are written in.

use smallvec::SmallVec;

use super::renames::Renames;
use crate::sheet::{FieldValue, NameAt, PinValue, SettingValue, Stated, StatedRange, StatedReading};
use crate::syntax::Kind;
use crate::vocabulary::{KeySpec, NameOf, ValueType};

/// Values are equal when they differ by less than this share of the larger.
const SHARE: f64 = 1e-12;

/// Whether two numbers differ by less than 1e-12 of the larger.
pub(super) fn near(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() < SHARE * a.abs().max(b.abs())
}

/// Whether two values of one key say the same. Names of items are followed through renames; what comes after `±` is
/// a matter of precision and not looked at.
pub(super) fn same(old: &FieldValue, new: &FieldValue, key: &KeySpec, renames: &Renames) -> bool {
    use FieldValue as V;
    match (old, new) {
        (V::Quantity(a), V::Quantity(b)) => amounts(a, b),
        (V::Range(a), V::Range(b)) => ranges(a, b),
        (V::Ranges(a), V::Ranges(b)) => lists(a, b, ranges),
        (V::Quantities(a), V::Quantities(b)) => lists(a, b, amounts),
        (V::Number(a), V::Number(b)) | (V::Grade(a), V::Grade(b)) => near(*a, *b),
        (V::NumberRange(a, b), V::NumberRange(c, d)) => near(*a, *c) && near(*b, *d),
        (V::Reading(a), V::Reading(b)) => readings(a, b, renames),
        (V::Readings(a), V::Readings(b)) => lists(a, b, |a, b| readings(a, b, renames)),
        (V::OfDay(a), V::OfDay(b)) => {
            (a.year, a.month, a.day) == (b.year, b.month, b.day) && readings(&a.reading, &b.reading, renames)
        }
        (V::Name(a), V::Name(b)) => names(a, b, key, renames),
        (V::Names(a), V::Names(b)) => lists(a, b, |a, b| names(a, b, key, renames)),
        (V::Weighing(a), V::Weighing(b)) => {
            a.iter().zip(b.iter()).all(|(a, b)| amounts(&a.0, &b.0) && amounts(&a.1, &b.1))
        }
        (V::Places { count: a, from: x }, V::Places { count: b, from: y }) => a == b && amounts(x, y),
        (V::Setting(a), V::Setting(b)) => settings(a, b, renames),
        // One quantity is a range of no width.
        (V::Range(range), V::Quantity(one)) | (V::Quantity(one), V::Range(range)) => {
            [range.low, range.high].iter().all(|end| end.is_some_and(|end| amounts(&end, one)))
        }
        (V::Hole, _) | (_, V::Hole) => false,
        _ => old == new,
    }
}

/// Whether two pins say the same.
pub(super) fn same_pin(old: &PinValue, new: &PinValue) -> bool {
    match (old, new) {
        (PinValue::Amount(a), PinValue::Amount(b)) => amounts(a, b),
        (PinValue::Vector { amount: a, angle: x }, PinValue::Vector { amount: b, angle: y }) => {
            amounts(a, b) && amounts(x, y)
        }
        _ => old == new,
    }
}

/// Every stated amount of a value, in the order in which it is written.
pub(super) fn amounts_in(value: &FieldValue) -> SmallVec<[&Stated; 2]> {
    use FieldValue as V;
    match value {
        V::Quantity(one) | V::Setting(SettingValue::Quantity(one)) | V::Places { from: one, .. } => {
            SmallVec::from_slice(&[one])
        }
        V::Range(range) => [&range.low, &range.high].into_iter().flatten().collect(),
        V::Ranges(ranges) => ranges.iter().flat_map(|range| [&range.low, &range.high]).flatten().collect(),
        V::Quantities(list) => list.iter().collect(),
        V::Reading(reading) => Some(&reading.amount).into_iter().chain(&reading.angle).collect(),
        V::OfDay(one) => Some(&one.reading.amount).into_iter().chain(&one.reading.angle).collect(),
        V::Readings(list) => list.iter().flat_map(|one| Some(&one.amount).into_iter().chain(&one.angle)).collect(),
        V::Weighing(two) => two.iter().flat_map(|(mass, at)| [mass, at]).collect(),
        _ => SmallVec::new(),
    }
}

/// The same without the angles of readings, which are no sizes.
fn sizes_in(value: &FieldValue) -> SmallVec<[&Stated; 2]> {
    match value {
        FieldValue::Reading(reading) => SmallVec::from_slice(&[&reading.amount]),
        FieldValue::OfDay(one) => SmallVec::from_slice(&[&one.reading.amount]),
        FieldValue::Readings(list) => list.iter().map(|one| &one.amount).collect(),
        _ => amounts_in(value),
    }
}

/// The highest number that a value reaches, in base units; where it has none, what is not a number.
pub(super) fn highest(value: &FieldValue) -> Option<f64> {
    match value {
        FieldValue::Number(number) | FieldValue::Grade(number) | FieldValue::NumberRange(_, number) => Some(*number),
        _ => sizes_in(value).iter().map(|stated| stated.base).reduce(f64::max),
    }
}

/// The lowest number that a value reaches, likewise.
pub(super) fn lowest(value: &FieldValue) -> Option<f64> {
    match value {
        FieldValue::Number(number) | FieldValue::Grade(number) | FieldValue::NumberRange(number, _) => Some(*number),
        _ => sizes_in(value).iter().map(|stated| stated.base).reduce(f64::min),
    }
}

fn lists<T>(a: &[T], b: &[T], same: impl Fn(&T, &T) -> bool) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
}

fn amounts(a: &Stated, b: &Stated) -> bool {
    a.dimension() == b.dimension() && a.plain == b.plain && near(a.base, b.base)
}

fn ranges(a: &StatedRange, b: &StatedRange) -> bool {
    let ends = |a: &Option<Stated>, b: &Option<Stated>| match (a, b) {
        (Some(a), Some(b)) => amounts(a, b),
        (None, None) => true,
        _ => false,
    };
    ends(&a.low, &b.low) && ends(&a.high, &b.high)
}

fn readings(a: &StatedReading, b: &StatedReading, renames: &Renames) -> bool {
    // A sheet may still say the name from before the renaming.
    let same_scale = match (&a.scale, &b.scale) {
        (Some(a), Some(b)) => a.text == b.text || renames.scale_now(&a.text) == &*b.text,
        (a, b) => a.is_none() && b.is_none(),
    };
    let angles = match (&a.angle, &b.angle) {
        (Some(a), Some(b)) => amounts(a, b),
        (None, None) => true,
        _ => false,
    };
    amounts(&a.amount, &b.amount) && same_scale && angles
}

fn settings(a: &SettingValue, b: &SettingValue, renames: &Renames) -> bool {
    match (a, b) {
        (SettingValue::Position(a), SettingValue::Position(b)) => a == b || renames.position_now(a) == &**b,
        (SettingValue::Number(a), SettingValue::Number(b)) => near(*a, *b),
        (SettingValue::Quantity(a), SettingValue::Quantity(b)) => amounts(a, b),
        _ => a == b,
    }
}

fn names(a: &NameAt, b: &NameAt, key: &KeySpec, renames: &Renames) -> bool {
    a.text == b.text
        || item_named_by(key.value).is_some_and(|kind| renames.name_now(kind, &a.text) == &*b.text)
        || renames.value_now(key, &a.text) == &*b.text
}

/// The kind of item that a value names, if it names one.
fn item_named_by(value: ValueType) -> Option<Kind> {
    match value {
        ValueType::Reference(kind) | ValueType::Name(NameOf::Item(kind)) | ValueType::Names(NameOf::Item(kind)) => {
            Some(kind)
        }
        _ => None,
    }
}
