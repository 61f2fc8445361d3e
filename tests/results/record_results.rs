//! Records and trials through text: what angles mean, slips that runs show, what does not count, how corrections are made.

use crate::support::books;
use rotorbook::book::{Book, Outcome, text_of};

/// A disc and a machine that shows unbalance, with parts to put in.
struct Sheet {
    readout: &'static str,
    rotor: &'static str,
    plane: &'static str,
    setup: &'static str,
    record: &'static str,
}

impl Default for Sheet {
    fn default() -> Self {
        Self {
            readout: "angles: measured\n    angles count: with rotation",
            rotor: "angles count: with rotation",
            plane: "correct: remove",
            setup: "indicates: heavy spot",
            record: "",
        }
    }
}

impl Sheet {
    fn text(&self) -> String {
        let Self { readout, rotor, plane, setup, record } = self;
        format!(
            r#"machine bench {{
  supports: soft
  channels: left, right
  readout {{
    shows: unbalance
    unit: g·mm
    {readout}
  }}
}}
rotor part {{
  mass: 10 kg
  mass centre: 200 mm
  bearings: 0 mm, 400 mm
  highest service speed: 3000 rpm
  {rotor}
  plane hub {{
    at: 100 mm
    radius: 100 mm
    {plane}
  }}
  plane rim {{
    at: 300 mm
    radius: 100 mm
    correct: add
  }}
  tolerance {{
    total: 100 g·mm
    source: "drawing"
  }}
}}
setup sheet {{
  rotor: part
  machine: bench
  balancing speed: 900 rpm
  channel left: hub
  channel right: rim
  {setup}
}}
record job {{
  setup: sheet
{record}
}}
"#
        )
    }

    fn book(&self) -> Book {
        let book = books::book(&self.text());
        for (_, file) in book.files() {
            assert!(file.errors.is_empty(), "{:?}\n{}", file.errors, self.text());
            assert!(file.sheet.problems.is_empty(), "{:?}\n{}", file.sheet.problems, self.text());
        }
        book
    }

    /// A result of the record as people read it; nothing when it is not among them.
    fn result(&self, path: &str) -> Option<String> {
        let book = self.book();
        let path = format!("record job / {path}");
        let results = books::results(&book);
        results.iter().find(|(found, _)| *found == path).map(|(_, entry)| text_of(&book, entry))
    }

    fn said(&self, path: &str) -> String {
        self.result(path).unwrap_or_else(|| {
            let paths: Vec<String> = books::results(&self.book()).into_iter().map(|(path, _)| path).collect();
            panic!("no {path} among {paths:#?}")
        })
    }
}

const RUN: &str = "  run found {
    speed: 900 rpm
    calibration masses: off
    reading left: 300 g·mm @ 70 deg
    reading right: 200 g·mm @ 200 deg
  }";

#[test]
fn an_angle_whose_sense_is_not_said_is_not_computed() {
    let sheet = Sheet { record: RUN, ..Sheet::default() };
    assert_eq!(
        sheet.said("run found / unbalance hub"),
        "300.00 g·mm ± 0.58 g·mm @ 70.00 deg ± 0.58 deg with rotation, heavy spot"
    );
    let without = Sheet { rotor: "", record: RUN, ..Sheet::default() };
    let why = "not computed: `angles count` in rotor \"part\" is missing";
    assert_eq!(without.said("run found / unbalance hub"), why);
    let without = Sheet { readout: "angles: measured", record: RUN, ..Sheet::default() };
    let why = "not computed: `angles count` of readout in machine \"bench\" is missing";
    assert_eq!(without.said("run found / unbalance hub"), why);
    let without = Sheet { setup: "", record: RUN, ..Sheet::default() };
    let why = "not computed: `indicates` in setup \"sheet\" is missing";
    assert_eq!(without.said("run found / unbalance hub"), why);
}

