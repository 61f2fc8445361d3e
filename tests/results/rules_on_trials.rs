//! Rules on trial runs, proofs and records beyond their faulty sheets: what must stay quiet, and the other ways in which
//! each speaks.

use std::sync::Arc;

use rotorbook::book::{Book, SourceFile};
use rotorbook::check::{self, Diagnostic};

fn check(text: &str) -> Vec<Diagnostic> {
    let file = SourceFile::read("sheet.rotor", text);
    assert!(file.errors.is_empty() && file.sheet.problems.is_empty(), "{:?} {:?}", file.errors, file.sheet.problems);
    check::check(&Book::new(vec![Arc::new(file)]))
}

/// What a rule says of a sheet, each with its severity: `note: the mass of …`.
fn said(text: &str, code: &str) -> Vec<String> {
    let found = check(text);
    let of_rule = found.iter().filter(|found| found.rule.code == code);
    of_rule.map(|found| format!("{}: {}", found.severity.word(), found.message)).collect()
}

#[track_caller]
fn says(text: &str, code: &str, words: &str) {
    let said = said(text, code);
    assert!(said.iter().any(|message| message.contains(words)), "{code} says {said:#?}, not `{words}`\n{text}");
}

#[track_caller]
fn silent(text: &str, code: &str) {
    assert_eq!(said(text, code), Vec::<String>::new(), "{text}");
}

/// A bench with a rotor of 20 kg: 401 g·mm allowed, half at each bearing; planes at a radius of 100 mm.
struct Sheet {
    supports: &'static str,
    channels: &'static str,
    readout: &'static str,
    plane_one: &'static str,
    plane_two: &'static str,
    setup: String,
    record: String,
}

impl Default for Sheet {
    fn default() -> Self {
        Self {
            supports: "soft",
            channels: "left, right",
            readout: "shows: displacement\n    unit: µm\n    angles: measured\n    angles count: with rotation",
            plane_one: "correct: remove",
            plane_two: "correct: add",
            setup: String::new(),
            record: String::new(),
        }
    }
}

impl Sheet {
    fn text(&self) -> String {
        let Self { supports, channels, readout, plane_one, plane_two, setup, record } = self;
        format!(
            "machine bench {{
  supports: {supports}
  channels: {channels}
  readout {{
    {readout}
  }}
}}
rotor part {{
  mass: 20.0 kg
  mass centre: 250 mm
  bearings: 0 mm, 500 mm
  highest service speed: 3000 rpm
  zero angle: \"keyway\"
  angles count: with rotation
  plane one {{
    at: 100 mm
    radius: 100 mm
    {plane_one}
  }}
  plane two {{
    at: 400 mm
    radius: 100 mm
    {plane_two}
  }}
  tolerance {{
    grade: G 6.3
  }}
}}
setup sheet {{
  rotor: part
  machine: bench
  balancing speed: 900 rpm
{setup}}}
{record}"
        )
    }
}

fn trial(name: &str, mass_in: Option<&str>, readings: &[(&str, &str)]) -> String {
    let mass = mass_in.map_or_else(String::new, |plane| {
        format!("    mass in: {plane}\n    mass: 10.0 g\n    radius: 100.0 mm\n    angle: 0 deg\n    trial mass: taken off\n")
    });
    let readings: String =
        readings.iter().map(|(channel, shown)| format!("    reading {channel}: {shown}\n")).collect();
    format!("  trial {name} {{\n{mass}    speed: 900 rpm\n{readings}  }}\n")
}

const CHANNELS: &str = "  channel left: one\n  channel right: two\n";

/// A mass in plane one moves the left channel by 40 µm and the right one by 10 µm; one in plane two the right by 50 µm
/// and the left by 1 µm. Numbers of our own: 10 ÷ 50 is 20 %, 1 ÷ 40 is 2.5 %.
fn trials_with_angles() -> String {
    [
        trial("start", None, &[("left", "10.0 µm @ 0 deg"), ("right", "10.0 µm @ 90 deg")]),
        trial("first", Some("one"), &[("left", "50.0 µm @ 0 deg"), ("right", "20.0 µm @ 90 deg")]),
        trial("second", Some("two"), &[("left", "11.0 µm @ 0 deg"), ("right", "60.0 µm @ 90 deg")]),
    ]
    .concat()
}

