//! Trials that do not belong together: other speeds, amounts that contradict each other, two answers.

use crate::support::books;
use rotorbook::book::{Book, Outcome, text_of};

/// A fan in one plane on two feet, with trials and a run to put in.
fn fan(angles: &str, trials: &str, record: &str) -> Book {
    let text = format!(
        r#"machine kit {{
  supports: hard
  drive: own
  channels: foot
  readout {{
    shows: velocity
    unit: mm/s
    value: rms
    smallest step: 0.01 mm/s
    {angles}
  }}
}}
rotor fan {{
  mass: 85 kg
  highest service speed: 1470 rpm
  zero angle: "blade 1"
  angles count: against rotation
  plane wheel {{
    at: 0 mm
    radius: 600 mm
    correct: add
    method: welding
  }}
  tolerance {{
    grade: G 6.3
    planes: one
    source: "drawing"
  }}
}}
setup sheet {{
  rotor: fan
  machine: kit
  balancing speed: 1470 rpm
  channel foot: wheel
{trials}
}}
record job {{
  setup: sheet
{record}
}}
"#
    );
    let book = books::book(&text);
    for (_, file) in book.files() {
        assert!(file.errors.is_empty(), "{:?}\n{text}", file.errors);
        assert!(file.sheet.problems.is_empty(), "{:?}\n{text}", file.sheet.problems);
    }
    book
}

const MEASURED: &str = "angles: measured\n    angle step: 1 deg\n    angles count: against rotation";

fn trial(name: &str, speed: u32, mass: Option<(f64, f64)>, reading: &str) -> String {
    let mass = mass.map_or_else(String::new, |(grams, degrees)| {
        format!(
            "    mass in: wheel\n    mass: {grams} g\n    radius: 600 mm\n    angle: {degrees} deg\n    trial mass: taken off\n"
        )
    });
    format!("  trial \"{name}\" {{\n{mass}    speed: {speed} rpm\n    reading foot: {reading}\n  }}\n")
}

fn vector(book: &Book, path: &str) -> Option<(f64, f64)> {
    let results = books::results(book);
    let (_, entry) = results.iter().find(|(found, _)| found == path)?;
    match entry.outcome {
        Outcome::Vector { base, angle, .. } => Some((base, angle.to_degrees())),
        _ => panic!("{path}: {}", text_of(book, entry)),
    }
}

#[track_caller]
fn near((found, angle): (f64, f64), by_hand: f64, degrees: f64, share: f64) {
    assert!((found / by_hand - 1.0).abs() < share, "{found} is not {by_hand}");
    let off = (angle - degrees).rem_euclid(360.0);
    assert!(off.min(360.0 - off) < 0.1, "{angle} is not {degrees}");
}

/// By hand, 60 g at 0 deg each: at 1470 rpm 60 · 9.20 ∠64 ÷ −(12.90 ∠31 − 9.20 ∠64) = 76.56 g @ 257.0, and at 980 rpm
/// 60 · 3.20 ∠40 ÷ −(4.10 ∠31 − 3.20 ∠40) = 180.4 g @ 217.1.
#[test]
fn two_speeds_give_two_corrections_and_never_one_of_both() {
    let trials = [
        trial("found-slow", 980, None, "3.20 mm/s @ 40 deg"),
        trial("found", 1470, None, "9.20 mm/s @ 64 deg"),
        trial("slow", 985, Some((60.0, 0.0)), "4.10 mm/s @ 31 deg"),
        trial("fast", 1470, Some((60.0, 0.0)), "12.90 mm/s @ 31 deg"),
    ]
    .concat();
    let run = |speed: u32, reading: &str| {
        format!("  run at-{speed} {{\n    speed: {speed} rpm\n    reading foot: {reading}\n  }}\n")
    };
    let record = run(1470, "9.20 mm/s @ 64 deg") + &run(980, "3.20 mm/s @ 40 deg");
    let book = fan(MEASURED, &trials, &record);
    near(vector(&book, "setup sheet / correction wheel").unwrap(), 0.07656, 257.0, 1e-3);
    near(vector(&book, "setup sheet / trial found-slow / correction wheel").unwrap(), 0.18037, 217.05, 1e-3);
    // A run is judged by the set of its speed.
    near(vector(&book, "record job / run at-1470 / unbalance wheel").unwrap(), 0.07656 * 0.6, 77.0, 1e-3);
    near(vector(&book, "record job / run at-980 / unbalance wheel").unwrap(), 0.18037 * 0.6, 37.05, 1e-3);
    let found = rotorbook::check::check(&book);
    let speeds: Vec<_> = found.iter().filter(|one| one.rule.code == "speed-out-of-band").collect();
    assert!(speeds.iter().all(|one| one.message.starts_with("run ")), "{speeds:?}");
}

/// A trial at another speed that has no fellow is a hole: the same answer as without it.
#[test]
fn a_trial_outside_the_band_is_no_data() {
    let good = [
        trial("found", 1470, None, "9.20 mm/s @ 64 deg"),
        trial("fast", 1470, Some((60.0, 0.0)), "12.90 mm/s @ 31 deg"),
    ];
    let stray = trial("slow", 980, Some((60.0, 90.0)), "4.10 mm/s @ 31 deg");
    let book = fan(MEASURED, &(good.concat() + &stray), "");
    near(vector(&book, "setup sheet / correction wheel").unwrap(), 0.07656, 257.0, 1e-3);
    let found = rotorbook::check::check(&book);
    assert!(found.iter().any(|one| one.rule.code == "speed-out-of-band" && one.message.contains("\"slow\"")));
    // With no run at the balancing speed at all there is no answer for it.
    let elsewhere = good.concat().replace("1470 rpm", "980 rpm");
    assert_eq!(vector(&fan(MEASURED, &elsewhere, ""), "setup sheet / correction wheel"), None);
}