#[test]
fn a_light_spot_is_half_a_turn_from_the_heavy_one() {
    let sheet = Sheet { setup: "indicates: light spot", record: RUN, ..Sheet::default() };
    assert!(
        sheet.said("run found / unbalance hub").contains("@ 250.00 deg"),
        "{}",
        sheet.said("run found / unbalance hub")
    );
    assert!(sheet.said("run found / correction hub").contains("@ 250.00 deg ± 0.58 deg with rotation, to remove"));
    assert!(sheet.said("run found / correction rim").contains("@ 200.00 deg ± 0.58 deg with rotation, to add"));
}

const STROBE: &str = "angles: by strobe
    strobe shows: clock place of mark
    pointer at: 3 o'clock
    pointer seen from: tail end";

const TURNS: &str = "angles count: with rotation
  rotation: clockwise seen from drive end";

const SEEN: &str = "  run found {
    speed: 900 rpm
    calibration masses: off
    reading left: 300 g·mm
    reading right: 200 g·mm
    shows left: 6 o'clock
    shows right: 1:30
  }";

// Seen from the tail the rotor turns anticlockwise, so its angles grow anticlockwise. With the mark at six, three stands
// a quarter turn anticlockwise from it: at 90 degrees. With the mark at half past one, three is an eighth of a turn
// clockwise: at 315 degrees. Plain geometry, no source.
#[test]
fn a_clock_place_becomes_an_angle_with_the_facts_that_allow_it() {
    let sheet = Sheet { readout: STROBE, rotor: TURNS, record: SEEN, ..Sheet::default() };
    assert!(
        sheet.said("run found / unbalance hub").contains("@ 90.0 deg"),
        "{}",
        sheet.said("run found / unbalance hub")
    );
    assert!(
        sheet.said("run found / unbalance rim").contains("@ 315.0 deg"),
        "{}",
        sheet.said("run found / unbalance rim")
    );
}

#[test]
fn a_clock_place_stays_one_without_any_of_those_facts() {
    let lines =
        ["    strobe shows: clock place of mark\n", "    pointer at: 3 o'clock\n", "\n    pointer seen from: tail end"];
    let says = ["strobe shows", "pointer at", "pointer seen from"];
    for (line, says) in lines.into_iter().zip(says) {
        let readout: &'static str = STROBE.replace(line, "").leak();
        let sheet = Sheet { readout, rotor: TURNS, record: SEEN, ..Sheet::default() };
        let said = sheet.said("run found / unbalance hub");
        assert_eq!(said, format!("not computed: `{says}` of readout in machine \"bench\" is missing"));
    }
    for key in ["rotation", "angles count"] {
        let rotor: &'static str = TURNS
            .lines()
            .filter(|line| !line.trim().starts_with(&format!("{key}:")))
            .collect::<Vec<_>>()
            .join("\n")
            .leak();
        let sheet = Sheet { readout: STROBE, rotor, record: SEEN, ..Sheet::default() };
        let said = sheet.said("run found / unbalance hub");
        assert_eq!(said, format!("not computed: `{key}` in rotor \"part\" is missing"));
    }
}

/// A first run, a correction in each plane, and a second run.
fn corrected(second: &str) -> Sheet {
    let record = format!(
        "{RUN}
  correction hub {{
    after: found
    remove: 3.00 g
    angle: 70 deg
  }}
  correction rim {{
    after: found
    add: 2.00 g
    angle: 20 deg
  }}
  run again {{
    speed: 900 rpm
    calibration masses: off
    {second}
  }}"
    );
    Sheet { record: record.leak(), ..Sheet::default() }
}

