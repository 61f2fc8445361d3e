//! The last case that a formula takes and the first that it refuses, and what is left when a fact is not there.

use std::fs;

use rotorbook::check;
use rotorbook::mechanics::correction::holes::holes_along_arc;
use rotorbook::units::{Angle, Unbalance};

use crate::support::{books, faulty};

// Equal vectors all the way round sum to nothing; a thirteenth hole at 30° would stand in the first.
#[test]
fn holes_may_go_all_the_way_round_and_no_farther() {
    let each = Unbalance::gram_millimetres(5.0);
    let all = holes_along_arc(each, 12, Angle::degrees(30.0)).unwrap();
    assert!(all.in_gram_millimetres() < 1e-9);
    assert!(holes_along_arc(each, 13, Angle::degrees(30.0)).is_err());
}

// Nothing says where the supports are: what the arbor has at an end is taken to act there whole. No source.
#[test]
fn without_places_each_end_of_an_arbor_acts_on_its_own_plane() {
    let base = fs::read_to_string(faulty::folder().join("base.rotor")).unwrap();
    let text = base.replace("  supports at: 0 mm, 164 mm\n", "  arbor: \"expanding arbor 40\"\n")
        + r#"
arbor "expanding arbor 40" {
  mass: 1.20 kg
  unbalance left: 10.0 g·mm @ 40 deg
  unbalance right: 30.0 g·mm @ 200 deg
  zero angle: "punch mark on the flange"
}

record "wheel 118" {
  setup: "fan wheel 315 on the soft bench"

  run corrected {
    speed: 1150 rpm
    calibration masses: off
    reading left: 0.5 div @ 35 deg
    reading right: 0.1 div @ 25 deg
  }
}
"#;
    let book = books::book(&text);
    for (plane, own) in [("hub", 10.0), ("rim", 30.0)] {
        let path = format!("record wheel 118 / combined error {plane}");
        let (amount, _) = books::amount(&book, &path, "g·mm");
        assert!((amount - own).abs() < 1e-9, "{plane}: {amount}");
    }
}

// What cannot be read is told where it stands, and may be the very line that is missing.
#[test]
fn a_verdict_misses_nothing_that_may_stand_in_a_line_that_cannot_be_read() {
    let sheet = String::from_utf8(faulty::of("verdict-not-known").unwrap().bytes).unwrap();
    let speaks =
        |text: &str| check::check(&books::book(text)).iter().any(|found| found.rule.code == "verdict-not-known");
    assert!(speaks(&sheet));
    let misspelt =
        sheet.replace("    seen from: drive end\n  }", "    seen from: drive end\n    pointr at: 12:00\n  }");
    assert_ne!(misspelt, sheet);
    assert!(!speaks(&misspelt));
}
