//! Facts of items of which nothing is computed.

use serde_json::{Value, json};

use super::answer::{ShownResult, amount};
use crate::book::{self, Book, EffectiveBlock, EffectiveField, PrintedResult};
use crate::sheet::{FieldValue, SettingValue, Stated, StatedReading};
use crate::units::Unit;

/// Every fact of an item, in the order in which it is written.
pub(super) fn of(book: &Book, item: &EffectiveBlock<'_>) -> Vec<ShownResult> {
    let mut facts = Vec::new();
    collect(book, item, &mut facts);
    facts
}

fn collect(book: &Book, block: &EffectiveBlock<'_>, facts: &mut Vec<ShownResult>) {
    facts.extend(block.fields.iter().map(|field| fact(book, block, *field)));
    for inner in &block.blocks {
        collect(book, inner, facts);
    }
}

fn fact(book: &Book, block: &EffectiveBlock<'_>, field: EffectiveField<'_>) -> ShownResult {
    let text = &book.file(field.item.file).text;
    let head = match (&field.field.name, field.field.key.head_name) {
        (Some(name), Some(_)) => format!("{} {}", field.field.key.name, name.text),
        (Some(name), None) => name.text.to_string(),
        (None, _) => field.field.key.name.to_owned(),
    };
    let blocks = block.path.headings().collect();
    let written = field.field.value_span.of(text).to_owned();
    valued(ShownResult::new(blocks, &head, PrintedResult::Words(written.clone())), &field.field.value, written)
}

/// The fact with its value for programs; people read it as it is written.
fn valued(shown: ShownResult, value: &FieldValue, written: String) -> ShownResult {
    let words = |shown: ShownResult, words: &str| ShownResult { value: json!(words), ..shown };
    match value {
        FieldValue::Hole | FieldValue::Unknown => shown,
        FieldValue::Quantity(stated) => quantity(shown, stated, written),
        FieldValue::Setting(SettingValue::Quantity(stated)) => quantity(shown, stated, written),
        FieldValue::Number(number) | FieldValue::Setting(SettingValue::Number(number)) => {
            ShownResult { value: json!(number), unit: json!(""), ..shown }
        }
        FieldValue::Grade(number) => {
            ShownResult { value: json!(number), unit: json!(Unit::MILLIMETRE_PER_SECOND.to_string()), ..shown }
        }
        FieldValue::Reading(reading) => self::reading(shown, reading, written),
        FieldValue::Text(text) | FieldValue::Setting(SettingValue::Position(text)) => words(shown, text),
        FieldValue::Name(name) => words(shown, &name.text),
        FieldValue::Choice(choice) => words(shown, choice),
        FieldValue::Unit(unit) => words(shown, &unit.to_string()),
        FieldValue::Units(units) => {
            ShownResult { value: units.iter().map(|unit| Value::from(unit.to_string())).collect(), ..shown }
        }
        FieldValue::Names(names) => {
            ShownResult { value: names.iter().map(|name| Value::from(&*name.text)).collect(), ..shown }
        }
        _ => words(shown, &written),
    }
}

fn quantity(shown: ShownResult, stated: &Stated, written: String) -> ShownResult {
    let standard = stated.stated_uncertainty().unwrap_or(0.0);
    let valued = amount(shown, stated.base, stated.unit, standard);
    // A fact keeps the digits it was given.
    let text = if standard > 0.0 { valued.text.clone() } else { written.clone() };
    let printed = match standard > 0.0 {
        true => book::printed_quantity(stated.base, stated.unit, standard),
        false => PrintedResult::Words(written.clone()),
    };
    ShownResult { text, spread: written, printed, ..valued }
}

fn reading(shown: ShownResult, reading: &StatedReading, written: String) -> ShownResult {
    let valued = quantity(shown, &reading.amount, written.clone());
    let Some(angle) = &reading.angle else { return valued };
    let known_to = angle.stated_uncertainty().map(|standard| 2.0 * standard.to_degrees());
    let value = json!({ "amount": valued.value, "angle": angle.base.to_degrees(), "angle_uncertainty": known_to });
    ShownResult { value, printed: PrintedResult::Words(written.clone()), text: written, ..valued }
}