// The second readings are the first with what the slip does to the masses put in. Vector sums, no source.
#[test]
fn slips_are_named_when_the_runs_show_them() {
    let right = corrected("reading left: 6 g·mm @ 30 deg\n    reading right: 5 g·mm @ 300 deg");
    assert!(right.said("run again / effect of correction").starts_with("as meant"));
    assert_eq!(right.said("verdict"), "within as read");
    let opposite = corrected("reading left: 606 g·mm @ 70 deg\n    reading right: 396 g·mm @ 200 deg");
    let said = opposite.said("run again / effect of correction");
    assert_eq!(said, "half a turn off: heavy and light spot, or adding and removing, are mixed up");
    assert_eq!(opposite.said("verdict"), "over as read");
    // 300 at 70 less 300 at −70, and 200 at 200 with 200 at −20.
    let mirrored = corrected("reading left: 563.8 g·mm @ 90 deg\n    reading right: 136.8 g·mm @ 270 deg");
    let said = mirrored.said("run again / effect of correction");
    assert_eq!(said, "mirrored: angles are counted the wrong way round");
    // 300 at 70 with 200 at 20, and 200 at 200 with 300 at 250.
    let swapped = corrected("reading left: 455.0 g·mm @ 50.4 deg\n    reading right: 455.0 g·mm @ 230.4 deg");
    let said = swapped.said("run again / effect of correction");
    assert_eq!(said, "in the other plane: channels or planes are swapped");
}

#[test]
fn a_correction_at_the_light_spot_where_the_plane_removes_is_said_to_double_the_unbalance() {
    let record = format!("{RUN}\n  correction hub {{\n    remove: 3.00 g\n    angle: 250 deg\n  }}");
    let sheet = Sheet { record: record.leak(), ..Sheet::default() };
    assert_eq!(sheet.said("correction hub / fit"), "half a turn from what is called for: it doubles the unbalance");
    assert!(sheet.said("correction hub / left").starts_with("600.0"), "{}", sheet.said("correction hub / left"));
}

fn last_run(facts: &str) -> Sheet {
    let record = format!(
        "  run last {{
    {facts}
    reading left: 10 g·mm @ 70 deg
    reading right: 12 g·mm @ 200 deg
  }}"
    );
    Sheet { record: record.leak(), ..Sheet::default() }
}

#[test]
fn readings_that_do_not_count_show_nothing() {
    let counts = last_run("speed: 900 rpm\n    calibration masses: off");
    assert_eq!(counts.said("verdict"), "within as read");
    let on = last_run("speed: 900 rpm\n    calibration masses: on");
    assert_eq!(on.said("verdict"), "not shown");
    assert!(on.said("reasons").starts_with("calibration masses were on in run `last`"), "{}", on.said("reasons"));
    let fast = last_run("speed: 960 rpm\n    calibration masses: off");
    assert_eq!(fast.said("verdict"), "not shown");
    assert!(
        fast.said("reasons").starts_with("run `last` at 960 rpm is outside the band of 873 rpm to 927 rpm"),
        "{}",
        fast.said("reasons")
    );
    let silent = last_run("calibration masses: off");
    assert_eq!(silent.said("verdict"), "not shown");
    assert!(silent.said("reasons").starts_with("run `last` does not say its speed"));
}

#[test]
fn a_changed_sheet_voids_its_calibration_by_cause() {
    let setup = "indicates: heavy spot
  revision: \"C\"
  belt runs on: 60 mm
  proof \"2026-03-02\" {
    date: 2026-03-02
    proven with {
      revision: \"B\"
      balancing speed: 1000 rpm
      belt runs on: 60.0 mm
    }
  }";
    let record = "  run last {
    speed: 900 rpm
    calibration masses: off
    reading left: 10 g·mm @ 70 deg
    reading right: 12 g·mm @ 200 deg
  }";
    let sheet = Sheet { setup, record, ..Sheet::default() };
    assert_eq!(sheet.said("verdict"), "not shown");
    let reasons = sheet.said("reasons");
    let causes = "the calibration is void: proven at 1000 rpm, the sheet now says 900 rpm; \
                  the calibration is void: revision B was proven, the sheet is at revision C";
    assert!(reasons.starts_with(causes), "{reasons}");
}

