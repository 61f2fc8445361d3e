//! What cards and certificates say of what was done: over all records of the work, on an arbor, and of what is not worth doing.

use crate::support::cli::Folder;

pub const BOOK: (&str, &str) = ("book.rotor", "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n");

fn said(folder: &Folder, arguments: &[&str]) -> String {
    folder.run_with(arguments).stdout().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A rotor with one plane, read as it is, with these lines in plane and setup, and records.
pub fn shop(plane: &str, setup: &str, more: &str) -> Folder {
    Folder::with(&[BOOK, ("sheets.rotor", &sheets(plane, setup, more))])
}

/// The sheets of that shop.
pub fn sheets(plane: &str, setup: &str, more: &str) -> String {
    format!(
        r#"machine bench {{
  supports: hard
  channels: left
  readout {{
    shows: unbalance
    unit: g·mm
    angles: measured
    angles count: with rotation
    smallest step: 1 g·mm
  }}
}}

material "carbon steel bar" {{
  density: 7850 kg/m³
}}

arbor stub {{
  mass: 1.20 kg
}}

rotor part {{
  mass: 10 kg
  mass centre: 100 mm
  bearings: 0 mm, 200 mm
  highest service speed: 3000 rpm
  highest safe speed: 3400 rpm
  angles count: with rotation
  rotation: clockwise seen from drive end

  plane rim {{
    at: 100 mm
{plane}  }}

  tolerance {{
    planes: one
    rim: 50 g·mm
    source: "drawing"
  }}
}}

setup sheet {{
  rotor: part
  machine: bench
{setup}  balancing speed: 900 rpm
  channel left: rim
  indicates: heavy spot
}}
{more}"#
    )
}

const CLIPS: &str = "    radius: 100 mm\n    correct: add\n    method: clamping\n    places: 8 from 0 deg\n    \
                     places numbered: with rotation\n    most per place: 5 g\n";

fn record(name: &str, facts: &str, blocks: &str) -> String {
    format!("\nrecord {name} {{\n  setup: sheet\n  date: 2026-08-03\n{facts}\n{blocks}}}\n")
}

fn run(name: &str, facts: &str, reading: &str) -> String {
    format!("  run {name} {{\n    speed: 900 rpm\n{facts}    reading left: {reading}\n  }}\n")
}

#[test]
fn a_certificate_is_over_all_records_of_the_work() {
    let first = run("\"as found\"", "", "500 g·mm @ 180 deg") + "  correction rim {\n    add place 1: 5.00 g\n  }\n";
    let records =
        record("first", "", &first) + &record("next", "  continues: first\n", &run("again", "", "9 g·mm @ 20 deg"));
    let folder = shop(CLIPS, "", &records);
    let certificate = said(&folder, &["certificate", "next"]);
    for words in [
        "as found, on 2026-08-03 900 rpm 500 g·mm at 180 deg",
        "as left, again 900 rpm 9 g·mm at 20 deg",
        "5.00 g at place 1",
    ] {
        assert!(certificate.contains(words), "{words}: {certificate}");
    }
    let alone = said(&folder, &["certificate", "first"]);
    assert!(alone.contains("as found 900 rpm 500 g·mm at 180 deg") && !alone.contains("as found, as found"), "{alone}");
    let card = said(&folder, &["card", "next"]);
    assert!(card.contains("Goes on with first") && !card.contains("Calibration masses"), "{card}");
}

/// A rotor of 900 g·mm at 40 deg on an arbor of 350 at 100 reads 1117 at 56 deg, and 786 at 17 deg half a turn on, in its own angles:
/// half their sum is the rotor, 899 by readings in whole g·mm. Vector sums. Against 50 g·mm it is 18 times its tolerance; what is read alone would be 22.
#[test]
fn on_an_arbor_the_rotor_alone_is_judged() {
    let turned = |angle: &str| format!("    turned on arbor by: {angle}\n    angles from: rotor\n");
    let runs = run("\"as found\"", &turned("0 deg"), "1117 g·mm @ 56 deg")
        + &run("turned", &(turned("180 deg") + "    remounted: yes\n"), "786 g·mm @ 17 deg");
    let folder = shop(CLIPS, "  arbor: stub\n", &record("job", "", &runs));
    let card = said(&folder, &["card", "job"]);
    assert!(card.contains("times its tolerance 1 1117 g·mm at 56 deg 899 g·mm at 40 deg 18 2"), "{card}");
    assert!(!card.contains("22.3"), "{card}");
    let run_card = said(&folder, &["card", "sheet", "--run"]);
    for words in ["PUT ON OPPOSITE half the vector sum", "half the vector sum of the final two", "Half sum good at"] {
        assert!(run_card.contains(words), "{words}: {run_card}");
    }
    assert!(!run_card.contains("what is read"), "{run_card}");
}

/// A hole of 14 mm, h deep from a surface of 95 mm, is 18 mm from its neighbour at the bottom: 2·asin(9/(95 − h)),
/// up to the next whole degree. Geometry.
#[test]
fn holes_side_by_side_have_their_angle() {
    let holes = "    correct: remove\n    method: drilling\n    surface diameter: 190 mm\n    hole diameter: 14 mm\n    \
                 depth: up to 25 mm\n    holes at most: 3\n    hole spacing at least: 18 mm\n    material: \"carbon steel bar\"\n";
    let folder = shop(holes, "", "");
    folder.write("sheets.rotor", folder.read("sheets.rotor").replace("rim: 50 g·mm", "rim: 500 g·mm").as_bytes());
    let card = said(&folder, &["card", "sheet", "--run"]);
    assert!(!card.contains("18 mm apart"), "{card}");
    let (_, table) = card.split_once("apart deg").unwrap_or_else(|| panic!("no angles: {card}"));
    let words: Vec<&str> = table.split_whitespace().collect();
    let at = words.windows(4).position(|words| words[1] == "×").unwrap_or_else(|| panic!("no holes: {table}"));
    let number = |at: usize| words[at].parse::<f64>().unwrap_or_else(|_| panic!("{:?}", &words[at..]));
    let (depth, apart) = (number(at + 2), number(at + 3));
    let by_hand = (2.0 * (9.0 / (95.0 - depth)).asin().to_degrees()).ceil();
    assert!((apart - by_hand).abs() < 0.1, "{apart} is not {by_hand} at {depth} mm");
}
