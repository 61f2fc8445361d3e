//! Worked examples as sheets: every row of `tests/data/sheets.csv` names a sheet, one of its results, and what its
//! source gives for it. In through text, out through results.

#![allow(clippy::unwrap_used, reason = "a failed test may panic")]

mod common;

use std::path::Path;

use rotorbook::book::{Book, Entry, Outcome};
use rotorbook::units::{Dimension, Quantity, Unit};

const TABLE: &str = include_str!("data/sheets.csv");
const STANDINGS: [&str; 3] = ["seen", "from memory", "common practice"];

#[derive(serde::Deserialize)]
struct Row {
    id: String,
    source: String,
    standing: String,
    sheet: String,
    result: String,
    expected: String,
    tolerance: String,
    note: String,
}

fn rows() -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(TABLE.as_bytes());
    reader.deserialize().map(|row| row.expect("a row has eight columns")).collect()
}

fn sheet(name: &str) -> Book {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/data/sheets/{name}.rotor"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{name}: {error}"));
    let book = common::book(&text);
    for (_, file) in book.files() {
        assert!(file.errors.is_empty(), "{name}: {:?}", file.errors);
        assert!(file.sheet.problems.is_empty(), "{name}: {:?}", file.sheet.problems);
    }
    book
}

/// `8.0 oz`, or `12 %`, or a plain number.
fn quantity(text: &str) -> Quantity {
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    let number = number.parse().unwrap_or_else(|_| panic!("`{text}` begins with no number"));
    Quantity::new(number, if unit.is_empty() { Unit::ONE } else { Unit::parse(unit).unwrap() })
}

fn near(expected: Quantity, base: f64, tolerance: Quantity) -> bool {
    let tolerance = tolerance.unit.convert_difference(tolerance.value, expected.unit).unwrap();
    let mut difference = (expected.unit.from_base(base) - expected.value).abs();
    if expected.dimension() == Dimension::ANGLE {
        let turn = expected.unit.from_base(std::f64::consts::TAU);
        difference = (difference % turn).min(turn - difference % turn);
    }
    // The last digit of a binary fraction is nobody's disagreement.
    difference <= tolerance * (1.0 + 1e-9) + 1e-12 * expected.value.abs()
}

/// What is wrong with a result, in words; nothing when it agrees.
fn disagreement(row: &Row, entry: &Entry, shown: &str) -> Option<String> {
    let at = |text: &str| text.split_once(" @ ").map(|(a, b)| (a.to_owned(), b.to_owned()));
    let agrees = match &entry.outcome {
        Outcome::Words(words) => *words == *row.expected,
        Outcome::Missing(_) => shown == row.expected,
        Outcome::Amount { base, unit, .. } => {
            let expected = quantity(&row.expected);
            expected.dimension() == unit.dimension() && near(expected, *base, quantity(&row.tolerance))
        }
        Outcome::Vector { base, angle, unit, .. } => {
            let (amount, direction) = at(&row.expected).expect("a vector has an angle");
            let (of_amount, of_direction) = at(&row.tolerance).expect("a vector has a tolerance of its angle");
            let expected = quantity(&amount);
            expected.dimension() == unit.dimension()
                && near(expected, *base, quantity(&of_amount))
                && near(quantity(&direction), *angle, quantity(&of_direction))
        }
        Outcome::Table { .. } | Outcome::Count(_) | Outcome::Direction { .. } => shown == row.expected,
    };
    (!agrees).then(|| format!("{}: {} is {shown}, not {}", row.id, row.result, row.expected))
}

/// The entry itself, or its amount where its angle is not asked for.
fn amount_of(entry: &Entry, alone: bool) -> Entry {
    match (alone, &entry.outcome) {
        (true, Outcome::Vector { base, unit, standard, .. }) => {
            Entry { outcome: Outcome::Amount { base: *base, unit: *unit, standard: *standard }, ..entry.clone() }
        }
        _ => entry.clone(),
    }
}

#[test]
fn every_sheet_gives_what_its_source_gives() {
    let mut wrong = Vec::new();
    for row in rows() {
        let book = sheet(&row.sheet);
        let results = common::results(&book);
        // A vector of which the source gives the amount alone.
        let (path, alone) = match row.result.strip_suffix(" amount") {
            Some(path) => (path, true),
            None => (&*row.result, false),
        };
        match results.iter().find(|(found, _)| *found == path).map(|(path, entry)| (path, amount_of(entry, alone))) {
            Some((_, entry)) => wrong.extend(disagreement(&row, &entry, &rotorbook::book::text_of(&book, &entry))),
            None => {
                let paths: Vec<&str> = results.iter().map(|(path, _)| path.as_str()).collect();
                wrong.push(format!("{}: no result {}; there are\n{}", row.id, row.result, paths.join("\n")));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_row_names_where_it_comes_from() {
    let rows = rows();
    for row in &rows {
        assert!(!row.source.is_empty(), "{}: no source", row.id);
        assert!(STANDINGS.contains(&row.standing.as_str()), "{}: standing {}", row.id, row.standing);
        assert_eq!(rows.iter().filter(|other| other.id == row.id).count(), 1, "{} stands twice", row.id);
        let common = row.standing == "common practice";
        assert!(!common || row.note.contains("no source"), "{}: say `no source`", row.id);
    }
}