// Planes at 100 and 300 mm of bearings at 0 and 400 mm: A takes 3/4 of the hub and 1/4 of the rim. 60 g·mm in the hub
// and 0.1 in the rim, 130 degrees on, are 44.984 and 14.95 g·mm at bearings of 50 g·mm each; its share is 50 g·mm, and no limit. Plain statics, no source.
#[test]
fn more_than_a_planes_share_but_inside_at_both_bearings_is_within() {
    let record = "  run last {
    speed: 900 rpm
    calibration masses: off
    reading left: 60.0 g·mm @ 70 deg
    reading right: 0.1 g·mm @ 200 deg
  }";
    let sheet = Sheet { record, ..Sheet::default() };
    assert!(sheet.said("measured bearing a").starts_with("44.98"), "{}", sheet.said("measured bearing a"));
    assert_eq!(sheet.said("verdict"), "within as read");
}

// 30, 34 and 26 g·mm at one angle in the hub, three quarters of it at A: 22.5, 25.5 and 19.5 scatter by √(18 ÷ 4), their mean
// by that ÷ √3, 1.225, with t = 2.87 of four comparisons (JCGM 100, table G.2, from memory); a quarter at B.
#[test]
fn three_mountings_tell_how_well_they_repeat() {
    let mounting = |name: &str, remounted: &str, amount: u32| {
        format!(
            "  run {name} {{
    speed: 900 rpm
    calibration masses: off
    {remounted}
    reading left: {amount}.0 g·mm @ 70 deg
    reading right: 0.0 g·mm @ 200 deg
  }}\n"
        )
    };
    let record =
        [mounting("one", "", 30), mounting("two", "remounted: yes", 34), mounting("three", "remounted: yes", 26)];
    let sheet = Sheet { record: record.concat().leak(), ..Sheet::default() };
    assert!(sheet.said("measured bearing a").starts_with("22.5"), "{}", sheet.said("measured bearing a"));
    assert_eq!(sheet.said("uncertainty bearing a"), "3.51 g·mm");
    assert_eq!(sheet.said("uncertainty bearing b"), "1.17 g·mm");
    assert!(sheet.said("budget bearing a").starts_with("mounting, by measurement: 3.51 g·mm"));
}

/// What a plane does about 300 g·mm with the heavy spot at 70 degrees.
fn asked(plane: &'static str) -> Sheet {
    let record = format!("{RUN}\n  correction hub {{\n    after: found\n  }}");
    Sheet { plane, record: record.leak(), ..Sheet::default() }
}

#[test]
fn a_barred_angle_is_avoided_to_either_side() {
    let sheet = asked(
        "correct: remove
    method: drilling
    surface radius: 110 mm
    hole diameter: 10 mm
    depth: up to 20 mm
    material: \"carbon steel\"
    barred: 60 deg to 90 deg",
    );
    let places = sheet.said("correction hub / places");
    // A hole of 10 mm at a radius of 110 mm spans asin(5 ÷ 110) = 2.605 deg to either side; its edge keeps 1 deg off.
    assert!(places.contains("56.4 deg |") && places.contains("93.6 deg |"), "{places}");
    assert_eq!(sheet.result("correction hub / depth"), None);
}

