//! Balance errors that are stated, limits on channels, and records that show by themselves what their readings are worth.
//! Numbers by hand, no source but statics and the definitions.

use crate::support::books;
use rotorbook::book::{Book, Outcome, text_of};

/// One plane in the middle between bearings, a stated limit of its own, an end drive.
#[derive(Default)]
struct Sheet {
    shop: &'static str,
    machine: String,
    setup: String,
    runs: String,
}

impl Sheet {
    fn text(&self) -> String {
        let Self { shop, machine, setup, runs } = self;
        format!(
            r#"shop s {{
  format: 1
{shop}}}
machine bench {{
  supports: hard
  works: below resonance
  drive: end
  minimum achievable residual unbalance: 1 g·mm
  channels: left
  readout {{
    shows: unbalance
    unit: g·mm
    smallest step: 0.01 g·mm
    angles: measured
    angles count: with rotation
    angle step: 0.01 deg
  }}
{machine}}}
rotor part {{
  mass: 20 kg
  mass centre: 250 mm
  bearings: 0 mm, 500 mm
  angles count: with rotation
  plane one {{
    at: 250 mm
    radius: 100 mm
    correct: add
    method: welding
  }}
  tolerance {{
    planes: one
    one: 100 g·mm
    source: "drawing"
  }}
}}
setup sheet {{
  rotor: part
  machine: bench
  balancing speed: 900 rpm
  channel left: one
  indicates: heavy spot
{setup}}}
record job {{
  setup: sheet
{runs}}}
"#
        )
    }

    fn book(&self) -> Book {
        books::readable(&self.text())
    }

    fn result(&self, path: &str) -> Option<String> {
        let book = self.book();
        let results = books::results(&book);
        results.iter().find(|(found, _)| *found == path).map(|(_, entry)| text_of(&book, entry))
    }

    fn said(&self, path: &str) -> String {
        self.result(path).unwrap_or_else(|| panic!("no {path} of {}", self.text()))
    }

    /// A line of the budget in plane one, and what it amounts to in g·mm.
    fn line(&self, name: &str) -> (String, Option<f64>) {
        let book = self.book();
        let results = books::results(&book);
        let (_, entry) = results.iter().find(|(path, _)| path == "record job / budget one").unwrap();
        let Outcome::Table { heads, columns, rows } = &entry.outcome else { panic!("{:?}", entry.outcome) };
        let at = heads.iter().position(|head| *head.name == *name).unwrap_or_else(|| panic!("{name} of {heads:?}"));
        (heads[at].to_string(), rows[at][0].map(|base| columns[0].unit.from_base(base)))
    }
}

fn run(name: &str, more: &str, reading: &str) -> String {
    format!("  run {name} {{\n    speed: 900 rpm\n{more}    reading left: {reading}\n  }}\n")
}

fn error(name: &str, lines: &str) -> String {
    format!("  balance error \"{name}\" {{\n{lines}    source: \"index test, 2026-02-11\"\n  }}\n")
}

fn near(found: Option<f64>, expected: f64) {
    let found = found.unwrap_or(f64::NAN);
    assert!((found - expected).abs() < 0.005 * expected, "{found}, not {expected}");
}

#[test]
fn an_end_drive_that_is_stated_is_a_line_that_is_known() {
    let runs = run("final", "", "50.00 g·mm @ 0.00 deg");
    let unsaid = Sheet { runs: runs.clone(), ..Sheet::default() };
    assert!(unsaid.line("drive").0.starts_with("drive, not known"), "{:?}", unsaid.line("drive"));
    assert!(unsaid.said("record job / not assessed").contains("drive"));
    // 12 g·mm at any angle: 12 ÷ √2 twice is 17.0, and no more than 12 can come of it.
    let stated = Sheet { machine: error("end drive", "    amount: 12 g·mm\n"), runs, ..Sheet::default() };
    let (head, amount) = stated.line("drive");
    assert_eq!(head, "drive, as stated");
    near(amount, 12.0);
    assert!(!stated.said("record job / not assessed").contains("drive"));
}

#[test]
fn an_error_of_a_setup_acts_by_its_place_or_its_plane() {
    let of = |lines: &str| Sheet {
        setup: error("flange", lines),
        runs: run("final", "", "50.00 g·mm @ 0.00 deg"),
        ..Sheet::default()
    };
    // One plane has all of it, wherever it acts; 2 % of what is read there is 1 g·mm.
    near(of("    amount: 8 g·mm\n    at: -60 mm\n").line("flange").1, 8.0);
    near(of("    amount: 2 %\n    of: own reading\n").line("flange").1, 1.0);
    // A share of nothing is not known.
    let open = of("    amount: 2 %\n");
    assert!(open.line("flange").0.starts_with("flange, not known"), "{:?}", open.line("flange"));
    assert!(open.said("record job / not assessed").contains("flange"));
}

