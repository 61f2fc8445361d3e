//! What a verdict rests on: a rotor of 20 kg at G 6.3 and 3000 rpm, 401.07 g·mm, half of it at each of two bearings alike.
//! Both planes lie a fifth of the way in, so that what is alike in both acts alike at both bearings. Plain statics, no
//! source.

use crate::support::books;
use rotorbook::book::{Computed, Computing, text_of};
use rotorbook::syntax::Kind;

/// A sheet in divisions, with lines to put in.
#[derive(Default)]
struct Sheet {
    speed: Option<&'static str>,
    setup: String,
    record: String,
}

impl Sheet {
    fn text(&self) -> String {
        let Self { setup, record, .. } = self;
        let speed = self.speed.unwrap_or("balancing speed: 900 rpm");
        format!(
            r#"machine cradle {{
  supports: soft
  channels: left, right
  readout {{
    shows: div
    full scale: 60 div
    smallest step: 0.01 div
    angles: measured
    angles count: with rotation
    angle step: 0.1 deg
  }}
}}
rotor part {{
  mass: 20.0 kg
  mass centre: 250 mm
  bearings: 0 mm, 500 mm
  highest service speed: 3000 rpm
  angles count: with rotation
  plane one {{
    at: 100 mm
    radius: 100 mm
    correct: remove
  }}
  plane two {{
    at: 400 mm
    radius: 100 mm
    correct: add
  }}
  tolerance {{
    grade: G 6.3
    source: "drawing"
  }}
}}
setup sheet {{
  rotor: part
  machine: cradle
  {speed}
  channel left: one
  channel right: two
  indicates: heavy spot
  tolerance reads: 20 div
{setup}}}
record job {{
  setup: sheet
{record}}}
"#
        )
    }

    fn said(&self, path: &str) -> String {
        let book = books::book(&self.text());
        for (_, file) in book.files() {
            assert!(file.errors.is_empty(), "{:?}\n{}", file.errors, self.text());
            assert!(file.sheet.problems.is_empty(), "{:?}\n{}", file.sheet.problems, self.text());
        }
        let results = books::results(&book);
        let path = if path.starts_with("setup ") { path.to_owned() } else { format!("record job / {path}") };
        let found = results.iter().find(|(found, _)| *found == path).map(|(_, entry)| text_of(&book, entry));
        found.unwrap_or_else(|| panic!("no {path} among {:#?}", results.iter().map(|(p, _)| p).collect::<Vec<_>>()))
    }

    fn verdict(&self) -> String {
        self.said("verdict")
    }

    fn reasons(&self) -> String {
        self.said("reasons")
    }
}

/// A run that counts, the same in both channels.
fn run(name: &str, reading: &str) -> String {
    format!(
        "  run {name} {{
    speed: 900 rpm
    calibration masses: off
    reading left: {reading}
    reading right: {reading}
  }}\n"
    )
}

/// 10 g at 100 mm in each plane.
fn calibrated() -> String {
    let plane = |plane: &str| {
        format!(
            "  calibrate {plane} {{
    mass: 10.0 g
    radius: 100.0 mm
    taken as: vector difference
  }}\n"
        )
    };
    plane("one") + &plane("two")
}

/// Trial runs on channels that read 1 div for each `worth` g·mm in their own plane, and nothing of the other: 10 g at
/// 100 mm in each plane in turn, from a rotor that reads 1 div at 0 degrees.
fn trials(worth: f64, speed: &str) -> String {
    let trial = |name: &str, mass_in: &str, left: f64, right: f64| {
        let mass = match mass_in {
            "" => String::new(),
            plane => format!(
                "    mass in: {plane}
    mass: 10.0 g
    radius: 100.0 mm
    angle: 0 deg
    trial mass: taken off\n"
            ),
        };
        format!(
            "  trial {name} {{
{mass}    {speed}
    reading left: {left:.2} div @ 0.0 deg
    reading right: {right:.2} div @ 0.0 deg
  }}\n"
        )
    };
    let with_mass = 1.0 + 1000.0 / worth;
    trial("found", "", 1.0, 1.0) + &trial("first", "one", with_mass, 1.0) + &trial("second", "two", 1.0, with_mass)
}

const AT_SPEED: &str = "speed: 900 rpm";

