//! The last case that a formula takes and the first that it refuses, and what is left when a fact is not there.

use std::fs;

use rotorbook::check;
use rotorbook::mechanics::correction::holes::holes_along_arc;
use rotorbook::units::{Angle, Unbalance};

use crate::support::{books, faulty};
use rotorbook::book::text_of;

// Equal vectors all the way round sum to nothing; a thirteenth hole at 30° would be in the first.
#[test]
fn holes_may_go_all_the_way_round_and_no_farther() {
    let each = Unbalance::gram_millimetres(5.0);
    let all = holes_along_arc(each, 12, Angle::degrees(30.0)).unwrap();
    assert!(all.in_gram_millimetres() < 1e-9);
    assert!(holes_along_arc(each, 13, Angle::degrees(30.0)).is_err());
}

// Without supports each end is taken to act whole on its own plane. With them, at 0 mm and 164 mm and planes at 34 mm and 121
// mm, the levers share both out, at the worst phase: (10·121 + 30·43) ÷ 87 and (10·34 + 30·130) ÷ 87. Statics.
#[test]
fn the_ends_of_an_arbor_act_on_the_planes_by_their_places() {
    let base = fs::read_to_string(faulty::folder().join("base.rotor")).unwrap();
    let places = "  supports at: 0 mm, 164 mm\n";
    let arbor = "  arbor: \"expanding arbor 40\"\n";
    let cases = [
        (arbor.to_owned(), [("hub", 10.0), ("rim", 30.0)]),
        ([places, arbor].concat(), [("hub", 2500.0 / 87.0), ("rim", 4240.0 / 87.0)]),
    ];
    for (lines, expected) in cases {
        let book = books::book(&(base.replace(places, &lines) + ARBOR_AND_RUN));
        for (plane, error) in expected {
            let path = format!("record wheel 118 / budget {plane}");
            let results = books::results(&book);
            let budget =
                results.iter().find(|(found, _)| *found == path).map(|(_, entry)| text_of(&book, entry)).unwrap();
            assert!(budget.contains(&format!("arbor, as stated: {error:.1} g·mm")), "{plane}: {budget}");
        }
    }
}

const ARBOR_AND_RUN: &str = r#"
arbor "expanding arbor 40" {
  mass: 1.20 kg
  unbalance left: 10.0 g·mm @ 40 deg
  unbalance right: 30.0 g·mm @ 200 deg
  runout: 0.000 mm
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

// What cannot be read is told where it is, and may be the very line that is missing.
#[test]
fn a_verdict_misses_nothing_that_may_stand_in_a_line_that_cannot_be_read() {
    let sheet = String::from_utf8(faulty::of("verdict-not-known").unwrap().bytes).unwrap();
    let speaks =
        |text: &str| check::check(&books::book(text)).iter().any(|found| found.rule.code == "verdict-not-known");
    assert!(speaks(&sheet));
    let misspelt = sheet.replace("seen from: drive end\n  }", "seen from: drive end\n    pointr at: 12:00\n  }");
    assert!(misspelt != sheet, "nothing was replaced");
    assert!(!speaks(&misspelt));
}