/// A drill of 14 mm with a point of 118 degrees, in steel of 7.85 g/cm³ at 110 mm: its point alone takes 177 g·mm, as a cone
/// of 4.21 mm height and 215.8 mm³ whose middle is 1.05 mm below the surface, 1.694 g at 108.9 mm, less what a flat would
/// have above the round surface, ρπr⁴/8 = 7.4 g·mm. Worked by hand.
#[test]
fn what_the_point_of_a_drill_takes_is_counted_before_the_holes_are_chosen() {
    let drilled = |read: &str| {
        let record = format!("{RUN}\n  correction hub {{\n    after: found\n  }}").replace("300 g·mm @ 70 deg", read);
        let plane = "correct: remove
    method: drilling
    surface radius: 110 mm
    hole diameter: 14 mm
    depth: up to 20 mm
    holes at most: 3
    material: \"carbon steel\"
    barred: 60 deg to 90 deg";
        Sheet { plane, record: record.leak(), ..Sheet::default() }
    };
    // Half of what the point takes is less than it leaves: then nothing is drilled, and all of it is left.
    let small = drilled("80.0 g·mm @ 75 deg");
    assert_eq!(small.result("correction hub / places"), None);
    assert!(small.said("correction hub / left by rounding").starts_with("80.0 g·mm"));
    // One point beside the bar leaves less than one to either side of it, which take nearly twice what is there.
    for read in ["150.0 g·mm @ 75 deg", "200.0 g·mm @ 75 deg"] {
        let places = drilled(read).said("correction hub / places");
        assert!(!places.contains(';'), "{read}: {places}");
    }
    assert!(drilled("150.0 g·mm @ 75 deg").said("correction hub / places").ends_with("| 0 mm"));
}

#[test]
fn one_hole_too_shallow_becomes_several_and_what_no_hole_reaches_is_said() {
    let drilled = |holes: &str| -> &'static str {
        format!(
            "correct: remove
    method: drilling
    surface radius: 110 mm
    hole diameter: 8 mm
    depth: up to 6 mm
    {holes}
    material: \"carbon steel\""
        )
        .leak()
    };
    // A hole of 8 mm, 6 mm deep with its point, takes off about 280 g·mm of steel at 107 mm: less than 300 g·mm.
    let two = asked(drilled("holes at most: 3"));
    assert_eq!(two.said("correction hub / holes"), "2");
    let depth = two.said("correction hub / depth");
    assert!(depth.ends_with(" mm"), "{depth}");
    assert_eq!(two.result("correction hub / not reached"), None);
    let one = asked(drilled("holes at most: 1"));
    assert_eq!(one.result("correction hub / holes"), None);
    assert!(one.said("correction hub / not reached").contains("@ 70.0 deg with rotation, heavy spot"));
}

// Eight places 45 degrees apart, 1 g at each: towards 250 degrees, between 225 and 270, most of 3 g at 100 mm is
// beyond what two places take, and goes to the ones beside them. Vector sums, no source.
#[test]
fn what_two_places_cannot_take_goes_to_the_next_and_pieces_are_whole() {
    let sheet = asked(
        "correct: add
    method: set screws
    mass each: 0.25 g
    most per place: 1.5 g
    places: 8 from 0 deg
    places numbered: with rotation",
    );
    let book = sheet.book();
    let results = books::results(&book);
    let (_, entry) = results.iter().find(|(path, _)| path == "record job / correction hub / places").unwrap();
    let Outcome::Table { rows, .. } = &entry.outcome else { panic!("no table: {entry:?}") };
    let grams: Vec<(f64, f64)> = rows.iter().map(|row| (row[0].unwrap(), row[1].unwrap() * 1e3)).collect();
    assert!(grams.len() > 2, "{grams:?}");
    assert!(
        grams.iter().all(|(_, mass)| *mass < 1.5001 && (mass / 0.25 - (mass / 0.25).round()).abs() < 1e-6),
        "{grams:?}"
    );
    let (x, y) =
        grams.iter().fold((0.0, 0.0), |(x, y), (angle, mass)| (x + mass * angle.cos(), y + mass * angle.sin()));
    let wanted = 250_f64.to_radians();
    let left = (x - 3.0 * wanted.cos()).hypot(y - 3.0 * wanted.sin());
    assert!(left < 0.25, "{grams:?} leave {left} g");
    assert!(sheet.result("correction hub / left by rounding").is_some());
    assert_eq!(sheet.result("correction hub / not reached"), None);
}