// 200.53 g·mm read 20 div where the demand is met: 10.03 g·mm a division. By trials that show 100 g·mm a division, 3 div
// are 300 g·mm, over 200.53 at each bearing; by the demand they would be 30.
#[test]
fn trial_runs_tell_what_a_division_stands_for_where_nothing_is_calibrated() {
    let record = run("last", "3.00 div @ 40.0 deg");
    let by_trials = Sheet { setup: trials(100.0, AT_SPEED), record: record.clone(), ..Sheet::default() };
    let unbalance = by_trials.said("run last / unbalance one");
    assert!(unbalance.starts_with("300.0"), "{unbalance}");
    assert_eq!(by_trials.verdict(), "over as read");
    let by_demand = Sheet { record: record.clone(), ..Sheet::default() };
    assert_eq!(by_demand.verdict(), "not shown");
    assert!(by_demand.reasons().starts_with("nothing shows what a division means in plane one"));
    let calibrated = Sheet { setup: calibrated(), record, ..Sheet::default() };
    assert_eq!(calibrated.verdict(), "within as read");
}

// 1000 g·mm read 99.7 div by the calibration. Trials at 10 g·mm a division agree with it within 0.3 %, at 100 g·mm they
// read a tenth: 90 % apart.
#[test]
fn trials_and_a_calibration_that_contradict_each_other_show_nothing() {
    let with = |worth: f64, more: &str| Sheet {
        setup: format!("{more}{}{}", calibrated(), trials(worth, AT_SPEED)),
        record: run("last", "1.00 div @ 40.0 deg"),
        ..Sheet::default()
    };
    assert_eq!(with(10.0, "").verdict(), "within as read");
    let apart = with(100.0, "");
    assert_eq!(apart.verdict(), "not shown");
    let words = "channel left: trial runs and calibration of plane one disagree by 90.0 %";
    assert!(apart.reasons().starts_with(words), "{}", apart.reasons());
    assert_eq!(with(100.0, "  trials made: before calibration\n").verdict(), "within as read");
}

/// Indexed runs by an arbor of 5 div at 20 degrees and a rotor of 3 div at 100, in the arbor's angles: their sum,
/// 6.262 div at 48.15 degrees, and half a turn on their difference, 5.366 div at 346.59. By hand.
fn indexed(more: &str) -> Sheet {
    let run = |name: &str, turned: u32, reading: &str| {
        format!(
            "  run {name} {{
    speed: 900 rpm
    calibration masses: off
    turned on arbor by: {turned} deg
    angles from: arbor
    reading left: {reading}
    reading right: {reading}
  }}\n"
        )
    };
    let runs = run("zero", 0, "6.26 div @ 48.15 deg") + &run("half", 180, "5.37 div @ 346.59 deg");
    Sheet { setup: calibrated(), record: runs + more, ..Sheet::default() }
}

fn vector(said: &str) -> (f64, f64) {
    let number = |text: &str| -> f64 { text.split(' ').next().unwrap().parse().unwrap() };
    let (amount, angle) = said.split_once(" @ ").unwrap();
    (number(amount), number(angle))
}

fn near((amount, angle): (f64, f64), (wanted, at): (f64, f64), within: f64) {
    assert!((amount - wanted).abs() < within && (angle - at).abs() < 1.0, "{amount} @ {angle}, not {wanted} @ {at}");
}

// The rotor's own 3 div are 30.08 g·mm: 0.3008 g at 100 mm, to be taken off at 100 degrees, the arbor left alone.
#[test]
fn a_correction_after_indexed_runs_leaves_the_arbor_alone() {
    let open = indexed("  correction one {\n    after: half\n  }\n");
    for run in ["zero", "half"] {
        near(vector(&open.said(&format!("run {run} / rotor unbalance one"))), (30.08, 100.0), 0.1);
        near(vector(&open.said(&format!("run {run} / correction one"))), (0.3008, 100.0), 0.001);
    }
    assert!(open.said("correction one / remove").starts_with("0.30"), "{}", open.said("correction one / remove"));
    assert!(open.said("correction one / angle").starts_with("100."), "{}", open.said("correction one / angle"));
    let made = indexed("  correction one {\n    after: half\n    remove: 0.301 g\n    angle: 100 deg\n  }\n");
    assert!(made.said("correction one / fit").starts_with("as called for"), "{}", made.said("correction one / fit"));
    let left = made.said("correction one / left");
    assert!(left.starts_with("0.") && left.contains("direction uncertain"), "{left}");
}

