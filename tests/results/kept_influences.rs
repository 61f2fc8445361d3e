//! Influences that a proof or a record has kept, against trial runs that changed since. Numbers by hand, no source.

use crate::support::books;
use rotorbook::book::text_of;
use rotorbook::check;

fn said(text: &str, path: &str) -> String {
    let book = books::book(text);
    let results = books::results(&book);
    let found = results.iter().find(|(found, _)| found == path).map(|(_, entry)| text_of(&book, entry));
    found.unwrap_or_else(|| panic!("no {path}"))
}

/// Trials in one plane: 10 g at 100 mm are 1000 g·mm and read 10.00 div more, so that 0.01 div is 1 g·mm.
fn by_trials(kept: &str, second: &str) -> String {
    format!(
        "machine bench {{
  supports: soft
  channels: left
  readout {{
    shows: div
    smallest step: 0.01 div
    angles: measured
    angles count: with rotation
  }}
}}
rotor disc {{
  mass: 10 kg
  angles count: with rotation
  plane rim {{
    at: 50 mm
    radius: 100 mm
    correct: remove
  }}
  tolerance {{
    planes: one
    rim: 100 g·mm
  }}
}}
setup sheet {{
  rotor: disc
  machine: bench
  balancing speed: 900 rpm
  trial found {{
    speed: 900 rpm
    reading left: 5.00 div @ 0 deg
  }}
  trial mass {{
    mass in: rim
    mass: 10.000 g
    radius: 100.000 mm
    angle: 0 deg
    trial mass: taken off
    speed: 900 rpm
    reading left: {second} div @ 0 deg
  }}
  proof first {{
    date: 2026-03-02
    start reading left: 0.10 div @ 0 deg
    proven with {{
      balancing speed: 900 rpm
      limit in rim: 100 g·mm
{kept}    }}
  }}
}}
record job {{
  setup: sheet
  proof: first
  date: 2026-04-21
  run last {{
    speed: 900 rpm
    calibration masses: off
    reading left: 0.90 div @ 30 deg
  }}
}}
"
    )
}

#[test]
fn influences_that_a_proof_has_kept_outlast_the_trials() {
    let kept = "      influence left {
        speed: 900 rpm
        per: 1 g·mm
        rim: 0.01 div @ 0 deg
      }
";
    let measured = |text: &str| said(text, "record job / run last / unbalance rim");
    assert!(measured(&by_trials("", "15.00")).starts_with("90."), "{}", measured(&by_trials("", "15.00")));
    assert!(measured(&by_trials("", "25.00")).starts_with("45.0"), "other trials, and nothing was kept");
    let outlasting = measured(&by_trials(kept, "25.00"));
    assert!(outlasting.starts_with("90.0") && outlasting.contains("@ 30"), "{outlasting}");
}

// 1000 g·mm read 10.00 div more: 0.01 div is 1 g·mm, and the fix writes that down.
#[test]
fn the_fix_writes_down_what_a_record_was_run_by() {
    let text = by_trials("", "15.00").replace("  proof: first\n", "");
    let start = text.find("  proof first {").unwrap();
    let end = text.find("record job").unwrap();
    let text = format!("{}  date: 2026-03-01\n}}\n{}", &text[..start], &text[end..]);
    let found = check::check(&books::book(&text)).into_iter().find(|one| one.rule.code == "record-not-bound").unwrap();
    let edits: Vec<_> = found.fixes[0].edits.iter().map(|edit| edit.edit.clone()).collect();
    let bound = rotorbook::text::apply(&text, &edits).unwrap();
    assert!(bound.contains("limit in rim: 100 g·mm"), "{bound}");
    assert!(bound.contains("per: 1 g·mm\n      rim: 0.01 div"), "{bound}");
    let measured = |text: &str| said(text, "record job / run last / unbalance rim");
    let changed = bound.replace("reading left: 15.00 div", "reading left: 25.00 div");
    assert_eq!(measured(&changed), measured(&bound));
    assert_eq!(measured(&bound).split(" @ ").next(), measured(&text).split(" @ ").next());
}

// By amounts alone 0.90 div are 90 g·mm at 0.01 div for 1 g·mm, as the proof has kept it; what the trials say since is
// another number. An influence with an angle is no worth of an amount.
#[test]
fn what_an_amount_is_worth_outlasts_the_trials_too() {
    let amounts = |text: String| {
        let three = ["0 deg", "120 deg", "240 deg"].map(|angle| {
            format!(
                "  trial at-{} {{
    mass in: rim
    mass: 10.000 g
    radius: 100.000 mm
    angle: {angle}
    trial mass: taken off
    speed: 900 rpm
    reading left: 25.00 div
  }}
",
                angle.replace(' ', "-")
            )
        });
        let start = text.find("  trial mass {").unwrap();
        let end = text.find("  proof first {").unwrap();
        let text = format!("{}{}{}", &text[..start], three.concat(), &text[end..]);
        let text = text.replace("angles: measured\n    angles count: with rotation", "angles: none");
        text.replace(" div @ 0 deg", " div").replace(" div @ 30 deg", " div")
    };
    let kept = "      influence left {
        speed: 900 rpm
        per: 1 g·mm
        rim: 0.01 div
      }
";
    let measured = |text: &str| said(text, "record job / run last / unbalance rim");
    let without = measured(&amounts(by_trials("", "15.00")));
    assert!(!without.starts_with("90."), "{without}");
    let outlasting = measured(&amounts(by_trials(kept, "15.00")));
    assert!(outlasting.starts_with("90."), "{outlasting}");
}