#[test]
fn interference_of_trials_is_judged_by_the_limit_of_the_shop() {
    let code = "interference-too-high";
    let sheet = Sheet { setup: CHANNELS.to_owned() + &trials_with_angles(), ..Sheet::default() };
    let text = sheet.text();
    assert_eq!(said(&text, code).len(), 1, "{:?}", said(&text, code));
    says(&text, code, "note: 20.0 % of the mass of trial \"first\" in plane one shows");
    let shop = "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n  interference: 25 %\n}\n";
    silent(&(shop.to_owned() + &text), code);
}

#[test]
fn interference_of_amounts_alone_weighs_more() {
    let setup = [
        CHANNELS.to_owned(),
        trial("start", None, &[("left", "0.1 µm"), ("right", "0.1 µm")]),
        trial("first", Some("one"), &[("left", "40.0 µm"), ("right", "10.0 µm")]),
        trial("second", Some("two"), &[("left", "1.0 µm"), ("right", "50.0 µm")]),
    ];
    let readout = "shows: displacement\n    unit: µm\n    angles: none";
    let text = Sheet { setup: setup.concat(), readout, ..Sheet::default() }.text();
    says(&text, "interference-too-high", "warning: 20.0 % of the mass of trial \"first\" in plane one shows");
}

#[test]
fn a_third_channel_is_welcome_where_trials_read_it() {
    let code = "two-channels-expected";
    let with_third =
        trials_with_angles().replace("    reading left", "    reading middle: 5.0 µm @ 10 deg\n    reading left");
    let channels = "left, right, middle";
    silent(&Sheet { channels, setup: with_third, ..Sheet::default() }.text(), code);
    let unread = Sheet { channels, setup: CHANNELS.to_owned() + &trials_with_angles(), ..Sheet::default() }.text();
    says(&unread, code, "warning: the machine has 3 channels, and no setup of it reads middle");
    let hard = Sheet { supports: "hard", channels, ..Sheet::default() }.text();
    says(&hard, code, "error: the machine has 3 channels, where two hard supports have two");
    says(&Sheet { channels: "left, left", ..Sheet::default() }.text(), code, "error: two channels are called left");
}

/// Calibrated so that one division means 100.3 g·mm in each plane: 200.5 g·mm read 2 div.
const CALIBRATED: &str = "  channel left: one
  channel right: two
  indicates: heavy spot
  tolerance reads: 2 div
  calibrate one {
    mass: 20.0 g
    radius: 100.0 mm
  }
  calibrate two {
    mass: 20.0 g
    radius: 100.0 mm
  }
";

const DIVISIONS: &str = "shows: div\n    angles: measured\n    angles count: with rotation";

fn run(name: &str, left: &str, right: &str) -> String {
    format!(
        "  run {name} {{\n    speed: 900 rpm\n    calibration masses: off\n    reading left: {left}\n    reading right: \
         {right}\n  }}\n"
    )
}

fn correction(plane: &str, after: &str, facts: &[&str]) -> String {
    let facts: String = facts.iter().map(|fact| format!("    {fact}\n")).collect();
    format!("  correction {plane} {{\n    after: {after}\n{facts}  }}\n")
}

/// A record of a calibrated setup.
fn record(blocks: &[String]) -> Sheet {
    let record = format!("record job {{\n  setup: sheet\n{}}}\n", blocks.concat());
    Sheet { readout: DIVISIONS, setup: CALIBRATED.to_owned(), record, ..Sheet::default() }
}

/// 6 and 5 div call for 6.02 g off at 40 deg and 5.01 g on at 100 deg, half a turn from 280 deg.
#[test]
fn a_slip_in_one_of_two_planes_is_named() {
    let code = "correction-in-the-wrong-sense";
    let job = |right: &str, left: &str| {
        record(&[
            run("a", "6.0 div @ 40 deg", "5.0 div @ 280 deg"),
            correction("one", "a", &["remove: 6.02 g", "angle: 40 deg"]),
            correction("two", "a", &["add: 5.01 g", "angle: 100 deg"]),
            run("b", left, right),
        ])
        .text()
    };
    silent(&job("0.5 div @ 280 deg", "0.5 div @ 40 deg"), code);
    // The mass put on in plane two went to the heavy spot: 5 div became 10.
    says(
        &job("10.0 div @ 280 deg", "0.5 div @ 40 deg"),
        code,
        "run \"b\" shows the correction in plane two half a turn off",
    );
    // Neither: a turn by a quarter has no name.
    silent(&job("5.0 div @ 10 deg", "0.5 div @ 40 deg"), code);
    // Both planes at once are told once.
    assert_eq!(said(&job("10.0 div @ 280 deg", "12.0 div @ 40 deg"), code).len(), 1);
}