// Both corrected by 3 div; the arbor's 5 div stay: seen in the rotor's angles, half a turn on, at 200 degrees. The rotor
// is then without unbalance, and all of it, 30.08 g·mm, has gone.
#[test]
fn a_run_after_the_correction_is_freed_of_the_arbor_that_runs_before_told() {
    let correction = |plane: &str, how: &str| {
        format!(
            "  correction {plane} {{\n    after: half\n    {how}: 0.301 g\n    angle: {} deg\n  }}\n",
            match how {
                "add" => 280,
                _ => 100,
            }
        )
    };
    let last = "  run last {
    speed: 900 rpm
    calibration masses: off
    turned on arbor by: 180 deg
    angles from: rotor
    reading left: 5.00 div @ 200.0 deg
    reading right: 5.00 div @ 200.0 deg
  }\n";
    let sheet = indexed(&(correction("one", "remove") + &correction("two", "add") + last));
    assert!(sheet.said("run last / rotor unbalance one").starts_with("0."));
    assert!(sheet.said("run last / reduction one").starts_with("99."), "{}", sheet.said("run last / reduction one"));
    assert!(sheet.said("run last / effect of correction").starts_with("as meant"));
    assert_eq!(sheet.verdict(), "within as read");
}

#[test]
fn trials_at_another_speed_and_a_speed_that_nobody_says_show_nothing() {
    let record = run("last", "1.00 div @ 40.0 deg");
    let with = |speed: &str| Sheet { setup: trials(100.0, speed), record: record.clone(), ..Sheet::default() };
    assert_eq!(with(AT_SPEED).verdict(), "within as read");
    let fast = with("speed: 1400 rpm");
    assert_eq!(fast.verdict(), "not shown");
    assert!(fast.reasons().starts_with("trial `found` at 1400 rpm is outside the band of 873 rpm to 927 rpm"));
    let silent = with("note: \"by ear\"");
    assert_eq!(silent.verdict(), "not shown");
    assert!(silent.reasons().starts_with("trial `found`, by which the readings are judged, does not say its speed"));
    let nowhere = Sheet { speed: Some("by: \"the shop\""), setup: calibrated(), record };
    assert_eq!(nowhere.verdict(), "not shown");
    assert!(nowhere.reasons().starts_with("the balancing speed of the sheet is not known"), "{}", nowhere.reasons());
}

/// A traverse of plane one with a test mass of 4 g at 100 mm over a residual at 40 degrees, in g·mm: what the law of
/// cosines gives at twelve places, 10.03 g·mm a division.
fn traverse(residual: f64) -> String {
    let reading = |n: u32| {
        let between = (f64::from(n) * 30.0 - 40.0_f64).to_radians();
        let squared = 400.0 * 400.0 + residual * residual + 2.0 * 400.0 * residual * between.cos();
        format!("{:.3} div", squared.sqrt() / 10.0267)
    };
    let readings: Vec<String> = (0..12).map(reading).collect();
    format!(
        "  traverse one {{
    mass: 4.00 g
    radius: 100.0 mm
    places: 12 from 0 deg
    channel: left
    readings: {}
  }}\n",
        readings.join(", ")
    )
}

#[test]
fn a_traverse_finds_a_large_residual_and_contradicts_a_run_that_shows_less() {
    let with = |run_shows: &str, residual: f64| Sheet {
        setup: calibrated(),
        record: run("last", run_shows) + &traverse(residual),
        ..Sheet::default()
    };
    let large = with("1.00 div @ 40.0 deg", 300.0);
    let residual = large.said("traverse one / residual");
    assert!(residual.starts_with("300."), "{residual}");
    let spot = large.said("traverse one / heavy spot");
    assert!(spot.starts_with("40.0"), "{spot}");
    assert_eq!(large.verdict(), "not shown");
    let words = "the traverse of plane one finds 300.";
    assert!(large.reasons().starts_with(words), "{}", large.reasons());
    assert_eq!(with("1.00 div @ 40.0 deg", 10.0).verdict(), "within as read");
}

