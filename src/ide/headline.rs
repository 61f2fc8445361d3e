//! What a list says of an item: its main facts or results, in a few words.

use crate::book::{
    self, Book, Computed, Computing, EffectiveBlock, ItemId, RecordResults, RotorResults, SetupResults, Val,
};
use crate::card::{self, BARRED, Standing};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{self, Amount, Unit};
use crate::vocabulary::{AnyFact, Fact, arbor, machine, masses, material, readout, record, setup, shop};

/// The main facts or results of an item: `4.8200 kg, permissible 81.7 g·mm`; empty when there are none. `standing` is what
/// its card says of it: where that is not known, nothing is said of status or verdict.
pub fn headline(book: &Book, computed: &Computed<'_>, standing: Option<&Standing>) -> String {
    let word = |standing: &Standing| standing.word().to_owned();
    let parts = match computed {
        // The facts of a rotor identify it; a stamp is added only where its card must not be used.
        Computed::Rotor(rotor) => rotor_parts(rotor, standing.map(word).filter(|word| word == BARRED)),
        Computed::Setup(setup) => setup_parts(book, setup, standing.map(word)),
        Computed::Record(record) => record_parts(book, record, standing.map(word)),
        Computed::Facts(block) => fact_parts(book, block),
    };
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// The same with what its card says as far as the sheets tell: `RELEASED C once committed`.
pub(super) fn headline_by_sheets(computing: &Computing<'_>, id: ItemId) -> String {
    let computed = computing.item(id);
    headline(computing.book(), &computed, card::standing_once_committed(computing, &computed, id).as_ref())
}

fn rotor_parts(rotor: &RotorResults<'_>, standing: Option<String>) -> Vec<Option<String>> {
    let permissible = number(&rotor.permissible).map(|permissible| format!("permissible {permissible}"));
    vec![standing, number(&rotor.mass), permissible]
}

fn setup_parts(book: &Book, setup: &SetupResults<'_>, standing: Option<String>) -> Vec<Option<String>> {
    let mut parts = vec![standing, fact(book, &setup.block, setup::BALANCING_SPEED)];
    parts.extend(setup.calibrations.iter().map(|calibration| {
        let reading = calibration.stated_reading.as_ref().unwrap_or(&calibration.reading);
        number(reading).map(|reading| format!("{} {reading}", calibration.plane))
    }));
    parts
}

fn record_parts(book: &Book, record: &RecordResults<'_>, standing: Option<String>) -> Vec<Option<String>> {
    let fact = |of: AnyFact| fact(book, &record.block, of);
    let serial = fact(record::SERIAL.any()).map(|serial| format!("serial {serial}"));
    let on = fact(record::SETUP.any()).map(|setup| format!("on {setup}"));
    // A verdict by a sheet that was not released is never read without that; what is barred has no verdict.
    let is_verdict = standing.as_deref().is_some_and(|word| word != BARRED);
    let draft = record.run_before_release().filter(|_| is_verdict).map(|_| "DRAFT: sheet not released".to_owned());
    vec![serial, fact(record::DATE.any()), on, standing, draft]
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
