//! Masses out of centre that are no corrections: rings that are on only while balancing, keys, bob weights.

use crate::support::books;
use rotorbook::book::{Book, Outcome, text_of};

fn sheet(extra: &str, of_setup: &str, record: &str) -> Book {
    let text = format!(
        r#"machine bench {{
  supports: soft
  channels: left, right
  readout {{
    shows: unbalance
    unit: g·mm
    angles: measured
    angles count: with rotation
    smallest step: 0.01 g·mm
  }}
}}
rotor shaft {{
  mass: 12 kg
  mass centre: 120 mm
  bearings: 0 mm, 240 mm
  highest service speed: 3000 rpm
  angles count: with rotation
  plane first {{
    at: 52 mm
    radius: 70 mm
    correct: add
    method: clamping
    places: 8 from 0 deg
    places numbered: with rotation
    most per place: 5 g
  }}
  plane last {{
    at: 188 mm
    radius: 70 mm
    correct: add
    method: welding
  }}
{extra}
  tolerance {{
    grade: G 16
    source: "drawing"
  }}
}}
setup sheet {{
  rotor: shaft
  machine: bench
  balancing speed: 700 rpm
  channel left: first
  channel right: last
  indicates: heavy spot
{of_setup}
}}
record job {{
  setup: sheet
{record}
}}
"#
    );
    books::readable(&text)
}

fn run(name: &str, more: &str) -> String {
    format!(
        "  run \"{name}\" {{\n    speed: 700 rpm\n    calibration masses: off\n{more}    reading left: 900.00 g·mm @ 70 deg\n    reading right: 650.00 g·mm @ 300 deg\n  }}\n"
    )
}

/// `x`, `y` and expanded uncertainty of the unbalance of a plane in a run, in g·mm.
fn unbalance(book: &Book, run: &str, plane: &str) -> [f64; 3] {
    let path = format!("record job / run {run} / unbalance {plane}");
    let results = books::results(book);
    let (_, entry) = results.iter().find(|(found, _)| *found == path).unwrap_or_else(|| panic!("no {path}"));
    let Outcome::Vector { base, angle, standard, .. } = entry.outcome else { panic!("{}", text_of(book, entry)) };
    [base * 1e6 * angle.cos(), base * 1e6 * angle.sin(), 2e6 * standard]
}

fn at(amount: f64, degrees: f64) -> [f64; 2] {
    [amount * degrees.to_radians().cos(), amount * degrees.to_radians().sin()]
}

#[track_caller]
fn near(found: [f64; 3], parts: &[[f64; 2]]) {
    let by_hand = parts.iter().fold([0.0, 0.0], |[x, y], part| [x + part[0], y + part[1]]);
    assert!((found[0] - by_hand[0]).hypot(found[1] - by_hand[1]) < 0.01, "{found:?} is not {by_hand:?}");
}

const RING: &str = "  extra mass \"ring on journal 2\" {
    mass: 212 g ± 1 g
    radius: 1.4 mm
    angle: 85 deg
    at: 164 mm
    on: only while balancing
  }
";

/// 212 g · 1.4 mm = 296.8 g·mm @ 85 deg at 164 mm: (164 − 52) ÷ 136 = 0.8235 of it in the last plane, the rest in the
/// first. It comes out of each reading, but of the run that was made without it.
#[test]
fn a_ring_that_is_on_while_balancing_is_taken_out_of_each_reading() {
    let record = run("on", "") + &run("off", "    without: \"ring on journal 2\"\n");
    let book = sheet(RING, "", &record);
    near(unbalance(&book, "on", "first"), &[at(900.0, 70.0), at(-296.8 * 24.0 / 136.0, 85.0)]);
    near(unbalance(&book, "on", "last"), &[at(650.0, 300.0), at(-296.8 * 112.0 / 136.0, 85.0)]);
    near(unbalance(&book, "off", "last"), &[at(650.0, 300.0)]);
    // In the setup it is the same.
    let of_setup = sheet("", RING, &record);
    near(unbalance(&of_setup, "on", "last"), &[at(650.0, 300.0), at(-296.8 * 112.0 / 136.0, 85.0)]);
}

/// A full key that the shaft has only in service: 6.1 g · 13 mm = 79.3 g·mm @ 0 deg at 268 mm, outside both planes, acts by
/// (268 − 52) ÷ 136 = 1.588 in the last and by −0.588 in the first.
#[test]
fn what_is_on_only_in_service_counts_in_what_is_judged() {
    let key = RING.replace("212 g ± 1 g", "6.1 g").replace("1.4 mm", "13 mm").replace("85 deg", "0 deg");
    let key = key.replace("164 mm", "268 mm").replace("only while balancing", "only in service");
    let book = sheet(&key, "", &run("found", ""));
    near(unbalance(&book, "found", "first"), &[at(900.0, 70.0), at(-79.3 * 80.0 / 136.0, 0.0)]);
    near(unbalance(&book, "found", "last"), &[at(650.0, 300.0), at(79.3 * 216.0 / 136.0, 0.0)]);
}