/// An error is of what it was found on: on the same machine it holds for a sheet that is like another.
#[test]
fn a_sheet_that_is_like_another_takes_its_errors_over_on_the_same_machine() {
    let sheet = Sheet {
        setup: error("flange", "    amount: 8 g·mm\n"),
        runs: run("final", "", "50.00 g·mm @ 0.00 deg"),
        ..Sheet::default()
    };
    let lines = |more: &str, machine: &str| {
        let text = sheet.text().replace("  setup: sheet\n", "  setup: other\n");
        let own =
            text[text.find("machine bench").unwrap()..text.find("rotor part").unwrap()].replace("bench", "annexe");
        let text = format!("{text}{own}setup other {{\n  like: sheet\n{machine}{more}}}\n");
        let book = books::readable(&text);
        let results = books::results(&book);
        let (_, entry) = results.iter().find(|(path, _)| path == "record job / budget one").unwrap();
        text_of(&book, entry)
    };
    let same = lines("", "");
    assert!(same.contains("flange, as stated: 8.00 g·mm"), "{same}");
    let own = lines(&error("flange", "    amount: 3 g·mm\n"), "");
    assert!(own.contains("flange, as stated: 3.00 g·mm"), "{own}");
    let other = lines("", "  machine: annexe\n");
    assert!(!other.contains("flange"), "{other}");
}

#[test]
fn a_vector_at_an_angle_is_taken_out_of_each_reading() {
    let sheet = Sheet {
        setup: error("flange", "    amount: 10.0 g·mm ± 1 g·mm @ 0 deg ± 0 deg\n"),
        runs: run("final", "", "50.00 g·mm @ 0.00 deg"),
        ..Sheet::default()
    };
    let measured = sheet.said("record job / measured one");
    assert!(measured.starts_with("40.0 "), "{measured}");
    // ± 1 g·mm as a bound: 1 ÷ √3, twice.
    near(sheet.line("flange").1, 2.0 / 3f64.sqrt());
}

#[test]
fn an_error_that_the_shop_asks_for_and_nobody_states_leaves_the_verdict_open() {
    let runs = run("final", "", "5.00 g·mm @ 0.00 deg");
    let shop = "  verdict needs: \"flange\"\n";
    let unsaid = Sheet { shop, runs: runs.clone(), ..Sheet::default() };
    assert_eq!(unsaid.said("record job / verdict"), "not shown");
    let stated = Sheet { shop, runs, setup: error("flange", "    amount: 1 g·mm\n"), ..Sheet::default() };
    assert_eq!(stated.said("record job / verdict"), "within as read");
}

/// Everything known but what a reading is worth: mountings repeated, the drive stated.
fn proving(correction: &str, after: [&str; 2]) -> Sheet {
    let runs = [
        run("found", "", "400.00 g·mm @ 0.00 deg"),
        correction.to_owned(),
        run("first", "", after[0]),
        run("second", "    remounted: yes\n", after[1]),
    ];
    Sheet { machine: error("end drive", "    amount: 1 g·mm\n"), runs: runs.concat(), ..Sheet::default() }
}

const PUT_ON: &str = "  correction one {\n    add: 4.000 g\n    angle: 180.00 deg\n    radius: 100.0 mm\n  }\n";

#[test]
fn a_correction_and_the_run_after_it_show_what_readings_are_worth() {
    let after = ["3.00 g·mm @ 0.00 deg", "3.10 g·mm @ 20.00 deg"];
    let shown = proving(PUT_ON, after);
    // 400 g·mm less 400 g·mm leave 3 g·mm of 400, and a radius to half a tenth of a millimetre adds 0.23 g·mm: of 3 g·mm
    // that is nothing.
    let (head, amount) = shown.line("calibration");
    assert_eq!(head, "calibration, by measurement");
    assert!(amount.is_some_and(|amount| amount < 0.04), "{amount:?}");
    assert_eq!(shown.said("record job / verdict"), "within");
    // Masses that nobody states show nothing.
    let as_called_for = proving("  correction one {\n  }\n", after);
    assert_eq!(as_called_for.said("record job / not assessed"), "calibration");
    assert_eq!(as_called_for.said("record job / verdict"), "within as read");
}

#[test]
fn a_correction_that_did_not_do_what_it_must_shows_how_wrong_readings_are() {
    // 40 g·mm are left where nothing should be, and radius (0.23), mass (0.06) and angles (0.04, 0.04) make that known to
    // 0.245 g·mm: of 400 g·mm 10.06 %, and that of the 40.05 g·mm that are judged.
    let shown = proving(PUT_ON, ["40.00 g·mm @ 0.00 deg", "40.10 g·mm @ 0.10 deg"]);
    near(shown.line("calibration").1, 4.03);
}