#[test]
fn trial_masses_of_which_nobody_says_whether_they_stay_tell_nothing() {
    let setup = "indicates: heavy spot
  trial found {
    reading left: 3.0 g·mm @ 10 deg
    reading right: 2.0 g·mm @ 50 deg
  }
  trial one {
    mass in: hub
    mass: 1.00 g
    radius: 100 mm
    angle: 0 deg
    reading left: 90.0 g·mm @ 10 deg
    reading right: 7.0 g·mm @ 50 deg
  }
  trial two {
    mass in: rim
    mass: 1.00 g
    radius: 100 mm
    angle: 0 deg
    reading left: 4.0 g·mm @ 10 deg
    reading right: 95.0 g·mm @ 50 deg
  }";
    let sheet = Sheet { setup, ..Sheet::default() };
    let book = sheet.book();
    let results = books::results(&book);
    let (_, entry) = results.iter().find(|(path, _)| path == "setup sheet / unbalance found hub").unwrap();
    assert!(matches!(entry.outcome, Outcome::Missing(_)));
    assert_eq!(text_of(&book, entry), "not computed: `trial mass` of trial one in setup \"sheet\" is missing");
}

/// A run with the rotor turned on its arbor, angles from the rotor, the same reading in both planes.
fn sat(name: &str, facts: &str, amount: f64, degrees: f64) -> String {
    format!(
        "  run {name} {{
    {facts}
    angles from: rotor
    reading left: {amount:.1} g·mm @ {degrees:.1} deg
    reading right: {amount:.1} g·mm @ {degrees:.1} deg
  }}\n"
    )
}

fn recorded(runs: &[String]) -> Sheet {
    Sheet { record: runs.concat().leak(), ..Sheet::default() }
}

// An arbor of 10 g·mm at 10 degrees and a rotor without any: turned on by half a turn, the rotor's angles show it at 190.
#[test]
fn every_run_of_an_index_has_to_count() {
    let off = "speed: 900 rpm\n    calibration masses: off\n    turned on arbor by";
    let zero = sat("zero", &format!("{off}: 0 deg"), 10.0, 10.0);
    let half = sat("half", &format!("{off}: 180 deg"), 10.0, 190.0);
    assert_eq!(recorded(&[zero.clone(), half.clone()]).said("verdict"), "within as read");
    let on = sat("zero", "speed: 2000 rpm\n    calibration masses: on\n    turned on arbor by: 0 deg", 10.0, 10.0);
    let sheet = recorded(&[on, half.clone()]);
    assert_eq!(sheet.said("verdict"), "not shown");
    let reasons = sheet.said("reasons");
    assert!(reasons.starts_with("calibration masses were on in run `zero`"), "{reasons}");
    assert!(reasons.contains("run `zero` at 2000 rpm is outside the band of 873 rpm to 927 rpm"), "{reasons}");
    // A run after the index that does not say how the rotor sits holds the arbor too, and is not passed over.
    let last = sat("last", "speed: 900 rpm\n    calibration masses: off", 1000.0, 10.0);
    let sheet = recorded(&[zero, half, last]);
    assert_eq!(sheet.said("verdict"), "not shown");
    assert!(sheet.said("reasons").starts_with("run `last` does not say how far the rotor was turned on its arbor"));
}

// Planes at a quarter and three quarters between the bearings: alike in both, they act alike at both. 300 and 10 g·mm at
// one angle lie 290 g·mm apart, where 50 are allowed at each bearing. No source.
#[test]
fn a_good_run_does_not_outweigh_a_bad_one_of_the_same_state() {
    let off = "speed: 900 rpm\n    calibration masses: off";
    let bad = sat("bad", off, 300.0, 10.0);
    let sheet = recorded(&[bad.clone(), sat("good", off, 10.0, 10.0)]);
    assert_eq!(sheet.said("verdict"), "not shown");
    let reasons = sheet.said("reasons");
    // Their mean, 155, with 145 ÷ √2 and t = 4.53 of two comparisons (JCGM 100, table G.2, from memory).
    assert!(reasons.starts_with("bearing a: 155 g·mm ± 464 g·mm of 50.0 g·mm, not shown"), "{reasons}");
    let sheet = recorded(&[bad, sat("good", &format!("{off}\n    remounted: yes"), 10.0, 10.0)]);
    assert_eq!(sheet.said("verdict"), "not shown");
    let budget = sheet.said("budget bearing a");
    assert!(budget.starts_with("mounting, by measurement: 464 g·mm"), "{budget}");
    // What was corrected between them, and is not written down, makes another state.
    let good = sat("good", &format!("{off}\n    correction not recorded: yes"), 10.0, 10.0);
    assert_eq!(recorded(&[sat("bad", off, 300.0, 10.0), good]).said("verdict"), "within as read");
    // A run that does not count contradicts none that does.
    let on = sat("on", "speed: 900 rpm\n    calibration masses: on", 300.0, 10.0);
    assert_eq!(recorded(&[on, sat("good", off, 10.0, 10.0)]).said("verdict"), "within as read");
}

