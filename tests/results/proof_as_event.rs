//! Calibration as an event with a date: what a division means, and by what a record is judged.
//!
//! Numbers by hand, no source but the definition: a division is m · r by the reading that was set with it on.

use std::path::Path;
use std::sync::Arc;

use crate::support::books;
use rotorbook::book::{Book, SourceFile, text_of};
use rotorbook::check;

fn read(path: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

/// A result by its path, as people read it.
pub fn said(text: &str, path: &str) -> String {
    said_in(&books::book(text), path)
}

fn said_in(book: &Book, path: &str) -> String {
    let results = books::results(book);
    let found = results.iter().find(|(found, _)| found == path).map(|(_, entry)| text_of(book, entry));
    found.unwrap_or_else(|| panic!("no {path} among {:#?}", results.iter().map(|(p, _)| p).collect::<Vec<_>>()))
}

/// What is said under one code.
pub fn told(text: &str, code: &str) -> Vec<String> {
    let found = check::check(&books::book(text)).into_iter().filter(|one| one.rule.code == code);
    found.map(|one| one.message).collect()
}

/// Two planes on two bearings, a quarter of the way in: each plane acts on the nearer bearing with three quarters. Each
/// calibrated with 10 g at 100 mm, which is 1000 g·mm, on a readout of hundredths of a division.
pub struct Sheet {
    pub total: &'static str,
    pub machine: String,
    pub setup: String,
    pub record: String,
}

impl Default for Sheet {
    fn default() -> Self {
        Self {
            total: "200 g·mm",
            machine: String::new(),
            setup: proof("2026-03-02", "10.00 div"),
            record: "  proof: \"2026-03-02\"\n".to_owned(),
        }
    }
}

/// A proof with the limits that a total of 200 g·mm gives each bearing and plane.
pub fn proof(day: &str, set: &str) -> String {
    format!(
        "  proof \"{day}\" {{
    date: {day}
    calibration reading p1: {set}
    calibration reading p2: {set}

    proven with {{
      balancing speed: 1000 rpm
      plane p1: 50 mm
      plane p2: 150 mm
      calibration mass p1: 10.000 g
      calibration mass p2: 10.000 g
      limit at bearing a: 100 g·mm
      limit at bearing b: 100 g·mm
      limit in p1: 100 g·mm
      limit in p2: 100 g·mm
    }}
  }}\n"
    )
}

impl Sheet {
    pub fn text(&self) -> String {
        let Self { total, machine, setup, record } = self;
        let plane = |name: &str, at: u32| {
            format!("  plane {name} {{\n    at: {at} mm\n    radius: 100 mm\n    correct: remove\n  }}\n")
        };
        let calibrate = |name: &str| {
            format!(
                "  calibrate {name} {{\n    mass: 10.000 g\n    radius: 100.000 mm\n    angle: 0 deg\n    taken as: \
                 vector difference\n  }}\n"
            )
        };
        format!(
            "machine bench {{
  supports: soft
  works: above resonance
{machine}  channels: left, right
  readout {{
    shows: div
    smallest step: 0.01 div
    angles: measured
    angles count: with rotation
    angle step: 0.1 deg
    scale coarse {{
      one mark is: 1 div
      marks: 12
      smallest step: 1 mark
    }}
  }}
}}
rotor part {{
  mass: 10 kg
  mass centre: 100 mm
  bearings: 0 mm, 200 mm
  angles count: with rotation
{}{}  tolerance {{
    total: {total}
    source: \"drawing\"
  }}
}}
setup sheet {{
  rotor: part
  machine: bench
  balancing speed: 1000 rpm
  channel left: p1
  channel right: p2
  indicates: heavy spot
  tolerance reads: 1 div
{}{}{setup}}}
record job {{
  setup: sheet
{record}  date: 2026-04-21
  run last {{
    speed: 1000 rpm
    calibration masses: off
    reading left: 0.90 div @ 0 deg
    reading right: 0.90 div @ 0 deg
  }}
}}
",
            plane("p1", 50),
            plane("p2", 150),
            calibrate("p1"),
            calibrate("p2"),
        )
    }

    fn said(&self, path: &str) -> String {
        said(&self.text(), path)
    }
}

