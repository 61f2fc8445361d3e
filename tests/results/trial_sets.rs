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
    books::readable(&text)
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
    // What a record keeps is of one speed, and another speed has its own trials; a third has none.
    let kept = "  as run {\n    influence foot {\n      speed: 1470 rpm\n      per: 1 g·mm\n      wheel: 0.0002003 mm/s @ 347 deg\n    }\n  }\n";
    let book = fan(MEASURED, &trials, &(kept.to_owned() + &record + &run(700, "3.20 mm/s @ 40 deg")));
    near(vector(&book, "record job / run at-1470 / unbalance wheel").unwrap(), 0.07656 * 0.6, 77.0, 5e-3);
    near(vector(&book, "record job / run at-980 / unbalance wheel").unwrap(), 0.18037 * 0.6, 37.05, 1e-3);
    let results = books::results(&book);
    let (_, third) = results.iter().find(|(path, _)| path == "record job / run at-700 / unbalance wheel").unwrap();
    let third = text_of(&book, third);
    assert!(third.starts_with("not computed: there are no trial runs at the speed of the run"), "{third}");
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

const AMOUNTS: &str = "angles: none";

/// As read in one plane without angles, with 60 g at each angle.
fn amounts(found: &str, with: &[(f64, &str)]) -> Book {
    let trials: String = with
        .iter()
        .map(|(degrees, read)| trial(&format!("at-{degrees}"), 1470, Some((60.0, *degrees)), read))
        .collect();
    fan(AMOUNTS, &(trial("found", 1470, None, found) + &trials), "")
}

/// What the plane really had is 36 kg·mm @ 70 deg, which reads 20.0 mm/s; the first trial was read half too high, 49.1 for
/// 32.8. Least squares over all amounts cannot tell which, but the answer is known no better than that.
#[test]
fn amounts_that_contradict_each_other_are_known_no_better_than_they_agree() {
    let read = |first: &str| {
        let book = amounts("20.0 mm/s", &[(0.0, first), (120.0, "36.25 mm/s"), (240.0, "3.49 mm/s")]);
        let results = books::results(&book);
        let (_, entry) = results.iter().find(|(path, _)| path == "setup sheet / unbalance found wheel").unwrap();
        let Outcome::Vector { base, angle, standard, .. } = entry.outcome else { panic!("{}", text_of(&book, entry)) };
        (base * angle.cos(), base * angle.sin(), 2.0 * standard)
    };
    let (x, y) = (0.036 * 70_f64.to_radians().cos(), 0.036 * 70_f64.to_radians().sin());
    let (by_x, by_y, known_to) = read("32.77 mm/s");
    assert!((by_x - x).hypot(by_y - y) < 0.0001 && known_to < 0.0005, "{by_x} {by_y} {known_to}");
    let (by_x, by_y, known_to) = read("49.1 mm/s");
    let off = (by_x - x).hypot(by_y - y);
    assert!(off > 0.01 && off < known_to, "{off} m·kg off, known to {known_to}");
}

/// Trials at 0 and 180 deg alone: the mirror image fits as well. A third off their line tells which it is.
#[test]
fn two_answers_are_no_answer() {
    // 36 kg·mm @ 70 deg at 20.0 mm/s, by the law of cosines.
    let line = [(0.0, "32.77 mm/s"), (180.0, "22.94 mm/s")];
    let book = amounts("20.0 mm/s", &line);
    assert!(books::results(&book).iter().any(|(path, entry)| path == "setup sheet / unbalance found wheel"
        && text_of(&book, entry).contains("two unbalances explain the amounts")
        && text_of(&book, entry).contains("@ 70.0 deg")
        && text_of(&book, entry).contains("@ 290 deg")));
    let found = rotorbook::check::check(&book);
    assert!(found.iter().any(|one| one.rule.code == "trials-leave-two-answers"));
    let told = amounts("20.0 mm/s", &[line[0], line[1], (100.0, "38.64 mm/s")]);
    near(vector(&told, "setup sheet / unbalance found wheel").unwrap(), 0.036, 70.0, 2e-3);
}
