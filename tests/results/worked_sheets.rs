//! Worked examples as sheets: every row of `tests/data/sheets.csv` names a sheet, one of its results, and what its
//! source gives for it. In through text, out through results.

use std::path::Path;

use crate::support::books;
use rotorbook::book::{Book, Entry, Outcome};
use rotorbook::units::{Dimension, Quantity, Unit};

const TABLE: &str = include_str!("../data/sheets.csv");
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
    let book = books::book(&text);
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
        Outcome::Words(words) | Outcome::Void(words) => *words == *row.expected,
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
        Outcome::Table { .. } | Outcome::Count(_) | Outcome::ToSet { .. } | Outcome::Direction { .. } => {
            shown == row.expected
        }
    };
    (!agrees).then(|| format!("{}: {} is {shown}, not {}", row.id, row.result, row.expected))
}

/// A cell of a table as an amount: `places [3] mass` is the mass in the row headed 3.
fn cell(entry: &Entry, row: &str, column: &str) -> Option<Entry> {
    let Outcome::Table { heads, columns, rows } = &entry.outcome else { return None };
    let row = heads.iter().position(|head| *head.name == *row)?;
    let column = columns.iter().position(|own| own.name == column)?;
    let outcome = Outcome::Amount { base: rows[row][column]?, unit: columns[column].unit, standard: 0.0 };
    Some(Entry { outcome, ..entry.clone() })
}

/// What a source gives of a result.
#[derive(Clone, Copy)]
enum Part {
    All,
    Amount,
    Expanded,
}

fn part_of(entry: &Entry, part: Part) -> Entry {
    let amount =
        |base: f64, unit: Unit| Entry { outcome: Outcome::Amount { base, unit, standard: 0.0 }, ..entry.clone() };
    match (part, &entry.outcome) {
        (Part::Amount, Outcome::Vector { base, unit, .. }) => amount(*base, *unit),
        (Part::Expanded, Outcome::Amount { standard, unit, .. }) => amount(2.0 * standard, *unit),
        _ => entry.clone(),
    }
}

#[test]
fn every_sheet_gives_what_its_source_gives() {
    let mut wrong = Vec::new();
    for row in rows() {
        let book = sheet(&row.sheet);
        let results = books::results(&book);
        // A vector of which the source gives the amount alone, or a result of which it gives what that is known to.
        let (path, part) = match (row.result.strip_suffix(" amount"), row.result.strip_suffix(" ±")) {
            (Some(path), _) => (path, Part::Amount),
            (_, Some(path)) => (path, Part::Expanded),
            _ => (&*row.result, Part::All),
        };
        let (path, at) = match path.split_once(" [").and_then(|(path, at)| Some((path, at.split_once("] ")?))) {
            Some((path, at)) => (path, Some(at)),
            None => (path, None),
        };
        let found = results.iter().find(|(found, _)| *found == path).and_then(|(_, entry)| match at {
            Some((row, column)) => cell(entry, row, column),
            None => Some(part_of(entry, part)),
        });
        match found {
            Some(entry) => wrong.extend(disagreement(&row, &entry, &rotorbook::book::text_of(&book, &entry))),
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
        assert_eq!(rows.iter().filter(|other| other.id == row.id).count(), 1, "{} appears twice", row.id);
        let common = row.standing == "common practice";
        assert!(!common || row.note.contains("no source"), "{}: say `no source`", row.id);
    }
}

/// Cases that no sheet can say, each with the reason; none of them is among the rows.
#[test]
fn what_cannot_be_said_is_listed_with_its_reason() {
    let mut reader = csv::Reader::from_reader(include_str!("../data/unsaid.csv").as_bytes());
    let said = rows();
    for case in reader.records() {
        let case = case.unwrap();
        assert!(case[1].len() > 20, "{}: why?", &case[0]);
        assert!(said.iter().all(|row| row.id != case[0]), "{} is said after all", &case[0]);
    }
}

/// The distance from A to D is unknown in the source: it is where D must stand for the mass in A to come to 190 deg, the
/// angle that is given. Khurmi and Gupta, Theory of Machines, chapter 21: inputs seen, the answer of 366.7 mm our own.
#[test]
fn the_distance_that_balances_a_shaft_with_a_given_angle_is_found() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/sheets/complete-balance.rotor");
    let text = std::fs::read_to_string(path).unwrap();
    let angle_with_d_at = |millimetres: f64| {
        let book = books::book(&text.replace("366.68565 mm", &format!("{millimetres:.6} mm")));
        let results = books::results(&book);
        let (_, entry) = results.iter().find(|(path, _)| path == "rotor shaft / correction for parts A").unwrap();
        let Outcome::Vector { angle, .. } = entry.outcome else { panic!("{entry:?} is no vector") };
        angle.to_degrees().rem_euclid(360.0)
    };
    let (mut low, mut high) = (320.0, 420.0);
    let rises = angle_with_d_at(high) > angle_with_d_at(low);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if (angle_with_d_at(middle) > 190.0) == rises {
            high = middle;
        } else {
            low = middle;
        }
    }
    assert!((low - 366.7).abs() < 0.1, "D is at {low} mm");
}
