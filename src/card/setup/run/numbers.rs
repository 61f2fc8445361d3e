//! Five numbers that are read from the machine's other end.

use super::super::speed::same_speed;
use super::super::{Sheet, hole};
use super::limits;
use crate::book::EffectiveBlock;
use crate::card::document::{Number, Value};
use crate::card::values::{self, bare};
use crate::card::words::Rank;
use crate::sheet::FieldValue;
use crate::units::Unit;
use crate::vocabulary::{Fact, result, rotor, setup};

pub(super) fn of(sheet: &Sheet<'_, '_>) -> Vec<Number> {
    // On a stand nothing turns at a speed and nothing is read.
    if sheet.setup.is_on_stand() {
        let good = limits::starts_with_at_most(sheet);
        let good =
            good.map(|most| Number::new("Good: rests anywhere, starts with", Value::text(most)).about(Rank::Limits));
        return good.into_iter().chain([Number::new("Mass", mass(sheet))]).collect();
    }
    let mut numbers = vec![
        Number::new("Never above", never_above(sheet)).about(Rank::Speed),
        Number { band: band(sheet), ..Number::new("Run at", sheet.wanted(setup::BALANCING_SPEED)) },
    ];
    numbers.extend(limits::good_at(sheet).into_iter().map(|number| number.about(Rank::Limits)));
    numbers.extend(limits::never_above_at_the_end(sheet).map(|number| number.about(Rank::Speed)));
    numbers.push(Number::new("Mass", mass(sheet)));
    numbers.extend(supports(sheet));
    numbers.extend(belt(sheet));
    numbers
}

fn mass(sheet: &Sheet<'_, '_>) -> Value {
    let mass = sheet.results().at_the_machine(sheet.whole(), &result::MASS_ON_MACHINE);
    mass.unwrap_or_else(|| hole("the mass is not known"))
}

fn never_above(sheet: &Sheet<'_, '_>) -> Value {
    let rotor = sheet.setup.rotor.as_deref();
    let stated = rotor.and_then(|rotor| values::fact(sheet.book, &rotor.block, rotor::HIGHEST_SAFE_SPEED));
    stated.unwrap_or_else(|| hole("the rotor states no highest safe speed"))
}

/// `1115 to 1185`: what counts as the balancing speed, in its unit.
fn band(sheet: &Sheet<'_, '_>) -> Option<String> {
    let number = |end: &str| end.split(' ').next().unwrap_or(end).to_owned();
    same_speed(sheet).map(|[low, high]| format!("{} to {}", number(&low), number(&high)))
}

fn supports(sheet: &Sheet<'_, '_>) -> Option<Number> {
    let field = sheet.setup.block.field(setup::SUPPORTS_AT)?;
    let FieldValue::Quantities(places) = &field.field.value else { return None };
    let [left, right] = places.as_slice() else { return None };
    let text = |place: &crate::sheet::Stated| bare(place.base, place.unit);
    Some(Number::new("Supports, left | right", Value::text(pair(&text(left), &text(right)))))
}

fn belt(sheet: &Sheet<'_, '_>) -> Option<Number> {
    let diameter = |fact: Fact<crate::units::Length>| length(&sheet.setup.block, fact);
    let (label, value) = match (diameter(setup::BELT_RUNS_ON), diameter(setup::PULLEY)) {
        (Some(on), Some(pulley)) => ("Belt on | pulley", pair(&on, &pulley)),
        (Some(on), None) => ("Belt on", on),
        (None, Some(pulley)) => ("Pulley", pulley),
        (None, None) => return None,
    };
    Some(Number::new(label, Value::text(value)))
}

fn length(block: &EffectiveBlock<'_>, fact: Fact<crate::units::Length>) -> Option<String> {
    match &block.field(fact)?.field.value {
        FieldValue::Quantity(stated) => Some(bare(stated.base, stated.unit)),
        _ => None,
    }
}

/// `0 | 164 mm`: one unit for both where it is the same.
pub(super) fn pair(left: &str, right: &str) -> String {
    match (left.split_once(' '), right.split_once(' ')) {
        (Some((number, own)), Some((_, other))) if own == other => format!("{number} | {right}"),
        _ => format!("{left} | {right}"),
    }
}

/// What a readout shows, in its own unit.
pub(super) fn shown(reading: f64, unit: Unit) -> String {
    bare(reading, unit)
}