const DRILLED: &str = "correct: remove
    method: drilling
    direction: radial
    surface diameter: 210 mm
    hole diameter: 10 mm
    point angle: 118 deg
    depth: up to 12 mm
    barred: 20 deg to 70 deg
    material: \"carbon steel\"";

const WASHERS: &str = "correct: add
    method: washers
    mass each: 0.50 g
    most per place: 3.0 g
    places: 12 from 0 deg
    places numbered: with rotation
    places used: 5
    barred: 85 deg to 95 deg";

/// The sheet whose planes are drilled and given washers, with one correction.
fn corrected(plane: &str, facts: &[&str]) -> String {
    let blocks = [
        run("a", "8.0 div @ 40 deg", "8.0 div @ 280 deg"),
        correction(plane, "a", facts),
        run("b", "0.2 div @ 40 deg", "0.2 div @ 280 deg"),
    ];
    Sheet { plane_one: DRILLED, plane_two: WASHERS, ..record(&blocks) }.text()
}

#[test]
fn stated_corrections_keep_off_what_is_barred() {
    let code = "correction-where-barred";
    says(
        &corrected("one", &["angle: 40 deg", "depth: 8.0 mm"]),
        code,
        "at 40 deg lies in the barred range 20 deg to 70 deg",
    );
    // A hole of 10 mm at a radius of 105 mm spans asin(5 ÷ 105) = 2.73 deg to either side. Plain geometry.
    says(&corrected("one", &["angle: 17.5 deg", "depth: 8.0 mm"]), code, "reaches 2.73 deg to either side");
    silent(&corrected("one", &["angle: 17.2 deg", "depth: 8.0 mm"]), code);
    // With 12 places from 0 deg the fourth is at 90 deg.
    says(&corrected("two", &["add place 4: 1.0 g"]), code, "place 4 of plane two is barred");
    says(&corrected("two", &["add place 5: 1.0 g"]), code, "place 5 of plane two is taken by something else");
    silent(&corrected("two", &["add place 3: 1.0 g"]), code);
}

#[test]
fn stated_corrections_keep_to_what_the_plane_takes() {
    let code = "correction-beyond-capacity";
    says(&corrected("one", &["angle: 90 deg", "depth: 14.0 mm"]), code, "is 14.0 mm deep, where 12.0 mm are allowed");
    silent(&corrected("one", &["angle: 90 deg", "depth: 12.0 mm"]), code);
    // One hole, 12 mm deep with its point: 7.85 mg/mm³ · (942.5 mm³ · 99 mm + 78.7 mm³ · 92.25 mm − π·5⁴ ÷ 8 mm⁴) = 787 g·mm.
    says(
        &corrected("one", &["angle: 90 deg", "remove: 9.0 g"]),
        code,
        "makes 900 g·mm, more than the 787 g·mm it takes",
    );
    silent(&corrected("one", &["angle: 90 deg", "remove: 7.8 g"]), code);
    says(
        &corrected("two", &["add place 3: 7.0 g"]),
        code,
        "place 3 of plane two is given 7.00 g, where one place takes 3.00 g",
    );
    silent(&corrected("two", &["add place 3: 3.0 g"]), code);
    says(
        &corrected("two", &["add place 13: 3.0 g"]),
        "place-not-there",
        "place 13 is corrected, but plane two has places 1 to 12",
    );
}

#[test]
fn depth_and_mass_of_a_correction_agree() {
    let code = "depth-and-mass-disagree";
    // 2 mm with the point: 7.85 mg/mm³ · (157 + 79 − π·5⁴ ÷ (8 · 105)) mm³ = 1.83 g. Plain geometry.
    let text = corrected("one", &["angle: 90 deg", "depth: 2.0 mm", "remove: 8.0 g"]);
    says(&text, code, "a hole 2.00 mm deep in plane one takes off 1.83 g, where 8.00 g are stated");
    silent(&corrected("one", &["angle: 90 deg", "depth: 2.0 mm", "remove: 1.9 g"]), code);
}

