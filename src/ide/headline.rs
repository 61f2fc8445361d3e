//! What a list says of an item: its main facts or results, in a few words.

use crate::book::{
    self, Book, Computed, Computing, EffectiveBlock, ItemId, RecordResults, RotorResults, SetupResults, Val,
};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{self, Amount, Unit};
use crate::vocabulary::{AnyFact, Fact, arbor, machine, masses, material, readout, record, setup, shop};

/// The main facts or results of an item: `4.8200 kg, permissible 81.7 g·mm`; empty when there are none. `standing` is what
/// its card says of it, where that is known: it goes for status and verdict.
pub fn headline(computing: &Computing<'_>, id: ItemId, standing: Option<&str>) -> String {
    headline_of(computing.book(), &computing.item(id), standing)
}

/// The same of an item that is worked out already.
pub(super) fn headline_of(book: &Book, computed: &Computed<'_>, standing: Option<&str>) -> String {
    let standing = standing.map(str::to_owned);
    let parts = match computed {
        Computed::Rotor(rotor) => rotor_parts(rotor, standing),
        Computed::Setup(setup) => setup_parts(book, setup, standing),
        Computed::Record(record) => record_parts(book, record, standing),
        Computed::Facts(block) => fact_parts(book, block),
    };
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn rotor_parts(rotor: &RotorResults<'_>, standing: Option<String>) -> Vec<Option<String>> {
    let permissible = number(&rotor.permissible).map(|permissible| format!("permissible {permissible}"));
    vec![standing, number(&rotor.mass), permissible]
}

fn setup_parts(book: &Book, setup: &SetupResults<'_>, standing: Option<String>) -> Vec<Option<String>> {
    let status = standing.or_else(|| fact(book, &setup.block, setup::STATUS));
    let mut parts = vec![status, fact(book, &setup.block, setup::BALANCING_SPEED)];
    parts.extend(setup.calibrations.iter().map(|calibration| {
        let reading = calibration.stated_reading.as_ref().unwrap_or(&calibration.reading);
        number(reading).map(|reading| format!("{} {reading}", calibration.plane))
    }));
    parts
}

fn record_parts(book: &Book, record: &RecordResults<'_>, standing: Option<String>) -> Vec<Option<String>> {
    let fact = |of: AnyFact| fact(book, &record.block, of);
    let serial = fact(record::SERIAL.any()).map(|serial| format!("serial {serial}"));
    let verdict = || record.verdict.as_ref().map(|verdict| book::word_of(verdict.verdict).to_owned());
    let verdict = standing.or_else(verdict);
    vec![serial, fact(record::DATE.any()), fact(record::SETUP.any()).map(|setup| format!("on {setup}")), verdict]
}

fn fact_parts(book: &Book, block: &EffectiveBlock<'_>) -> Vec<Option<String>> {
    let fact = |of: AnyFact| fact(book, block, of);
    match block.kind {
        Kind::Shop => vec![fact(shop::FORMAT.any()).map(|format| format!("format {format}"))],
        Kind::Material => vec![fact(material::DENSITY.any())],
        Kind::Masses => vec![masses(block)],
        Kind::Machine => {
            let readout = block.inner(Kind::Readout).next();
            let shows = readout.and_then(|readout| self::fact(book, readout, readout::SHOWS));
            let supports = fact(machine::SUPPORTS.any()).map(|supports| format!("{supports} supports"));
            vec![supports, fact(machine::ROTOR_MASS.any()), shows.map(|shows| format!("shows {shows}"))]
        }
        Kind::Arbor => vec![fact(arbor::MASS.any())],
        _ => Vec::new(),
    }
}

/// A fact as it is written.
fn fact<T: ?Sized>(book: &Book, block: &EffectiveBlock<'_>, fact: Fact<T>) -> Option<String> {
    let field = block.field(fact).filter(|field| !field.field.value.is_hole())?;
    Some(match &field.field.value {
        FieldValue::Text(text) => text.to_string(),
        FieldValue::Name(name) => name.text.to_string(),
        _ => field.field.value_span.of(&book.file(field.item.file).text).to_owned(),
    })
}

fn masses(block: &EffectiveBlock<'_>) -> Option<String> {
    let FieldValue::Quantities(values) = &block.field(masses::VALUES)?.field.value else { return None };
    let least = values.iter().min_by(|a, b| a.base.total_cmp(&b.base))?;
    let most = values.iter().max_by(|a, b| a.base.total_cmp(&b.base))?;
    let text = |stated: &crate::sheet::Stated| with_unit(units::plainly(stated.quantity().value), stated.unit);
    Some(match values.len() {
        1 => text(least),
        count => format!("{count} masses, {} to {}", text(least), text(most)),
    })
}

/// A fact as it was given, a result with the digits of its pin.
fn number<T: Amount>(value: &Val<T>) -> Option<String> {
    let base = value.get()?.raw();
    let unit = book::display_unit(base, value.unit);
    let is_fact = value.derivation.is_none() && value.standard_uncertainty() == 0.0;
    Some(match is_fact {
        true => with_unit(units::plainly(unit.from_base(base)), unit),
        false => book::display_value(base, unit, 0.0),
    })
}

fn with_unit(number: String, unit: Unit) -> String {
    if unit == Unit::ONE { number } else { format!("{number} {unit}") }
}
