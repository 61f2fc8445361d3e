//! Cuts that are there and are made deeper. Right answers by hand.

use super::ledger::{asked, did, near, proposed, run, said, sheet};
use crate::support::books;
use rotorbook::book::{Book, Outcome};

/// An arc takes ⅔·ρ·w·sin 20·(R³ − (R − t)³): 107.18 g·mm at 0.2 mm, 1052.6 g·mm at 2 mm.
const GROUND: &str = "    correct: remove
    method: grinding
    material: steel
    surface radius: 100 mm
    width: 10 mm
    full arc: 40 deg
    depth: up to 2 mm";

const DRILLED: &str = "    correct: remove
    method: drilling
    material: steel
    hole diameter: 8 mm
    depth: up to 12 mm
    hole spacing at least: 12 mm";

/// Degrees, grams, depth and by how much deeper, both in millimetres, of each row of the last proposal.
fn rows(book: &Book) -> Vec<[f64; 4]> {
    let results = books::results(book);
    let (_, entry) = results.iter().rfind(|(path, _)| path == "record job / correction rim / places").unwrap();
    let Outcome::Table { columns, rows, .. } = &entry.outcome else { panic!("no table: {entry:?}") };
    let names: Vec<&str> = columns.iter().map(|column| column.name).collect();
    assert_eq!(names[..3], ["angle", "mass", "depth"]);
    let deeper = |row: &[Option<f64>]| row.get(3).copied().flatten().unwrap_or(0.0) * 1e3;
    let mut rows: Vec<[f64; 4]> = rows
        .iter()
        .map(|row| [row[0].unwrap().to_degrees(), row[1].unwrap() * 1e3, row[2].unwrap() * 1e3, deeper(row)])
        .collect();
    rows.sort_by(|a, b| a[0].total_cmp(&b[0]));
    rows
}

/// What was done in the last correction, in g·mm.
fn done(book: &Book) -> f64 {
    let results = books::results(book);
    let (_, entry) = results.iter().rfind(|(path, _)| path == "record job / correction rim / done").unwrap();
    let Outcome::Vector { base, .. } = entry.outcome else { panic!("{entry:?}") };
    base * 1e6
}

/// With 0.2 mm ground at 332 deg, 400 g·mm more there are 107.18 + 400 = 507.18 g·mm in all: 0.95358 mm, 0.75358 deeper. By
/// the formula solved for t. At 330 deg the same cut makes 20·cos 2 = 19.988 of 20 g·mm and leaves 20·sin 2 = 0.7: one cut
/// instead of two, 0.23739 mm deep.
#[test]
fn an_arc_that_is_there_is_ground_deeper() {
    let once = run("found", "107.18 g·mm @ 332 deg") + &did("angle: 332 deg\n    depth: 0.200 mm");
    let book = sheet(GROUND, &(once.clone() + &run("then", "400 g·mm @ 332 deg") + &asked()));
    let [[angle, _, depth, deeper]] = rows(&book)[..] else { panic!("{:?}", rows(&book)) };
    near(angle, 332.0, 1e-6);
    near(depth, 0.95358, 1e-5);
    near(deeper, 0.75358, 1e-5);
    assert_eq!(said(&book, "correction rim / not reached"), None);
    let book = sheet(GROUND, &(once + &run("then", "20 g·mm @ 330 deg") + &asked()));
    let [[angle, _, depth, _]] = rows(&book)[..] else { panic!("{:?}", rows(&book)) };
    near(angle, 332.0, 1e-6);
    near(depth, 0.23739, 1e-5);
}

