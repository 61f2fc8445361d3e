//! A static stand: a rotor rolls until its heavy spot is below, and masses tell how much that is.

use crate::support::books;
use rotorbook::book::{Book, Outcome, text_of};

fn stand(record: &str) -> Book {
    let text = format!(
        r#"machine edges {{
  supports: knife edges
  rotor mass: 1 kg to 80 kg
}}
rotor wheel {{
  mass: 46 kg
  mass centre: 0 mm
  datum: "middle of the rim"
  highest service speed: 900 rpm
  zero angle: "keyway"
  angles count: with rotation
  rotation: clockwise seen from drive end
  plane rim {{
    at: 0 mm
    radius: 230 mm
    correct: add
    method: welding
  }}
  tolerance {{
    planes: one
    rim: 3.1 kg·mm
    source: "drawing"
  }}
}}
setup sheet {{
  rotor: wheel
  machine: edges
  status: draft
}}
record job {{
  setup: sheet
{record}
}}
"#
    );
    books::readable(&text)
}

fn outcome(book: &Book, path: &str) -> Outcome {
    let results = books::results(book);
    let paths: Vec<&String> = results.iter().map(|(path, _)| path).collect();
    let found = results.iter().find(|(found, _)| found == path).unwrap_or_else(|| panic!("no {path} in {paths:#?}"));
    found.1.outcome.clone()
}

const FOUND: &str = "  run \"found\" {
    heavy spot: 312 deg
    balanced by rim: 46 g
  }
";

/// 46 g at 230 mm hold the rotor whose heavy spot is at 312 deg: 10.58 kg·mm there, and 46 g opposite, at 132, correct it.
#[test]
fn the_mass_that_holds_the_rotor_is_what_it_lacks() {
    let book = stand(FOUND);
    let Outcome::Vector { base, angle, .. } = outcome(&book, "record job / run found / unbalance rim") else {
        panic!("no vector")
    };
    assert!((base * 1e6 - 10_580.0).abs() < 1e-6 && (angle.to_degrees() - 312.0).abs() < 1e-9, "{base} {angle}");
    let Outcome::Vector { base, angle, .. } = outcome(&book, "record job / run found / correction rim") else {
        panic!("no correction")
    };
    assert!((base * 1e3 - 46.0).abs() < 1e-9 && (angle.to_degrees() - 132.0).abs() < 1e-9, "{base} {angle}");
    // No speed is asked for on a stand.
    let found = rotorbook::check::check(&book);
    assert!(found.iter().all(|one| one.rule.code != "missing-fact"), "{found:#?}");
}

/// Where it rests anywhere and 3 g set it rolling, what is left is nothing, known to 3 g · 230 mm = 690 g·mm as a bound of any
/// direction: 690 ÷ √2 standard. Without the 3 g nothing is known.
#[test]
fn resting_anywhere_is_known_no_better_than_what_starts_it() {
    let rests = |more: &str| {
        format!(
            "{FOUND}  correction rim {{\n    add: 46 g\n    angle: 132 deg\n  }}\n  run then {{\n    rests anywhere: yes\n{more}  }}\n"
        )
    };
    let book = stand(&rests("    starts with rim: 3 g\n"));
    let Outcome::Amount { base, standard, .. } = outcome(&book, "record job / run then / unbalance rim") else {
        panic!("no amount")
    };
    assert!(base == 0.0 && (standard * 1e6 - 690.0 / 2_f64.sqrt()).abs() < 0.1, "{base} {standard}");
    let without = stand(&rests(""));
    assert!(matches!(outcome(&without, "record job / run then / unbalance rim"), Outcome::Missing(_)));
    let results = books::results(&book);
    let (_, verdict) = results.iter().find(|(path, _)| path == "record job / verdict").unwrap();
    assert!(text_of(&book, verdict).starts_with("within"), "{}", text_of(&book, verdict));
    // Neither a drive nor a speed can put wrong what gravity tells.
    let (_, left) = results.iter().find(|(path, _)| path == "record job / not assessed").unwrap();
    let left = text_of(&book, left);
    assert!(!left.contains("drive") && !left.contains("speed"), "{left}");
}

/// Of two planes a stand tells the sum: 0.30 g at 80 mm hold the rotor, 24 g·mm, known to 0.05 g · 80 mm = 4 g·mm as a bound of
/// any direction. A static limit of 60 g·mm is judged by it; what is in each plane, or at a bearing, it does not tell.
#[test]
fn a_stand_tells_what_two_planes_have_together() {
    let judged = |limit: &str, run: &str| {
        let text = format!(
            r#"machine edges {{
  supports: knife edges
}}
rotor roll {{
  mass: 20 kg
  mass centre: 200 mm
  bearings: 0 mm, 400 mm
  highest service speed: 3000 rpm
  zero angle: "dot"
  angles count: with rotation
  plane p {{
    at: 100 mm
    radius: 80 mm
    correct: add
  }}
  plane q {{
    at: 300 mm
    radius: 80 mm
    correct: add
  }}
  tolerance {{
    {limit}
    source: "note"
  }}
}}
setup sheet {{
  rotor: roll
  machine: edges
}}
record job {{
  setup: sheet
  run r1 {{
    {run}
  }}
}}
"#
        );
        books::readable(&text)
    };
    let held = "heavy spot: 30 deg\n    balanced by p: 0.30 g\n    starts with p: 0.05 g";
    let book = judged("static: 60 g·mm", held);
    let Outcome::Amount { base, .. } = outcome(&book, "record job / measured static") else { panic!("no amount") };
    assert!((base * 1e6 - 24.0).abs() < 1e-6, "{base}");
    assert!(matches!(outcome(&book, "record job / run r1 / unbalance q"), Outcome::Missing(_)));
    let said = |book: &Book, name: &str| {
        let results = books::results(book);
        results.iter().find(|(path, _)| path == name).map(|(_, entry)| text_of(book, entry))
    };
    assert!(said(&book, "record job / verdict").unwrap().starts_with("within"));
    let rests = judged("static: 60 g·mm", "rests anywhere: yes\n    starts with q: 0.20 g");
    assert!(said(&rests, "record job / verdict").unwrap().starts_with("within"));
    let at_bearings = judged("total: 60 g·mm", held);
    let verdict = said(&at_bearings, "record job / verdict").unwrap();
    assert!(verdict.starts_with("not"), "{verdict}");
}