// 98.0 g·mm ÷ (22.5 × 0.5 div) = 8.711 g·mm, and 14.0 mark are 7 div of it: 60.98 g·mm.
#[test]
fn a_division_is_what_was_set() {
    let text = read("tests/data/event/library.rotor") + &read("tests/data/event/coupling-half.rotor");
    let setup = "setup coupling half 41 on the soft bench / calibrate flange";
    assert!(said(&text, &format!("{setup} / one division")).starts_with("8.71 g·mm"));
    assert!(said(&text, &format!("{setup} / reading")).starts_with("11.25 div"), "the reading is what was set");
    let text = text.replace("  tolerance reads: 1 div", "  indicates: heavy spot\n  tolerance reads: 1 div");
    let run = said(&text, "record coupling half 41, 118 / run as found / unbalance flange");
    assert!(run.starts_with("61.0 g·mm") && run.contains("@ 310"), "{run}");
}

// 1000 g·mm ÷ 10.00 div. In a tenth of the tolerance the same needle is at the same place.
#[test]
fn a_later_tolerance_moves_no_division() {
    let tight = Sheet { total: "20 g·mm", record: String::new(), ..Sheet::default() };
    assert!(tight.said("setup sheet / calibrate p1 / one division").starts_with("100.0"));
    assert!(tight.said("setup sheet / calibrate p1 / reading at tolerance").starts_with("0.10"));
    assert!(tight.said("record job / measured bearing a").starts_with("90.0"));
    assert_eq!(tight.said("record job / verdict"), "over as read");
    let moved = told(&tight.text(), "tolerance-off-its-mark");
    assert!(moved[0].contains("plane p1 no longer reads what the sheet says: 10.0 g·mm reads 0.100 div"), "{moved:?}");
    // Without a proof, a stated reading says what was set, and else nothing does.
    let stated = |reading: &str| {
        let text = Sheet { total: "20 g·mm", setup: String::new(), record: String::new(), ..Sheet::default() }.text();
        text.replace("    taken as: ", &format!("{reading}    taken as: "))
    };
    let division = |reading: &str| said(&stated(reading), "setup sheet / calibrate p1 / one division");
    assert!(division("    reading: 10.00 div\n").starts_with("100.0"), "{}", division("    reading: 10.00 div\n"));
    assert!(division("").starts_with("10.0"), "{}", division(""));
}

// On a scale of whole divisions 5 marks are known to ± 0.5: 2 · 0.5 ÷ √3 ÷ 5 = 11.5 % (k = 2). 1000 ÷ 5 = 200 g·mm.
#[test]
fn a_dial_that_is_set_on_a_coarse_scale_is_known_as_well_as_that() {
    let sheet = Sheet { setup: proof("2026-03-02", "5 mark on coarse"), ..Sheet::default() };
    let division = sheet.said("setup sheet / calibrate p1 / one division");
    assert_eq!(division, "200 g·mm ± 23 g·mm");
    let measured = sheet.said("record job / run last / unbalance p1");
    assert!(measured.starts_with("180 g·mm ± 21 g·mm"), "{measured}");
}