// Plain vectors, no source: 3 g put on at 0 deg are 300 g·mm there; 4 g taken off at 90 deg are 400 g·mm put on at
// 270 deg; together 500 g·mm at 360 deg − atan(4 ÷ 3).
#[test]
fn what_is_put_on_and_what_is_taken_off_both_count_at_their_places() {
    let record = format!("{RUN}\n  correction hub {{\n    add place 1: 3.00 g\n    remove place 2: 4.00 g\n  }}");
    let plane = "correct: either\n    places: 4 from 0 deg\n    places numbered: with rotation";
    let sheet = Sheet { plane, record: record.leak(), ..Sheet::default() };
    let done = sheet.said("correction hub / done");
    assert!(done.starts_with("500") && done.contains("@ 306.870 deg"), "{done}");
}

#[test]
fn nobody_asks_for_calibration_masses_where_there_are_none() {
    assert_eq!(last_run("speed: 900 rpm").said("verdict"), "within as read");
}

#[test]
fn what_a_question_mark_leaves_open_is_a_hole_that_says_so() {
    let record = "  run found {\n    speed: 900 rpm\n    reading left: ?\n    reading right: 12 g·mm @ 200 deg\n  }";
    let sheet = Sheet { record, ..Sheet::default() };
    let said = sheet.said("run found / unbalance hub");
    assert_eq!(said, "not computed: `reading left` of run found in record \"job\" is not known yet");
}

/// Turned by 1 deg, as read, half a degree is half of all that the two runs tell apart: the rotor's own share goes by
/// 1 ÷ angle, and 0.29 deg standard (half a degree, even) of the one turn is 29 % of it; not turned is not turned.
#[test]
fn a_small_turn_on_the_arbor_tells_little() {
    let run = |name: &str, turned: u32, reading: &str| {
        format!(
            "  run {name} {{\n    speed: 900 rpm\n    calibration masses: off\n    turned on arbor by: {turned} deg\n    angles from: arbor\n    reading left: {reading}\n    reading right: 10.0 g·mm @ 0.0 deg\n  }}\n"
        )
    };
    let record = run("one", 0, "30.50 g·mm @ 36.50 deg") + &run("two", 1, "30.60 g·mm @ 38.20 deg");
    let sheet = Sheet { record: record.leak(), ..Sheet::default() };
    let share = |sheet: &Sheet| {
        let book = sheet.book();
        let results = books::results(&book);
        let (_, entry) = results.iter().find(|(path, _)| path == "record job / rotor unbalance hub").unwrap();
        let Outcome::Vector { base, standard, .. } = entry.outcome else { panic!("{}", text_of(&book, entry)) };
        standard / base
    };
    assert!(share(&sheet) > 0.28, "{}", share(&sheet));
    // Half a turn is told apart by itself, whatever half a degree does.
    let record = run("one", 0, "30.50 g·mm @ 36.50 deg") + &run("two", 180, "30.60 g·mm @ 218.20 deg");
    let sheet = Sheet { record: record.leak(), ..Sheet::default() };
    assert!(share(&sheet) < 0.02, "{}", share(&sheet));
}
