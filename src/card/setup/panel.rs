//! What the machine is set to: its own dials, switches and keys in panel order.

use super::Sheet;
use crate::card::document::{Column, Part, Row, Section, Table, Value};
use crate::card::values::{self, text_of_fact};
use crate::card::words::Words;
use crate::syntax::Kind;
use crate::vocabulary::{control, settings};

/// More rows than this are in two columns.
const IN_ONE: usize = 9;

/// How many controls there are.
pub(super) fn count(sheet: &Sheet<'_, '_>) -> usize {
    rows(sheet, false).len()
}

/// Whether it takes the whole width.
pub(super) fn is_long(sheet: &Sheet<'_, '_>) -> bool {
    count(sheet) > IN_ONE
}

/// With what the controls do.
pub(super) fn section(sheet: &Sheet<'_, '_>, title: Words) -> Option<Section> {
    of(rows(sheet, true), title)
}

/// What is set alone.
pub(super) fn short(sheet: &Sheet<'_, '_>, title: Words) -> Option<Section> {
    of(rows(sheet, false), title)
}

fn of(rows: Vec<(&str, Vec<Value>)>, title: Words) -> Option<Section> {
    let table = |rows: &[(&str, Vec<Value>)]| {
        let heads = ["Control", "Set", "Found"].map(Words::from).to_vec();
        let (controls, cells) = rows.iter().map(|(name, row)| ((*name).to_owned(), row.clone())).unzip();
        Part::Table(Table::new(heads, cells).roomy().setting(controls))
    };
    match rows.len() {
        0 => None,
        count if count <= IN_ONE => Some(Section::new(title).part(table(&rows))),
        count => {
            let column = |rows| Column { share: 1.0, sections: vec![Section::new("").part(table(rows))] };
            let columns = rows.chunks(count.div_ceil(2)).map(column).collect();
            Some(Section::new(title).part(Part::Columns(columns)))
        }
    }
}

/// The controls that the machine declares, in its own order; each with room for what was found there.
fn rows<'b>(sheet: &Sheet<'b, '_>, with_notes: bool) -> Vec<(&'b str, Vec<Value>)> {
    let settings = sheet.setup.block.inner(Kind::Settings).next();
    let stated = |name: &str| {
        let (_, field) = settings?.named(settings::CONTROL).find(|(control, _)| *control.text == *name)?;
        Some(values::stated(sheet.book, field))
    };
    let controls = sheet.setup.machine.as_ref().map(|machine| machine.controls.as_slice()).unwrap_or_default();
    let rows = controls.iter().map(|control| {
        let name = control.name_text();
        let value = stated(name).or_else(|| sheet.results().to_set(name)).unwrap_or_else(|| Value::text("–"));
        let note = control.field(control::NOTE).and_then(|note| text_of_fact(sheet.book, note));
        (name, row(name, value, note.filter(|_| with_notes)))
    });
    rows.collect()
}

/// What is set alone, without room to write.
pub(super) fn to_set(sheet: &Sheet<'_, '_>) -> Vec<Row> {
    let row = |(name, mut row): (&str, Vec<Value>)| Row::new(Words::stated(name), row.swap_remove(1));
    rows(sheet, false).into_iter().map(row).collect()
}

/// The controls of which the sheet has nothing to set.
pub(super) fn open(sheet: &Sheet<'_, '_>) -> Vec<String> {
    let is_open = |(_, row): &(&str, Vec<Value>)| matches!(row.get(1), Some(Value::Hole(_)));
    rows(sheet, false).into_iter().filter(is_open).map(|(name, _)| name.to_owned()).collect()
}

fn row(name: &str, value: Value, note: Option<String>) -> Vec<Value> {
    let words = Words::stated(name);
    let words = match note {
        Some(note) => words.say(" (").state(note).say(")"),
        None => words,
    };
    let value = match value {
        Value::Text(words) => Value::Text(Words::hand(words.plain())),
        other => other,
    };
    vec![Value::Text(words), value, Value::Blank("")]
}