/// 212 g · 1.4 mm = 296.8 g·mm that the rotor has in service and had not in a run: 24 ÷ 136 of it are put into the first plane, 112 ÷ 136 into
/// the last. What is on only in service is put in whether or not the run names it.
#[test]
fn what_the_rotor_has_in_service_is_put_into_a_run_without_it() {
    let record = run("on", "") + &run("off", "    without: \"ring on journal 2\"\n");
    for (on, with_it) in [("always", 0.0), ("as in service", 0.0), ("only in service", 296.8)] {
        let book = sheet(&RING.replace("only while balancing", on), "", &record);
        near(unbalance(&book, "on", "last"), &[at(650.0, 300.0), at(with_it * 112.0 / 136.0, 85.0)]);
        near(unbalance(&book, "off", "first"), &[at(900.0, 70.0), at(296.8 * 24.0 / 136.0, 85.0)]);
        near(unbalance(&book, "off", "last"), &[at(650.0, 300.0), at(296.8 * 112.0 / 136.0, 85.0)]);
    }
}

/// Bob weights stand for what is there in service: nothing is taken out. How well they are known counts: 0.5 g at 30 mm is
/// 15 g·mm, of which 0.7206 act in the first plane, 52 mm from the end, at 90 mm.
#[test]
fn a_weight_as_in_service_counts_by_its_uncertainty_alone() {
    let bob = RING
        .replace("212 g ± 1 g", "640.0 g ± 0.5 g")
        .replace("1.4 mm", "30 mm ± 0 mm")
        .replace("85 deg", "90 deg ± 0 deg");
    let bob = bob.replace("164 mm", "90 mm").replace("only while balancing", "as in service");
    let with = unbalance(&sheet(&bob, "", &run("found", "")), "found", "first");
    let without = unbalance(&sheet("", "", &run("found", "")), "found", "first");
    near(with, &[at(900.0, 70.0)]);
    let by_hand = 15.0 * 98.0 / 136.0 * (20_f64.to_radians().cos());
    assert!((with[2].powi(2) - without[2].powi(2)).sqrt() > 0.8 * by_hand, "{with:?} {without:?}");
}

/// A mass that is always on is part of the rotor: it is not taken out, and where it is opposite to what is needed it
/// comes off first. 3 g at place 1, and 70 g·mm too much at 0 deg.
#[test]
fn a_mass_that_is_always_on_may_come_off() {
    let mass = "  extra mass \"old clip\" {
    mass: 3.0 g
    plane: first
    place: 1
    on: always
  }
";
    let record = run("found", "").replace("900.00 g·mm @ 70 deg", "70.00 g·mm @ 0 deg") + "  correction first {\n  }\n";
    let book = sheet(mass, "", &record);
    near(unbalance(&book, "found", "first"), &[at(70.0, 0.0)]);
    let results = books::results(&book);
    let (_, entry) = results.iter().find(|(path, _)| path == "record job / correction first / places").unwrap();
    assert_eq!(text_of(&book, entry), "1: 0 deg | -1.00 g");
}

/// What rides in service is at the same pin as far out as while balancing, however well that is known: 0.5 mm at 640 g would be
/// 320 g·mm, and half a degree of 19,200 g·mm another 168. Neither counts, and the run is known as well as with both exact.
#[test]
fn a_weight_as_in_service_is_where_it_is_in_service() {
    let bob = RING.replace("212 g ± 1 g", "640.0 g ± 0.5 g").replace("only while balancing", "as in service");
    let known_to = |places: [&str; 3]| {
        let bob = bob.replace("1.4 mm", places[0]).replace("85 deg", places[1]).replace("164 mm", places[2]);
        unbalance(&sheet(&bob, "", &run("found", "")), "found", "first")[2]
    };
    let [rounded, exact] =
        [["30 mm", "90 deg", "90 mm"], ["30 mm ± 0 mm", "90 deg ± 0 deg", "90 mm ± 0 mm"]].map(known_to);
    assert!((rounded / exact - 1.0).abs() < 1e-9, "{rounded} {exact}");
}

/// G 16 of 12 kg at 3000 r/min is 611.15 g·mm, 305.6 at each bearing. The ring, 296.8 g·mm at 164 mm, is 164 ÷ 240 of that at B,
/// 202.8 g·mm, and comes out of what is read whatever its angle: what both planes read may point with it. 102.8 g·mm are left,
/// less what the ring is known to: 212 g · 0.05 mm of its radius and 1 g · 1.4 mm, ± 9 there. Plain geometry.
#[test]
fn a_ring_that_comes_out_of_readings_leaves_less_to_read() {
    let told = sheet(RING, "", "");
    let most =
        ["first", "last"].map(|plane| books::amount(&told, &format!("setup sheet / limit to read {plane}"), "g·mm").0);
    assert!(most.iter().all(|most| (88.0..102.8).contains(most)), "{most:?}");
    let verdict = |share: f64, angle: u32| {
        let reading = |most: f64| format!("{:.2} g·mm @ {angle} deg", most * share);
        let record = run("found", "").replace("900.00 g·mm @ 70 deg", &reading(most[0]));
        let record = record.replace("650.00 g·mm @ 300 deg", &reading(most[1]));
        let book = sheet(RING, "", &record);
        let results = books::results(&book);
        let (_, entry) = results.iter().find(|(path, _)| path == "record job / verdict").unwrap();
        text_of(&book, entry)
    };
    for angle in (0..360).step_by(20).chain([85, 265]) {
        assert!(verdict(1.0, angle).starts_with("within"), "{angle}: {}", verdict(1.0, angle));
    }
    // Half a turn from the ring the two add up: a tenth more is too much, and nowhere else.
    assert!(verdict(1.1, 265).starts_with("not shown"), "{}", verdict(1.1, 265));
    assert!(verdict(1.1, 85).starts_with("within"), "{}", verdict(1.1, 85));
}