#[test]
fn a_bound_record_is_judged_by_the_day_of_its_proof() {
    let measured = |sheet: &Sheet| (sheet.said("record job / measured bearing a"), sheet.said("record job / verdict"));
    let bound = Sheet::default();
    let as_it_was = measured(&bound);
    assert!(as_it_was.0.starts_with("90.0"), "{as_it_was:?}");
    // Nothing is known of mountings and arbor.
    assert_eq!(as_it_was.1, "within as read");
    assert_eq!(bound.said("record job / judged by"), "proof \"2026-03-02\"");
    // The binding line taken out changes nothing while the sheet is the same.
    let free = Sheet { record: String::new(), ..Sheet::default() };
    assert_eq!(measured(&free), as_it_was);
    assert_eq!(free.said("record job / judged by"), "the sheet of today");
    // A later tolerance, service, speed, place or mass changes neither amount nor word.
    let tight = Sheet { total: "20 g·mm", ..Sheet::default() };
    assert_eq!(measured(&tight), as_it_was);
    let would = told(&tight.text(), "limit-changed-since");
    assert_eq!(
        would[0],
        "bearing a: within as read by the limit of that day, 100 g·mm; by today's limit of 10.0 g·mm it would be over as read"
    );
    let serviced = Sheet { machine: "  serviced: 2026-06-01\n".to_owned(), ..Sheet::default() };
    assert_eq!(measured(&serviced), as_it_was);
    for (was, is) in [
        ("  balancing speed: 1000 rpm\n  channel", "  balancing speed: 700 rpm\n  channel"),
        ("    at: 50 mm", "    at: 80 mm"),
        ("    mass: 10.000 g\n    radius", "    mass: 5.000 g\n    radius"),
    ] {
        let text = bound.text();
        assert!(text.contains(was), "{was}");
        let text = text.replace(was, is);
        let now = (said(&text, "record job / measured bearing a"), said(&text, "record job / verdict"));
        assert_eq!(now, as_it_was, "{is}");
    }
}

// 1000 g·mm ÷ 12.50 div = 80 g·mm: 0.90 div are 72 g·mm by the later proof, 90 g·mm by the older one.
#[test]
fn each_record_has_its_own_proof_and_the_sheet_the_latest() {
    let setup = proof("2026-05-02", "12.50 div") + &proof("2026-03-02", "10.00 div");
    let older = Sheet { setup: setup.clone(), ..Sheet::default() };
    assert!(older.said("record job / measured bearing a").starts_with("90.0"));
    assert!(older.said("setup sheet / calibrate p1 / one division").starts_with("80.0"), "the latest, not the last");
    let text =
        older.text().replace("2026-04-21", "2026-05-21").replace("proof: \"2026-03-02\"", "proof: \"2026-05-02\"");
    assert!(said(&text, "record job / measured bearing a").starts_with("72.0"));
}

#[test]
fn days_are_held_against_each_other() {
    let serviced = Sheet { machine: "  serviced: 2026-04-01\n  serviced: 2025-01-01\n".to_owned(), ..Sheet::default() };
    let after = told(&serviced.text(), "record-after-service");
    assert_eq!(after, ["it was run after the machine was serviced on 2026-04-01, by a proof of 2026-03-02"]);
    assert_eq!(serviced.said("record job / verdict"), "not shown");
    let early = Sheet::default().text().replace("date: 2026-04-21", "date: 2026-03-01");
    assert_eq!(told(&early, "record-before-proof"), ["it was run before its setup was proven on 2026-03-02"]);
    // On one day the proof comes first.
    let same_day = Sheet::default().text().replace("date: 2026-04-21", "date: 2026-03-02");
    assert!(told(&same_day, "record-before-proof").is_empty());
    let that_day = Sheet { machine: "  serviced: 2026-03-02\n".to_owned(), ..Sheet::default() };
    assert_eq!(told(&that_day.text(), "service-on-the-day-of-proof").len(), 1);
    assert!(told(&that_day.text(), "record-after-service").is_empty());
}

// 1 g·mm reads 0.01 div: 0.90 div are 90 g·mm, whatever the calibration of today says.
#[test]
fn a_record_without_a_proof_keeps_what_it_was_run_by() {
    let kept = "  as run {
    limit at bearing a: 100 g·mm
    limit at bearing b: 100 g·mm
    influence left {
      speed: 1000 rpm
      per: 1 g·mm
      p1: 0.01 div ± 2 % (k=2) @ 0 deg
    }
    influence right {
      speed: 1000 rpm
      per: 1 g·mm
      p2: 0.01 div ± 2 % (k=2) @ 0 deg
    }
  }