// An arbor of 500 div and a rotor of 18, both at 10 degrees: 518 and, half a turn on, 482. One degree at one standard
// uncertainty is 0.01745 of 500 div across, 61.9 g·mm in the rotor once the two runs are halved. At a bearing that takes
// 0.8 of one plane and 0.2 of the other it is √(0.8² + 0.2²) of that, 51.0 g·mm. With k = 2 the tip of 180.48 g·mm may lie
// √(180.48² + 102.1²) = 207.4 g·mm out, over 200.53, though along its direction it is known to a hundredth. By hand.
#[test]
fn an_amount_whose_angle_is_poor_may_be_larger_than_it_looks() {
    let run = |name: &str, turned: u32, reading: f64| {
        let reading = format!("{reading:.2} div @ 10 deg ± 2 deg (k=2)");
        format!(
            "  run {name} {{
    speed: 900 rpm
    calibration masses: off
    turned on arbor by: {turned} deg
    angles from: arbor
    reading left: {reading}
    reading right: {reading}
  }}\n"
        )
    };
    let sheet =
        Sheet { setup: calibrated(), record: run("zero", 0, 518.0) + &run("half", 180, 482.0), ..Sheet::default() };
    let measured = sheet.said("measured bearing a");
    let (amount, expanded) = measured.split_once(" g·mm ± ").unwrap();
    let expanded: f64 = expanded.split(' ').next().unwrap().parse().unwrap();
    assert!(amount.starts_with("180") || amount == "181", "{measured}");
    assert!((expanded - 26.9).abs() < 0.6, "{measured}");
    assert_eq!(sheet.verdict(), "not shown");
}

/// A proof with 10 g at 100 mm and 0 degrees in each plane, and what the second one reads on the right, from a rotor that
/// reads nothing at the start.
fn proof(right: &str) -> String {
    format!(
        "  proof \"2026-03-02\" {{
    date: 2026-03-02
    start reading left: 0.00 div @ 0.0 deg
    start reading right: 0.00 div @ 0.0 deg
    separation one {{
      mass: 10.0 g
      radius: 100.0 mm
      angle: 0.0 deg
      reading left: 99.7 div @ 0.0 deg
      reading right: 0.10 div @ 0.0 deg
    }}
    separation two {{
      mass: 10.0 g
      radius: 100.0 mm
      angle: 0.0 deg
      reading left: 0.10 div @ 0.0 deg
      reading right: {right}
    }}
  }}\n"
    )
}

// 1000 g·mm read 1000 ÷ 10.027 = 99.73 div.
#[test]
fn a_proof_that_fails_lets_no_verdict_pass() {
    let with = |right: &str| Sheet {
        setup: calibrated() + &proof(right),
        record: run("last", "1.00 div @ 40.0 deg"),
        ..Sheet::default()
    };
    assert_eq!(with("99.7 div @ 0.0 deg").verdict(), "within as read");
    for (right, why) in [
        ("145 div @ 0.0 deg", "the proof fails: the mass in plane two reads 45.4 % too much"),
        ("99.7 div @ 110.0 deg", "the proof fails: the mass in plane two is shown 110 deg from where it is"),
        ("99.7 div @ 350.0 deg", ""),
        ("0.29 div @ 0.0 deg", "the proof fails: 34.5 % of the mass in plane two shows in the other plane"),
    ] {
        let sheet = with(right);
        assert_eq!(sheet.verdict(), if why.is_empty() { "within as read" } else { "not shown" }, "{right}");
        assert!(sheet.reasons().starts_with(why), "{}", sheet.reasons());
    }
}

// 10 g in plane one read 1.5 div on the right, 5 g in plane two 12 div: 1.5 ÷ 2 ÷ 12 = 6.25 %. The rotor itself reads
// 1.0 div there, at no known angle: of the mass alone are 0.5 to 2.5 div and 11 to 13, so 1.9 to 11.4 %.
#[test]
fn amounts_alone_are_known_no_better_than_the_start_lets_them() {
    let trial = |name: &str, mass: &str, left: &str, right: &str| {
        format!(
            "  trial {name} {{\n{mass}    speed: 900 rpm\n    reading left: {left}\n    reading right: {right}\n  }}\n"
        )
    };
    let mass = |plane: &str, grams: &str| {
        format!(
            "    mass in: {plane}\n    mass: {grams} g\n    radius: 100.0 mm\n    angle: 0 deg\n    trial mass: taken off\n"
        )
    };
    let setup = trial("found", "", "0.5 div", "1.0 div")
        + &trial("first", &mass("one", "10.0"), "20.0 div", "1.5 div")
        + &trial("second", &mass("two", "5.0"), "3.0 div", "12.0 div");
    let sheet = Sheet { setup, record: run("last", "1.00 div"), ..Sheet::default() };
    let said = sheet.said("setup sheet / trial first / interference");
    let (share, expanded) = said.split_once(" % ± ").unwrap();
    let number = |text: &str| -> f64 { text.trim_end_matches(" %").parse().unwrap() };
    let (share, expanded) = (number(share), number(expanded));
    assert!((share - 6.25).abs() < 0.1, "{said}");
    assert!(share - expanded <= 2.1 && share + expanded >= 10.4, "{said}");
}