/// 400 g·mm at 317 deg, 15 off the arc at 332: alone it would leave 104. With an arc at 292, a whole arc off: by the law of sines
/// 400·sin 25 ÷ sin 40 = 262.99 g·mm at 332, 0.69417 mm in all, and 400·sin 15 ÷ sin 40 = 161.06 at 292, 0.30085 mm.
#[test]
fn beside_the_direction_an_arc_goes_deeper_and_another_makes_the_rest() {
    let once = run("found", "107.18 g·mm @ 332 deg") + &did("angle: 332 deg\n    depth: 0.200 mm");
    let book = sheet(GROUND, &(once + &run("then", "400 g·mm @ 317 deg") + &asked()));
    let [[new, _, depth, none], [old, _, to, deeper]] = rows(&book)[..] else { panic!("{:?}", rows(&book)) };
    near(new, 292.0, 1e-6);
    near(depth, 0.30085, 1e-4);
    near(none, 0.0, 1e-9);
    near(old, 332.0, 1e-6);
    near(to, 0.69417, 1e-4);
    near(deeper, 0.49417, 1e-4);
}

/// The record states the whole depth: 0.95 mm takes 505.29 g·mm, of which 107.18 were gone before. And then it is known to be
/// 0.95 mm deep: 100 g·mm more begin there.
#[test]
fn what_was_taken_before_is_not_taken_again() {
    let twice = run("found", "107.18 g·mm @ 332 deg")
        + &did("angle: 332 deg\n    depth: 0.200 mm")
        + &run("then", "400 g·mm @ 332 deg")
        + &did("angle: 332 deg\n    depth: 0.950 mm");
    let book = sheet(GROUND, &twice);
    near(done(&book), 398.11, 0.01);
    let book = sheet(GROUND, &(twice + &run("again", "100 g·mm @ 332 deg") + &asked()));
    let [[_, _, depth, deeper]] = rows(&book)[..] else { panic!("{:?}", rows(&book)) };
    near(depth - deeper, 0.95, 1e-9);
}

/// A radial hole of 8 mm in a surface of 100 mm radius takes 221.41 g·mm at 5 mm and 331.14 at 8 mm: 109.73 g·mm and 1.1838 g
/// more, by the integrals of a hole in a round surface. A record that weighs these chips did the same.
#[test]
fn a_radial_hole_is_drilled_deeper() {
    let plane = format!("{DRILLED}\n    surface radius: 100 mm");
    let once = run("found", "221.41 g·mm @ 40 deg")
        + &did("angle: 40 deg\n    depth: 5.00 mm")
        + &run("then", "109.73 g·mm @ 40 deg");
    let book = sheet(&plane, &(once.clone() + &asked()));
    let [[angle, mass, depth, deeper]] = rows(&book)[..] else { panic!("{:?}", rows(&book)) };
    near(angle, 40.0, 1e-6);
    near(mass, 1.1838, 2e-4);
    near(depth, 8.0, 1e-3);
    near(deeper, 3.0, 1e-3);
    near(books::amount(&book, "record job / correction rim / remove", "g").0, 1.1838, 2e-4);
    let weighed = once + &did("remove: 1.184 g\n    angle: 40 deg\n    depth: 8.00 mm");
    near(done(&sheet(&plane, &weighed)), 109.73, 0.05);
    let found = rotorbook::check::check(&sheet(&plane, &weighed));
    assert!(found.iter().all(|one| one.rule.code != "depth-and-mass-disagree"), "the chips are those of 3 mm");
}

/// An axial hole takes ρ·π·d²/4·r = 39.458 g·mm a millimetre: 78.917 g·mm are 2 mm more than 5.
#[test]
fn an_axial_hole_is_drilled_deeper() {
    let plane = format!("{DRILLED}\n    direction: axial\n    radius: 100 mm");
    let record = run("found", "228.90 g·mm @ 40 deg")
        + &did("angle: 40 deg\n    depth: 5.00 mm")
        + &run("then", "78.917 g·mm @ 40 deg")
        + &asked();
    let book = sheet(&plane, &record);
    let [[_, _, depth, deeper]] = rows(&book)[..] else { panic!("{:?}", rows(&book)) };
    near(depth, 7.0, 1e-3);
    near(deeper, 2.0, 1e-3);
    // A hole as deep as it may be is beside what is ordered: two more.
    let full = record.replace("5.00 mm", "12.0 mm");
    let rows = proposed(&sheet(&plane, &full)).unwrap();
    assert_eq!(rows.len(), 2, "{rows:?}");
}
