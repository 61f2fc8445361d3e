//! `balance` where only amounts are read: trial runs of the sheet tell the angle, of the rotor that they were made with.

use std::fs;
use std::path::Path;

use crate::cli_balance::{answer_on, is_whole, result};
use crate::support::cli::{Folder, Ran};

/// 2026-11-30, after the sheets below.
const DAY: &str = "1796040000";

const DISC: &str = "slinger disc 260 on the swing cradle";

/// The recipe without its record.
fn disc() -> Folder {
    let recipes = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/recipes");
    let folder = Folder::with(&[]);
    for path in [
        "book.rotor",
        "shop/machines.rotor",
        "shop/masses.rotor",
        "four-runs-without-phase/setup.rotor",
        "four-runs-without-phase/slinger-disc-260.rotor",
    ] {
        folder.write(path, &fs::read(recipes.join(path)).unwrap());
    }
    folder
}

/// The four runs of the recipe, by its section "By hand": 875 g·mm in the third quarter, at 200 deg. Least squares over all
/// four make 896 g·mm of it: a flat of 2.06 mm, 6.96 g, as `show` says. At 2.05 mm the segment of 130 mm radius and 14 mm width is
/// 6.919 g of steel. Plain geometry.
#[test]
fn a_run_that_reads_as_the_trials_began_is_corrected_as_they_say() {
    let folder = disc();
    let ran =
        answer_on(DAY, &folder, DISC, "4\nyes\n415\noff\n18.5\n6.9 g @ 200\n416\n4.0\n0.5 g @ 300\n415\n0.5\nend\n");
    ran.ends(0);
    is_whole(&folder);
    let said = ran.stdout();
    for part in [
        "Plane rim: MILL 2.05 mm deep at 200 deg. Done",
        "The chips weigh 6.92 g",
        "The trial runs give the angle, as the rotor was then",
        // After a correction the trials tell no angle; what is done is written all the same.
        "Plane rim: where to correct is not computed. Done",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let (record, name) = (folder.read("records/slinger-disc-260-4.rotor"), "slinger disc 260, 4");
    assert_eq!(record.matches("  correction rim {").count(), 2, "{record}");
    assert!(record.contains("    after: corrected\n    remove: 0.5 g\n    angle: 300 deg\n"), "{record}");
    // What the record keeps of its day are the influences of these trials.
    assert!(record.contains("  as run {"), "{record}");
    let unbalance = result(&folder, name, &["run as found", "unbalance rim"]);
    assert!(unbalance.as_str().unwrap().contains("@ 200"), "{unbalance}");
    // The trials of the next rotor are not those of this one.
    let path = "four-runs-without-phase/setup.rotor";
    let setup = folder.read(path);
    folder.write(path, setup.replace("reading near: 28.5 div", "reading near: 27.5 div").as_bytes());
    let unbalance = result(&folder, name, &["run as found", "unbalance rim"]);
    assert!(!unbalance.as_str().unwrap().contains('@'), "{unbalance}");
}

#[test]
fn a_rotor_that_reads_otherwise_has_no_angle_and_its_corrections_are_written() {
    let folder = disc();
    // 16 is not 18 within half a division.
    let ran = answer_on(DAY, &folder, DISC, "5\nyes\n415\noff\n16.0\n5 g @ 200\n415\n0.5\nend\n");
    ran.ends(0);
    is_whole(&folder);
    let said = ran.stdout();
    let why = "Where to correct is not computed: the trial runs give it only while the rotor reads as in their run \
               as found (18 div)";
    assert!(said.split_whitespace().collect::<Vec<_>>().join(" ").contains(why), "{said}");
    assert!(!said.contains("MILL"), "{said}");
    assert!(folder.read("records/slinger-disc-260-5.rotor").contains("remove: 5 g"));
}

/// Another disc of the batch may read the same and have its heavy spot anywhere: what it reads is no sign of who it is.
#[test]
fn another_rotor_that_reads_the_same_has_no_angle() {
    let folder = disc();
    for (serial, is_it) in [("6", "no"), ("7", "-")] {
        let answers = format!("{serial}\n{is_it}\n415\noff\n18.0\n-\nend\n");
        let said = answer_on(DAY, &folder, DISC, &answers).stdout();
        is_whole(&folder);
        assert!(!said.contains("MILL"), "{said}");
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        let why = "trial runs without angles give it only for the rotor they were made with. Make them with this rotor; if \
                   they were, write `trial runs of this rotor: yes` in the record";
        assert!(said.contains(why), "{said}");
        assert!(said.contains("Were the trial runs made with this rotor, and nothing done to it since"), "{said}");
        let name = format!("slinger disc 260, {serial}");
        let unbalance = result(&folder, &name, &["run as found", "unbalance rim"]);
        assert!(!unbalance.as_str().unwrap().contains('@'), "{unbalance}");
    }
}

/// A dryer fan with 40 g at two of three angles. With the third it is, by the three circles of the recipe: t² = (9.4² + 3.3² +
/// 10.2²) ÷ 3 − 7.2² = 15.92, t = 3.99, 7.2 ÷ 3.99 × 40 g = 72.2 g; cos = (9.4² − 7.2² − t²) ÷ (2·7.2·t) = 0.358 and
/// sin = (3.3² − 10.2²) ÷ (√3·2·7.2·t) = −0.936, the heavy spot at 291 deg and the mass opposite, at 111 deg. Least squares
/// over the four runs make 71.9 g of it.
const FAN: &str = r#"
machine "meter without lamp" {
  supports: in place
  drive: own
  channels: "motor end"

  readout {
    shows: velocity
    unit: mm/s
    value: rms
    smallest step: 0.1 mm/s
    angles: none
  }
}

rotor "dryer fan 710" {
  mass: 48 kg
  highest service speed: 1470 rpm
  zero angle: "blade 1"
  angles count: with rotation
  rotation: anticlockwise seen from drive end

  plane disc {
    at: 0 mm
    radius: 290 mm
    correct: add
    method: clamping
  }

  tolerance {
    planes: one
    grade: G 6.3
  }
}

setup "dryer fan 710 without phase" {
  rotor: "dryer fan 710"
  machine: "meter without lamp"
  status: draft
  date: 2026-04-20
  balancing speed: 1470 rpm
  channel "motor end": disc

  trial "as found" {
    speed: 1470 rpm
    reading "motor end": 7.2 mm/s
  }

  trial "at blade 1" {
    mass in: disc
    mass: 40.0 g
    radius: 290 mm
    angle: 0 deg
    trial mass: taken off
    speed: 1470 rpm
    reading "motor end": 9.4 mm/s
  }

  trial "at blade 4" {
    mass in: disc
    mass: 40.0 g
    radius: 290 mm
    angle: 120 deg
    trial mass: taken off
    speed: 1470 rpm
    reading "motor end": 3.3 mm/s
  }
}
"#;

fn fan(answers: &str) -> (Folder, Ran) {
    let folder = Folder::with(&[
        ("book.rotor", "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n"),
        ("fan.rotor", FAN.trim_start()),
    ]);
    let ran = answer_on(DAY, &folder, "dryer fan 710 without phase", answers);
    (folder, ran)
}

#[test]
fn two_trials_that_leave_two_answers_ask_for_a_third() {
    let (folder, ran) = fan("240\n10.2\nDF-1\nyes\n1470\noff\n7.2\n72 g @ 111\n1470\n0.3\nend\n");
    ran.ends(0);
    is_whole(&folder);
    let said = ran.stdout();
    for part in [
        "Another trial run, because two unbalances explain the amounts",
        "The same mass in disc at another angle. It sits at (e.g. 240 deg; `-` where it is not made)",
        "Plane disc: PUT ON 71.9 g at 111 deg. Done",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let sheet = folder.read("fan.rotor");
    let trial = "  trial \"one more\" {\n    mass in: disc\n    mass: 40.0 g\n    radius: 290 mm\n    angle: 240 deg\n    \
                 trial mass: taken off\n    speed: 1470 rpm\n    reading \"motor end\": 10.2 mm/s\n  }\n";
    assert!(sheet.contains(trial), "{sheet}");
}

#[test]
fn without_the_third_trial_the_two_answers_are_the_reason() {
    let (folder, ran) = fan("-\nDF-2\n1470\noff\n7.2\n70 g @ 111\n1470\n0.3\n-\nend\n");
    let said = ran.stdout().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("PUT ON: not computed Because two unbalances explain the amounts, 20775 g·mm @ 291 deg and 14941 g·mm @ 274 deg"), "{said}");
    // It is asked for once, and not for each run.
    assert_eq!(said.matches("Another trial run").count(), 1, "{said}");
    is_whole(&folder);
    assert!(folder.read("records/dryer-fan-710-df-2.rotor").contains("add: 70 g"));
}
