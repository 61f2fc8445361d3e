//! Saying the same in other words changes no result.

use std::path::Path;
use std::sync::Arc;

use crate::sheets;
use crate::support::books;
use crate::support::other_units::in_other_units;
use rotorbook::book::{Book, Outcome, SourceFile};
use rotorbook::diff::{ItemDiff, Moved, compare};

#[test]
fn other_units_with_the_uncertainty_written_out_give_the_same_results() {
    let files = sheets::book(12);
    let without_set: Vec<(String, String)> =
        files.into_iter().map(|(path, text)| (path, text.replace("  masses: \"brass set\"\n", ""))).collect();
    let book = books::book_of(without_set.iter().map(|(path, text)| (path.as_str(), text.as_str())));
    let other = in_other_units(&book);
    assert!(other.files().all(|(_, file)| file.errors.is_empty() && file.sheet.problems.is_empty()));
    let (before, after) = (books::results(&book), books::results(&other));
    assert_eq!(before.len(), after.len());
    for ((path, before), (other_path, after)) in before.iter().zip(&after) {
        assert_eq!(path, other_path);
        match (&before.outcome, &after.outcome) {
            (Outcome::Amount { base, standard, .. }, Outcome::Amount { base: other, standard: other_standard, .. }) => {
                assert!((base - other).abs() <= 1e-8 * base.abs(), "{path}: {base} and {other}");
                let near = (standard - other_standard).abs() <= 1e-4 * standard.max(1e-9 * base.abs());
                assert!(near, "{path}: ± {standard} and ± {other_standard}");
            }
            (
                Outcome::Vector { base, angle, standard, .. },
                Outcome::Vector { base: other, angle: other_angle, standard: other_standard, .. },
            ) => {
                assert!((base - other).abs() <= 1e-8 * base.abs(), "{path}: {base} and {other}");
                assert!((angle - other_angle).sin().abs() <= 1e-8, "{path}: @ {angle} and @ {other_angle}");
                let near = (standard - other_standard).abs() <= 1e-4 * standard.max(1e-9 * base.abs());
                assert!(near, "{path}: ± {standard} and ± {other_standard}");
            }
            (Outcome::Words(before), Outcome::Words(after)) | (Outcome::Void(before), Outcome::Void(after)) => {
                assert_eq!(before, after, "{path}")
            }
            (Outcome::Table { .. }, Outcome::Table { .. }) => {}
            (Outcome::Missing(before), Outcome::Missing(after)) => assert_eq!(before.reason, after.reason, "{path}"),
            (before, after) => panic!("{path}: {before:?} and {after:?}"),
        }
    }
}

#[test]
fn other_units_with_the_uncertainty_written_out_are_no_difference() {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let sheets = std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/sheets")).unwrap();
    let sheets = sheets.map(|entry| books::book(&std::fs::read_to_string(entry.unwrap().path()).unwrap()));
    for book in [books::book_in(&example), Book::new(made_up())].into_iter().chain(sheets) {
        let book = without_sets(&book);
        let other = in_other_units(&book);
        let items = compare(&book, &other).items;
        let told = |item: &ItemDiff| {
            let facts = item.facts.iter().map(|fact| format!("{:?} {:?} {:?}", fact.path, fact.old, fact.new));
            // Conversions round, in the last digits of a number.
            let is_rounding =
                |one: &&Moved| one.amounts.is_some_and(|(a, b)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()));
            let moved = item.results.iter().filter(|one| !is_rounding(one));
            let moved = moved.map(|one| format!("{} {:?} {:?} {:?}", one.item, one.path, one.old, one.new));
            facts.chain(moved).collect::<Vec<_>>()
        };
        // A card does change: what a hand sets is told in the sheet's own units.
        let moved: Vec<String> = items.iter().flat_map(told).collect();
        assert!(moved.is_empty(), "{moved:#?}");
    }
}

/// No setup takes its masses from a set, whose values would be recognised by their digits.
fn without_sets(book: &Book) -> Book {
    let without = |text: &str| {
        let lines = text.lines().filter(|line| !line.starts_with("  masses: \""));
        lines.map(|line| format!("{line}\n")).collect::<String>()
    };
    Book::new(book.files().map(|(_, file)| Arc::new(SourceFile::read(&*file.path, without(&file.text)))).collect())
}

fn made_up() -> Vec<Arc<SourceFile>> {
    sheets::book(12).into_iter().map(|(path, text)| Arc::new(SourceFile::read(path, text))).collect()
}

/// Scale the tolerance: readings fall, divisions rise, nothing else of the calibration moves.
#[test]
fn twice_the_tolerance_halves_the_reading() {
    let sheet = |total: &str| {
        books::book(&format!(
            r#"machine "bench" {{
  supports: soft
  readout {{
    shows: div
    angles: none
  }}
}}
rotor "disc" {{
  mass: 5 kg
  plane rim {{
    at: 80 mm
    radius: 60 mm
  }}
  tolerance {{
    total: {total}
  }}
}}
setup "disc" {{
  rotor: "disc"
  machine: "bench"
  balancing speed: 900 rpm
  tolerance reads: 2 div
  calibrate rim {{
    mass: 2.00 g
    radius: 60.0 mm
  }}
}}
"#
        ))
    };
    let (once, twice) = (sheet("30 g·mm"), sheet("60 g·mm"));
    let of = |book, result: &str, unit| books::amount(book, &format!("setup disc / calibrate rim / {result}"), unit).0;
    assert!((of(&once, "reading", "div") - 2.0 * of(&twice, "reading", "div")).abs() < 1e-12);
    assert!((2.0 * of(&once, "one division", "g·mm") - of(&twice, "one division", "g·mm")).abs() < 1e-9);
    assert_eq!(of(&once, "centrifugal force", "N"), of(&twice, "centrifugal force", "N"));
}