";
    let sheet = Sheet { total: "20 g·mm", setup: String::new(), record: kept.to_owned(), ..Sheet::default() };
    assert_eq!(sheet.said("record job / judged by"), "as run");
    let measured = sheet.said("record job / run last / unbalance p1");
    // ± 2 % of 90 and half a step of 0.01 div, which is 0.5 ÷ √3 · 2 = 0.58 g·mm: 1.89 g·mm.
    assert!(measured.starts_with("90.0 g·mm ± 1.9 g·mm"), "{measured}");
    assert_eq!(sheet.said("record job / verdict"), "within as read");
    let turned = sheet.text().replace("(k=2) @ 0 deg", "(k=2) @ 40 deg");
    let measured = said(&turned, "record job / run last / unbalance p1");
    assert!(measured.contains("@ 320"), "the reading stands 40 deg ahead: {measured}");
}

/// The fix of an unbound record binds it, and changes nothing else.
#[test]
fn the_fix_writes_the_binding_line() {
    let text = Sheet { record: String::new(), ..Sheet::default() }.text();
    let book = books::book(&text);
    let found = check::check(&book).into_iter().find(|one| one.rule.code == "record-not-bound").unwrap();
    let edits: Vec<_> = found.fixes[0].edits.iter().map(|edit| edit.edit.clone()).collect();
    let bound = rotorbook::text::apply(&text, &edits).unwrap();
    // The sheet was never released, which its record keeps.
    let of_a_draft = bound.replacen("  sheet status: draft\n", "", 1);
    assert!(of_a_draft.len() < bound.len(), "{bound}");
    assert_eq!(of_a_draft, Sheet::default().text());
    // A record older than the proof is not bound to it.
    let early = text.replace("date: 2026-04-21", "date: 2026-03-01");
    let found = check::check(&books::book(&early)).into_iter().find(|one| one.rule.code == "record-not-bound").unwrap();
    assert!(found.fixes.is_empty());
}

// 3.00 g × 141.0 mm = 423 g·mm, set to 24.2 mark × 0.5 div = 12.1 div at first and to 24.3 mark after the move: 34.96 and
// 34.81 g·mm a division. 402.6 g·mm ÷ 8.60 div = 46.81 g·mm. 24.0 mark = 12.0 div of 423 ÷ 34.81 = 12.15: −1.2 %.
#[test]
fn a_sheet_with_two_proofs_serves_the_records_of_both() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let mut files = vec![Arc::new(SourceFile::read("sheet.rotor", read("tests/data/event/soft-bench.rotor")))];
    for path in ["book", "masses", "materials", "machines/soft-bench", "rotors/fan-wheel-315"] {
        let text = std::fs::read_to_string(folder.join(format!("{path}.rotor"))).unwrap();
        files.push(Arc::new(SourceFile::read(format!("{path}.rotor"), text)));
    }
    let book = Book::new(files);
    for (_, file) in book.files() {
        assert!(file.errors.is_empty(), "{:?}", file.errors);
        assert!(file.sheet.problems.is_empty(), "{:?}", file.sheet.problems);
    }
    let (first, rework) = ("record fan wheel 315, 26-0419", "record fan wheel 315, 26-0419, rework");
    assert_eq!(said_in(&book, &format!("{first} / judged by")), "proof \"2026-04-14\"");
    assert_eq!(said_in(&book, &format!("{rework} / judged by")), "proof \"after the move\"");
    // 0.1 div of 46.81 and 0.2 div of 34.96 g·mm.
    assert!(said_in(&book, &format!("{first} / run corrected / unbalance hub")).starts_with("4.7"));
    assert!(said_in(&book, &format!("{first} / run corrected / unbalance rim")).starts_with("7.0"));
    // 1.9 div of 34.81 g·mm.
    let came_back = said_in(&book, &format!("{rework} / run as it came back / unbalance rim"));
    assert!(came_back.starts_with("66.1"), "{came_back}");
    let setup = "setup fan wheel 315 on the soft bench";
    assert!(said_in(&book, &format!("{setup} / calibrate rim / one division")).starts_with("34.8"));
    let drift = said_in(&book, &format!("{setup} / check mass / drift"));
    assert!(drift.starts_with("-1.23 %"), "{drift}");
}

