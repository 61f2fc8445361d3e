//! The card of a rotor: what it is, its sketch, its tolerance and planes, and the sheets that set it up.

use super::checked::Checked;
use super::document::{Card, Part, Row, Section, Table, Value, Words};
use super::values::{self, Results};
use super::{Printed, foot, sketch};
use crate::book::{Book, PlaneResults, RotorResults};
use crate::syntax::Kind;

pub(super) fn card(book: &Book, rotor: &RotorResults<'_>, checked: &Checked<'_>, printed: &Printed) -> Card {
    let sections = vec![
        sketch::section(book, Some(rotor), None),
        tolerance(book, rotor),
        planes(book, rotor),
        sheets(book, rotor),
    ];
    Card {
        kind: Kind::Rotor,
        name: book.item(rotor.id).name_text().to_owned(),
        stamp: None,
        alarms: checked.alarms(book),
        head: head(book, rotor),
        sections: sections.into_iter().flatten().collect(),
        foot: foot::of(Some(rotor), checked, printed),
        preview: false,
    }
}

fn head(book: &Book, rotor: &RotorResults<'_>) -> Vec<Row> {
    let fact = |key: &'static str, label: &'static str| values::row(book, &rotor.block, key, label);
    let rows = vec![
        fact("drawing", "Drawing"),
        Some(Row::new("Mass", values::amount(book, Some(&rotor.block), &["mass"], &rotor.mass))),
        fact("highest service speed", "Highest service speed"),
        fact("highest safe speed", "Never above"),
        fact("first bending critical", "First bending critical"),
        fact("largest diameter", "Largest diameter"),
        fact("journal diameter", "Journals"),
        fact("zero angle", "Zero mark"),
        fact("datum", "Places count from"),
        fact("note", "Note"),
    ];
    rows.into_iter().flatten().collect()
}

fn tolerance(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    let block = rotor.tolerance_block()?;
    let results = Results { book, entries: &rotor.entries };
    let mut rows: Vec<Row> = [("grade", "Grade"), ("edition", "Edition"), ("source", "Source"), ("rule", "Rule")]
        .into_iter()
        .filter_map(|(key, label)| values::row(book, block, key, label))
        .collect();
    for (name, label) in [
        ("permissible unbalance", "Permissible unbalance"),
        ("permissible specific unbalance", "for each unit of mass"),
        ("governing rule", "Governing rule"),
        ("tolerance at a", "At bearing A"),
        ("tolerance at b", "At bearing B"),
        ("static limit", "Static"),
        ("couple limit", "Couple"),
    ] {
        rows.extend(results.row("tolerance", name, label));
    }
    for name in ["left for assembly", "left at worst", "order of balancing"] {
        if let Some(value) = results.value("", name) {
            rows.push(Row::new(name, value));
        }
    }
    Some(Section::new("Tolerance").rows(rows))
}

fn planes(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    if rotor.planes.is_empty() {
        return None;
    }
    let table = Table {
        caption: Words::default(),
        heads: ["Plane", "At", "Radius", "Correct", "By", "Tolerance", "Most it gives"].map(Words::from).to_vec(),
        rows: rotor.planes.iter().map(|plane| row(book, plane)).collect(),
        below: Vec::new(),
    };
    Some(Section::new("Planes").part(Part::Table(table)))
}

fn row(book: &Book, plane: &PlaneResults<'_>) -> Vec<Value> {
    let fact = |key: &str| values::fact(book, &plane.block, key).unwrap_or_else(|| Value::text("not said"));
    vec![
        Value::strong(plane.name),
        fact("at"),
        values::amount(book, Some(&plane.block), &["radius"], &plane.radius),
        fact("correct"),
        fact("method"),
        values::printed(book, &plane.tolerance),
        plane.greatest.as_ref().map_or_else(|| Value::text("–"), |most| values::printed(book, most)),
    ]
}

/// The setups of the rotor and the records made by them, to turn to.
fn sheets(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    let name = |id: crate::book::ItemId| book.item(id).name_text().to_owned();
    let mut rows = Vec::new();
    for setup in book.users().setups(rotor.id) {
        rows.push(Row::new("Setup", Value::Item { kind: Kind::Setup, name: name(setup) }));
        let records = book.naming(Kind::Setup, book.item(setup).name_text()).iter();
        for record in records.filter(|id| book.item(**id).kind == Kind::Record) {
            rows.push(Row::new("Record", Value::Item { kind: Kind::Record, name: name(*record) }));
        }
    }
    (!rows.is_empty()).then(|| Section::new("Sheets of this rotor").rows(rows))
}
