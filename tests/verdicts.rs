//! What a verdict rests on: a rotor of 20 kg at G 6.3 and 3000 rpm, 401.07 g·mm, half of it at each of two bearings alike.
//! Both planes lie a fifth of the way in, so that what is alike in both acts alike at both bearings. Plain statics, no
//! source.

#![allow(clippy::unwrap_used, reason = "a failed test may panic")]

mod common;

use rotorbook::book::text_of;

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
        let book = common::book(&self.text());
        for (_, file) in book.files() {
            assert!(file.errors.is_empty(), "{:?}\n{}", file.errors, self.text());
            assert!(file.sheet.problems.is_empty(), "{:?}\n{}", file.sheet.problems, self.text());
        }
        let results = common::results(&book);
        let path = format!("record job / {path}");
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
    assert_eq!(by_trials.verdict(), "over");
    let by_demand = Sheet { record: record.clone(), ..Sheet::default() };
    assert_eq!(by_demand.verdict(), "not shown");
    assert!(by_demand.reasons().starts_with("nothing shows what a division stands for in plane one"));
    let calibrated = Sheet { setup: calibrated(), record, ..Sheet::default() };
    assert_eq!(calibrated.verdict(), "within");
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
    assert_eq!(with(10.0, "").verdict(), "within");
    let apart = with(100.0, "");
    assert_eq!(apart.verdict(), "not shown");
    let words = "trial runs and calibration of plane one are 90.0 % apart in what channel left reads";
    assert!(apart.reasons().starts_with(words), "{}", apart.reasons());
    assert_eq!(with(100.0, "  trials made: before calibration\n").verdict(), "within");
}