/// A proof with limits on the sum of the planes and on their moment, on a rotor that is allowed more today.
fn with_static_and_couple(kept: &str, today: &str) -> String {
    let text = Sheet {
        setup: proof("2026-03-02", "10.00 div").replace("      limit at bearing a: 100 g·mm\n", kept),
        ..Sheet::default()
    }
    .text();
    assert!(text.contains("total: 200 g·mm\n"));
    let text = text.replace("left: 0.90 div @ 0 deg", "left: 0.50 div @ 0.0 deg");
    let text = text.replace("right: 0.90 div @ 0 deg", "right: 0.20 div @ 0.0 deg");
    text.replace("total: 200 g·mm\n", &format!("total: 200 g·mm\n{today}"))
}

// By hand: 0.5 and 0.2 division of 100 g·mm at one angle are 70 g·mm together; about the middle, 50 mm from each plane,
// 50 · 50 less 20 · 50 are 1500 g·mm².
#[test]
fn static_and_couple_limits_are_those_of_the_proof() {
    let today = "    static: 200 g·mm\n    couple: 9000 g·mm²\n";
    let kept = |of_static: &str, couple: &str| {
        let bearing = "      limit at bearing a: 100 g·mm\n";
        format!("{bearing}      limit static: {of_static}\n      limit couple: {couple}\n")
    };
    let verdicts = |text: &str| ["static", "couple"].map(|of| said(text, &format!("record job / verdict at {of}")));
    let wide = with_static_and_couple(&kept("200 g·mm", "9000 g·mm²"), today);
    assert_eq!(verdicts(&wide), ["within as read", "within as read"]);
    assert!(said(&wide, "record job / measured couple").starts_with("1500 g·mm²"));
    let of_static = with_static_and_couple(&kept("50 g·mm", "9000 g·mm²"), today);
    assert_eq!(verdicts(&of_static), ["over as read", "within as read"]);
    let of_couple = with_static_and_couple(&kept("200 g·mm", "1000 g·mm²"), today);
    assert_eq!(verdicts(&of_couple), ["within as read", "over as read"]);
    // What is stated only today judges nothing of that day.
    let later = with_static_and_couple("      limit at bearing a: 100 g·mm\n", "    static: 20 g·mm\n");
    assert!(books::results(&books::book(&later)).iter().all(|(path, _)| path != "record job / verdict at static"));
}

// By hand: a plane at 50 of 200 mm acts on the first bearing with three quarters, at 50 of 100 mm with a half.
#[test]
fn bearings_and_radii_of_corrections_are_those_of_the_proof() {
    let of = |kept: &str, bearings: &str| {
        let text = with_static_and_couple(&format!("      limit at bearing a: 100 g·mm\n{kept}"), "");
        // Of the rotor; the proof follows it.
        let text = text.replacen("bearings: 0 mm, 200 mm", bearings, 1);
        said(&text, "record job / measured bearing a")
    };
    // 50 · 0.75 and 20 · 0.25.
    let proven = of("      bearings: 0 mm, 200 mm\n", "bearings: 0 mm, 100 mm");
    assert!(proven.starts_with("42.50 g·mm"), "{proven}");
    // 50 · 0.5 less 20 · 0.5: the second plane is outside.
    let today = of("", "bearings: 0 mm, 100 mm");
    assert!(today.starts_with("15.00 g·mm"), "{today}");
}