#[test]
fn corrections_stand_where_they_were_made() {
    let code = "correction-of-another-run";
    let correction = |after: &str| correction("one", after, &["remove: 1.0 g", "angle: 0 deg"]);
    let one = |name: &str, left: &str| run(name, left, "0.2 div @ 0 deg");
    let job = |blocks: &[String]| record(blocks).text();
    silent(&job(&[one("a", "1.0 div @ 0 deg"), correction("a"), one("b", "0.1 div @ 0 deg")]), code);
    let later = job(&[one("a", "1.0 div @ 0 deg"), correction("b"), one("b", "0.1 div @ 0 deg")]);
    says(&later, code, "said to follow run \"b\", which was made later");
    // Two runs of one state: the correction may answer either.
    let of_two =
        [one("a", "1.0 div @ 0 deg"), one("b", "1.0 div @ 0 deg"), correction("a"), one("c", "0.1 div @ 0 deg")];
    silent(&job(&of_two), code);
    let old = job(&[
        one("a", "5.0 div @ 0 deg"),
        correction("a"),
        one("b", "4.0 div @ 0 deg"),
        one("c", "4.0 div @ 0 deg"),
        correction("a"),
    ]);
    says(&old, code, "run \"a\", but the rotor was corrected and run again since, last in run \"c\"");
    // The second one is no part of the step from a to b, which went as it was meant: 1 g took 1 div off.
    silent(&old, "correction-in-the-wrong-sense");
}

#[test]
fn a_reading_beyond_the_scale_is_no_reading() {
    let code = "reading-off-scale";
    let readout = "shows: div\n    full scale: 60 div\n    angles: measured\n    angles count: with rotation";
    let job = |left: &str| Sheet { readout, ..record(&[run("a", left, "0.2 div @ 0 deg")]) }.text();
    silent(&job("60.0 div @ 0 deg"), code);
    says(
        &job("1e30 div @ 0 deg"),
        code,
        "warning: 1.00e30 div is read beyond the end of the readout's scale, 60.0 div",
    );
}

/// Ten times smaller in plane two, so that what goes wrong there is hardly seen in both planes together.
#[test]
fn a_slip_in_the_plane_with_less_to_correct_is_named_too() {
    let job = |right: &str| {
        record(&[
            run("a", "20.0 div @ 40 deg", "2.0 div @ 280 deg"),
            correction("one", "a", &["remove: 20.06 g", "angle: 40 deg"]),
            correction("two", "a", &["add: 2.01 g", "angle: 100 deg"]),
            run("b", "0.1 div @ 40 deg", right),
        ])
        .text()
    };
    silent(&job("0.1 div @ 280 deg"), "correction-in-the-wrong-sense");
    says(&job("4.0 div @ 280 deg"), "correction-in-the-wrong-sense", "the correction in plane two half a turn off");
}

#[test]
fn a_mass_without_effect_leaves_nothing_to_work_out() {
    let setup = [
        trial("start", None, &[("left", "10.0 µm @ 0 deg"), ("right", "12.0 µm @ 10 deg")]),
        trial("first", Some("one"), &[("left", "20.0 µm @ 0 deg"), ("right", "22.0 µm @ 10 deg")]),
        trial("second", Some("two"), &[("left", "10.0 µm @ 0 deg"), ("right", "12.0 µm @ 10 deg")]),
    ];
    let text = Sheet { setup: setup.concat(), ..Sheet::default() }.text();
    silent(&text, "planes-act-alike");
    says(&text, "trial-too-weak", "trial \"second\" changed the reading by 0 %");
}

#[test]
fn a_lacking_fact_is_named_once_for_both_planes() {
    let readout =
        "shows: div\n    angles: by strobe\n    strobe shows: clock place of mark\n    pointer seen from: drive end";
    let blocks = "  run a {\n    speed: 900 rpm\n    calibration masses: off\n    reading left: 0.2 div\n    shows left: 2:00\n    \
                  reading right: 0.2 div\n    shows right: 5:30\n  }\n";
    let text = Sheet { readout, ..record(&[blocks.to_owned()]) }.text();
    let text = text.replace("  zero angle", "  rotation: clockwise seen from drive end\n  zero angle");
    says(
        &text,
        "verdict-not-known",
        "nothing can be said of this rotor: `pointer at` of readout in machine \"bench\" is missing",
    );
    let with_pointer = text.replace("clock place of mark", "clock place of mark\n    pointer at: 12:00");
    silent(&with_pointer, "verdict-not-known");
}
