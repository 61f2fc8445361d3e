//! What the card is for, and when to stop.

use super::{Sheet, rows};
use crate::card::document::{Part, Row, Section, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::syntax::Kind;
use crate::vocabulary::{AnyFact, machine, proof, result, rotor, setup};

pub(super) fn head(sheet: &Sheet<'_, '_>) -> Vec<Row> {
    let setup = sheet.setup;
    let rotor = setup.rotor.as_deref().map(|rotor| &rotor.block);
    let item = |kind: Kind, name: &str| Value::Item { kind, name: name.to_owned() };
    let machine = setup.machine.as_ref().map(|machine| sheet.book.item(machine.id).name_text());
    rows(vec![
        Some(Row::new(
            "Rotor",
            match setup.rotor.as_deref() {
                Some(rotor) => item(Kind::Rotor, sheet.book.item(rotor.id).name_text()),
                None => sheet.wanted(setup::ROTOR),
            },
        )),
        rotor.and_then(|rotor| values::row(sheet.book, rotor, rotor::DRAWING, "Drawing")),
        Some(Row::new("Revision", sheet.fact(setup::REVISION).unwrap_or_else(|| Value::text("none")))),
        Some(Row::new(
            "Machine",
            match machine {
                Some(name) => Value::text(Words::stated(name)),
                None => sheet.wanted(setup::MACHINE),
            },
        )),
        Some(Row::new("Written", written(sheet))),
        Some(Row::new("Last proven", proven(sheet))),
    ])
}

fn written(sheet: &Sheet<'_, '_>) -> Value {
    let parts: Vec<Words> = [setup::DATE.any(), setup::BY.any()]
        .into_iter()
        .filter_map(|fact| match sheet.fact(fact)? {
            Value::Text(words) => Some(words),
            _ => None,
        })
        .collect();
    joined(parts).unwrap_or_else(|| Value::text("the sheet does not say when or by whom"))
}

fn joined(parts: Vec<Words>) -> Option<Value> {
    let mut parts = parts.into_iter();
    let first = parts.next()?;
    Some(Value::Text(parts.fold(first, |words, part| words.say(", ").with(&part))))
}

fn proven(sheet: &Sheet<'_, '_>) -> Value {
    let Some(proof) = &sheet.setup.proof else { return Value::text("never: the sheet has no proof") };
    let fact = |fact: AnyFact| match values::fact(sheet.book, &proof.block, fact) {
        Some(Value::Text(words)) => Some(words),
        _ => None,
    };
    joined([fact(proof::DATE.any()), fact(proof::BY.any())].into_iter().flatten().collect())
        .unwrap_or_else(|| Value::text("the proof does not say when"))
}

pub(super) fn stop_if(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let setup = sheet.setup;
    let results = sheet.results();
    let safe =
        setup.rotor.as_deref().map(|rotor| match values::fact(sheet.book, &rotor.block, rotor::HIGHEST_SAFE_SPEED) {
            Some(Value::Text(words)) => strong(words),
            Some(other) => other,
            None => Value::Hole("the sheet of the rotor gives no highest safe speed".into()),
        });
    let mut stop = rows(vec![
        safe.map(|value| Row::new("Never above", value)),
        Some(Row::new(
            "Balancing speed",
            match sheet.wanted(setup::BALANCING_SPEED) {
                Value::Text(words) => strong(words),
                other => other,
            },
        )),
        results
            .at_the_machine(sheet.whole(), &result::MASS_ON_MACHINE, None)
            .map(|value| Row::new("Mass on the machine", value)),
        setup
            .machine
            .as_ref()
            .and_then(|machine| values::row(sheet.book, &machine.block, machine::ROTOR_MASS, "The machine takes")),
    ]);
    for calibration in setup.calibrations.iter().filter(|calibration| calibration.block.is_some()) {
        let path = sheet.calibration(calibration.plane);
        if let Some(value) = results.at_the_machine(&path, &result::CENTRIFUGAL_FORCE, None) {
            stop.push(Row::new(Words::said("Pull of the mass in ").state(calibration.plane), value));
        }
    }
    let mut section = Section::boxed("Stop if one of these would be passed, or anything is not as this card says")
        .part(Part::Rows(stop));
    let own: Vec<Words> = setup
        .block
        .fields
        .iter()
        .filter(|field| field.field.key.is(setup::CAUTION))
        .filter_map(|field| values::text_of_fact(sheet.book, *field))
        .map(|caution| Words::whole(caution).say("."))
        .collect();
    if !own.is_empty() {
        section = section.part(Part::Cautions(own));
    }
    Some(section)
}

/// The same in the weight of what must be found first.
fn strong(words: Words) -> Value {
    let text: String = words.0.iter().map(|piece| piece.text()).collect();
    Value::strong(text)
}