// What a proof was made with, against a sheet in which one thing after the other has moved since.
#[test]
fn whatever_the_proof_was_made_with_voids_the_calibration_when_it_is_changed() {
    let facts = "    machine: cradle
    balancing speed: 900 rpm
    rotor mass: 20.0 kg
    plane one: 100 mm
    plane two: 400 mm
    calibration mass one: 10.0 g
    calibration radius one: 100.0 mm
    setting dial: 21
    setting switch: left\n";
    let proven = |from: &str, to: &str| {
        assert!(facts.contains(from), "{from}");
        let facts = facts.replacen(from, to, 1);
        let proof =
            proof("99.7 div @ 0.0 deg").replacen("02\n", &format!("02\n    proven with {{\n{facts}    }}\n"), 1);
        let settings = "  settings {\n    dial: 21\n    switch: left\n  }\n";
        Sheet {
            setup: format!("{settings}{}{proof}", calibrated()),
            record: run("last", "1.00 div @ 40.0 deg"),
            ..Sheet::default()
        }
    };
    assert_eq!(proven("", "").verdict(), "within as read");
    for (from, to, why) in [
        ("machine: cradle", "machine: bed", "proven on \"bed\", the sheet now says \"cradle\""),
        ("rotor mass: 20.0 kg", "rotor mass: 19.0 kg", "proven with rotor mass 19 kg, the sheet now says 20 kg"),
        ("plane two: 400 mm", "plane two: 390 mm", "proven with plane two at 390 mm, the sheet now says 400 mm"),
        ("mass one: 10.0 g", "mass one: 5.00 g", "proven with calibration mass one 5 g, the sheet now says 10 g"),
        ("dial: 21", "dial: 40", "proven with setting dial 40, the sheet now says 21"),
        ("switch: left", "switch: right", "proven with setting switch right, the sheet now says left"),
        ("switch: left", "knob: 3", "proven with setting knob 3, of which the sheet now says nothing"),
    ] {
        let sheet = proven(from, to);
        assert_eq!(sheet.verdict(), "not shown", "{to}");
        let why = format!("the calibration is void: {why}");
        assert!(sheet.reasons().starts_with(&why), "{}, not {why}", sheet.reasons());
    }
}

// A residual of half the calibration unbalance, in one position, turns what is shown by asin 0.5 = 30 degrees to either side:
// 30 ÷ √3 · 2 = 34.6 at k = 2, which is 200 · 0.604 = 121 g·mm across. The amount is known to 121 g·mm too, so the tip may lie
// nearer: tan φ = 121 ÷ √(200² - 121²), 37.2. Plain geometry, no source.
#[test]
fn an_angle_calibrated_in_one_position_is_as_good_as_the_residual_lets_it() {
    let sheet = std::fs::read_to_string("tests/data/sheets/angle-of-one-position.rotor").unwrap();
    let book = books::book(&sheet);
    let results = books::results(&book);
    let found = results.iter().find(|(path, _)| path == "record c / run last / unbalance p1").unwrap();
    let said = text_of(&book, &found.1);
    assert!(said.contains("@ 0 deg ± 37 deg"), "{said}");
}

/// Bearing a stands first and is within; what withholds the word is bearing b. By hand: 28 div in plane two and 1 div in plane one
/// act at b as 0.8·28 + 0.2·1 = 22.6 div, and at a as 0.2·28 + 0.8·1 = 6.4 div, of 20 div.
#[test]
fn what_withholds_the_word_is_told_from_what_is_within() {
    let run = run("found", "1.00 div @ 0.0 deg").replace("right: 1.00", "right: 28.00");
    let sheet = Sheet { setup: calibrated(), record: run, ..Sheet::default() };
    let book = books::book(&sheet.text());
    let computing = Computing::without_explanations(&book);
    let Computed::Record(results) = computing.item(book.find(Kind::Record, "job").unwrap()) else {
        panic!("no record")
    };
    let verdict = results.verdict.as_ref().unwrap();
    assert!(verdict.reasons.iter().any(|reason| reason.starts_with("bearing a: ") && reason.contains("within")));
    let withheld_by = verdict.withheld_by().unwrap();
    assert!(withheld_by.starts_with("bearing b: "), "{withheld_by}");
}
