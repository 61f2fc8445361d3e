//! How the rotor is laid in, and what the machine is set to.

use super::{Sheet, hole, rows, unless_empty};
use crate::book::EffectiveBlock;
use crate::card::cautions;
use crate::card::document::{Part, Row, Section, Table, Value, Words};
use crate::card::values::{self, text_of_fact};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{control, setup};

pub(super) fn mount(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let setup = sheet.setup;
    let mut list = rows(vec![
        supports(sheet),
        sheet.fact_row("belt runs on", "Belt runs on"),
        sheet.fact_row("pulley", "Motor pulley"),
    ]);
    if let Some(arbor) = &setup.arbor {
        list.push(Row::new("Arbor", Value::strong(arbor.name_text())));
        list.extend(values::row(sheet.book, arbor, "expanded to", "Expanded to"));
        list.extend(values::row(sheet.book, arbor, "zero angle", "Zero mark of the arbor"));
    }
    if let Some(rotor) = setup.rotor.as_deref() {
        list.extend(values::row(sheet.book, &rotor.block, "zero angle", "Zero mark of the rotor"));
        for keyway in &rotor.keyways {
            list.push(Row::new(Words::said("Keyway ").state(keyway.name), key(sheet, &keyway.block)));
        }
        for part in &rotor.parts {
            list.push(Row::new(Words::said("Part ").state(part.name), fitted(sheet, &part.block)));
        }
    }
    list.extend(notes(sheet).into_iter().map(|note| Row::new("Note", Value::text(note))));
    unless_empty(Section::new("Mount").cautions(cautions::mounting(setup)).rows(list))
}

fn supports(sheet: &Sheet<'_, '_>) -> Option<Row> {
    let field = sheet.setup.block.field(setup::SUPPORTS_AT)?;
    let value = match &field.field.value {
        FieldValue::Quantities(places) if places.len() == 2 => {
            let written = text_of_fact(sheet.book, field)?;
            match written.split_once(", ") {
                Some((left, right)) => Value::Text(Words::said("left ").stress(left).say(", right ").stress(right)),
                None => Value::strong(written),
            }
        }
        _ => values::stated(sheet.book, field),
    };
    Some(Row::new("Supports at", value))
}

fn key(sheet: &Sheet<'_, '_>, keyway: &EffectiveBlock<'_>) -> Value {
    let fact = |key: &str| keyway.field(key).and_then(|field| text_of_fact(sheet.book, field));
    let Some(convention) = fact("key") else {
        return hole("the sheet does not say whether half key, full key or no key: ask before the run");
    };
    let words = Words::strong(convention);
    Value::Text(match fact("mark") {
        Some(mark) => words.say(", marked ").state(mark),
        None => words,
    })
}

fn fitted(sheet: &Sheet<'_, '_>, part: &EffectiveBlock<'_>) -> Value {
    let fact = |key: &str| part.field(key).and_then(|field| text_of_fact(sheet.book, field));
    let mut words = Words::default();
    let facts = [("match mark", "marks meet: "), ("fitted at", "its zero at "), ("balanced", "balanced ")];
    for (key, says) in facts {
        if let Some(value) = fact(key) {
            words = if words.is_empty() { words } else { words.say("; ") };
            words = match key {
                "balanced" if value == "not balanced" => words.state(value),
                _ => words.say(says).state(value),
            };
        }
    }
    if words.is_empty() { hole("the sheet does not say how it is fitted") } else { Value::Text(words) }
}

fn notes(sheet: &Sheet<'_, '_>) -> Vec<String> {
    let of = |block: &EffectiveBlock<'_>| -> Vec<String> {
        let notes = block.fields.iter().filter(|field| field.field.key.name == "note");
        notes.filter_map(|field| text_of_fact(sheet.book, *field)).collect()
    };
    let mut notes = of(&sheet.setup.block);
    notes.extend(sheet.setup.rotor.as_deref().map(|rotor| of(&rotor.block)).unwrap_or_default());
    notes
}

/// The keys of hard supports, as they are keyed in.
const DIMENSIONS: [&str; 6] = ["arrangement", "a", "b", "c", "r1", "r2"];

/// The machine's own dials and switches in panel order; each with room for what was found there.
pub(super) fn presettings(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let mut rows: Vec<Vec<Value>> = dimensions(sheet);
    let settings = sheet.setup.block.inner(Kind::Settings).next();
    let set = |name: &str| {
        let field = settings?.fields.iter().find(|field| {
            field.field.key.head_name.is_none() && field.field.name.as_ref().is_some_and(|own| &*own.text == name)
        })?;
        Some(values::stated(sheet.book, *field))
    };
    let controls = sheet.setup.machine.as_ref().map(|machine| machine.controls.as_slice()).unwrap_or_default();
    for control in controls {
        let name = control.name_text();
        let value = set(name).unwrap_or_else(|| Value::text("not said by the sheet"));
        rows.push(control_row(
            name,
            value,
            control.field(control::NOTE).and_then(|note| text_of_fact(sheet.book, note)),
        ));
    }
    let known = |name: &str| controls.iter().any(|control| control.name_text() == name);
    for field in settings.into_iter().flat_map(|settings| &settings.fields) {
        let Some(name) = field.field.name.as_ref().filter(|name| !known(&name.text)) else { continue };
        rows.push(control_row(&name.text, values::stated(sheet.book, *field), None));
    }
    if rows.is_empty() {
        return None;
    }
    let table = Table {
        caption: Words::default(),
        heads: ["Control", "Set to", "Found"].map(Words::from).to_vec(),
        rows,
        below: Vec::new(),
    };
    Some(Section::new("Presettings, in the order of the panel").part(Part::Table(table)))
}

fn control_row(name: &str, value: Value, note: Option<String>) -> Vec<Value> {
    let words = Words::stated(name);
    let words = match note {
        Some(note) => words.say(" (").state(note).say(")"),
        None => words,
    };
    let value = match value {
        Value::Text(words) => Value::strong(words.0.iter().map(|piece| piece.text()).collect::<String>()),
        other => other,
    };
    vec![Value::Text(words), value, Value::Blank("")]
}

/// What hard supports want keyed in: as the sheet states it, else as it follows from the places.
fn dimensions(sheet: &Sheet<'_, '_>) -> Vec<Vec<Value>> {
    let one = |key: &'static str| {
        let value = sheet.fact(key).or_else(|| sheet.results().value("", key))?;
        Some(control_row(key, value, None))
    };
    DIMENSIONS.into_iter().filter_map(one).collect()
}