/// A fan in its own bearings: what it is allowed to shake, and what it does.
fn in_place(record: &str) -> Fan {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/sheets/in-place.rotor");
    let text = std::fs::read_to_string(path).unwrap();
    let limits = "  vibration limit \"drive side\": 2.8 mm/s\n  vibration limit \"fan side\": 2.8 mm/s\n";
    let text = text.replace("  balancing speed: 1480 rpm\n", &format!("  balancing speed: 1480 rpm\n{limits}"));
    Fan(format!("{text}\nrecord job {{\n  setup: \"hall fan 2 in place\"\n{record}}}\n"))
}

struct Fan(String);

impl Fan {
    fn result(&self, path: &str) -> Option<String> {
        let book = books::readable(&self.0);
        let results = books::results(&book);
        let path = format!("record job / {path}");
        results.iter().find(|(found, _)| *found == path).map(|(_, entry)| text_of(&book, entry))
    }

    fn said(&self, path: &str) -> String {
        self.result(path).unwrap_or_else(|| panic!("no {path}"))
    }
}

fn fan_run(name: &str, drive: &str, fan: &str) -> String {
    let reading = |channel: &str, read: &str| format!("    reading \"{channel}\": {read}\n");
    format!("  run {name} {{\n    speed: 1480 rpm\n{}{}  }}\n", reading("drive side", drive), reading("fan side", fan))
}

const LIMITS: &str = "  as run {
    limit on \"drive side\": 2.8 mm/s
    limit on \"fan side\": 2.8 mm/s
  }\n";

#[test]
fn each_channel_is_judged_by_its_own_limit() {
    let good = fan_run("good", "1.2 mm/s @ 200 deg", "1.9 mm/s @ 185 deg");
    let sheet = in_place(&(LIMITS.to_owned() + &good));
    assert!(sheet.said("measured drive side").starts_with("1.2"), "{}", sheet.said("measured drive side"));
    // Half a step of 0.1 mm/s to either side: 0.05 ÷ √3, twice.
    assert!(sheet.said("uncertainty fan side").starts_with("0.0577"), "{}", sheet.said("uncertainty fan side"));
    // One run, and nothing is said of the channels: as read.
    assert_eq!(sheet.said("verdict at drive side"), "within as read");
    assert_eq!(sheet.said("verdict"), "within as read");
    let near = in_place(&(LIMITS.to_owned() + &fan_run("near", "1.2 mm/s @ 200 deg", "2.8 mm/s @ 185 deg")));
    assert_eq!(near.said("verdict at fan side"), "not shown");
    let over = in_place(&(LIMITS.to_owned() + &fan_run("over", "1.2 mm/s @ 200 deg", "2.9 mm/s @ 185 deg")));
    assert_eq!(over.said("verdict at fan side"), "over as read");
    assert_eq!(over.said("verdict"), "over as read");
}

#[test]
fn the_largest_of_the_runs_is_judged_where_a_channel_has_a_limit() {
    let twice = |a: &str, b: &str| fan_run("a", a, "1.0 mm/s @ 0 deg") + &fan_run("b", b, "1.0 mm/s @ 0 deg");
    let with = in_place(&(LIMITS.to_owned() + &twice("1.2 mm/s @ 200 deg", "1.6 mm/s @ 200 deg")));
    assert!(with.said("measured drive side").starts_with("1.6"), "{}", with.said("measured drive side"));
    let without = in_place(&(LIMITS.to_owned() + &twice("1.2 mm/s", "1.6 mm/s")));
    assert!(without.said("measured drive side").starts_with("1.6"), "{}", without.said("measured drive side"));
}

#[test]
fn limits_on_channels_are_those_of_the_day() {
    let good = fan_run("good", "1.2 mm/s @ 200 deg", "1.9 mm/s @ 185 deg");
    let tighter = LIMITS.replace("2.8 mm/s", "1.0 mm/s");
    assert_eq!(in_place(&(tighter + &good)).said("verdict"), "over as read");
    // By the sheet of today the grade is judged as well: the rotor has it.
    let today = in_place(&good);
    assert_eq!(today.said("verdict at fan side"), "within as read");
    assert!(today.result("measured backplate").is_some());
    // A channel that nobody read is not shown.
    let unread = in_place(
        &(LIMITS.to_owned() + "  run one {\n    speed: 1480 rpm\n    reading \"fan side\": 1.0 mm/s @ 0 deg\n  }\n"),
    );
    assert_eq!(unread.said("verdict"), "not shown");
}
