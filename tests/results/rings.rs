//! Masses on a ring without places, of which one place takes so much. Right answers by hand.

use super::ledger::{Row, asked, did, near, proposed, run, said, sheet};

const RING: &str = "    radius: 100 mm
    correct: add
    method: clamping
    most per place: 80 g";

/// What is ordered where 80 g are on at 100 deg and so many grams more are wanted at an angle.
fn beside(plane: &str, on: f64, wanted: f64, angle: f64) -> Vec<Row> {
    let heavy = |grams: f64, angle: f64| format!("{} g·mm @ {} deg", grams * 100.0, (angle + 180.0) % 360.0);
    let record = run("found", &heavy(on, 100.0))
        + &did(&format!("add: {on} g\n    angle: 100 deg"))
        + &run("then", &heavy(wanted, angle))
        + &asked();
    let book = sheet(plane, &record);
    assert_eq!(said(&book, "correction rim / not reached"), None);
    let mut rows = proposed(&book).unwrap_or_default();
    rows.sort_by(|a, b| a.1.total_cmp(&b.1));
    rows
}

/// The place at 100 deg is full. 20 g more there are 20 ÷ (2·cos 10) = 10.154 g at 90 and at 110 deg. At 101 deg the same two
/// places make it: 20·sin 9 ÷ sin 20 = 9.148 g at 90, 11 deg off it on the far side, and 20·sin 11 ÷ sin 20 = 11.158 g at 110
/// (law of sines), and at 109 deg 20·sin 1 ÷ sin 20 = 1.0205 and 20·sin 19 ÷ sin 20 = 19.038 g. At 111 deg nothing is in the way: one mass, which has its results of its own and no table.
#[test]
fn beside_a_full_place_the_order_goes_to_either_side() {
    for (angle, first, second) in [(100.0, 10.154, 10.154), (101.0, 9.148, 11.158), (109.0, 1.0205, 19.038)] {
        let rows = beside(RING, 80.0, 20.0, angle);
        let [(_, at, one, None), (_, then, other, None)] = &rows[..] else { panic!("{angle}: {rows:?}") };
        near(*at, 90.0, 1e-6);
        near(*then, 110.0, 1e-6);
        near(*one, first, 1e-3);
        near(*other, second, 1e-3);
    }
    assert_eq!(beside(RING, 80.0, 20.0, 111.0), []);
}

/// 50 g are on where 80 g may be: of 60 g more 30 go there, and 30 ÷ (2·cos 10) = 15.231 g to either side.
#[test]
fn what_is_left_of_a_place_is_used_first() {
    let rows = beside(RING, 50.0, 60.0, 100.0);
    let [(_, before, one, None), (_, at, middle, None), (_, after, other, None)] = &rows[..] else {
        panic!("{rows:?}")
    };
    for (found, by_hand) in [(before, 90.0), (at, 100.0), (after, 110.0)] {
        near(*found, by_hand, 1e-6);
    }
    for (found, by_hand) in [(one, 15.231), (middle, 30.0), (other, 15.231)] {
        near(*found, by_hand, 1e-3);
    }
    // 4 deg beside it is the same place: 30 g fit there.
    assert_eq!(beside(RING, 50.0, 30.0, 104.0), []);
}

/// A weight of 35 mm at 100 mm takes up 0.35 rad, 20.05 deg: the next one is 21 deg from it. 20 ÷ (2·cos 21) = 10.711 g.
#[test]
fn the_length_of_a_weight_is_its_room() {
    let rows = beside(&format!("{RING}\n    weight length: 35 mm"), 80.0, 20.0, 100.0);
    let [(_, at, one, None), (_, then, other, None)] = &rows[..] else { panic!("{rows:?}") };
    near(*at, 79.0, 1e-6);
    near(*then, 121.0, 1e-6);
    near(*one, 10.711, 1e-3);
    near(*other, 10.711, 1e-3);
}

/// Barred from 105 to 130 deg: beside the full place at 100 it is 90 before, and a degree after the range, 131. 20 g at 100 by
/// the law of sines, 41 deg between them: 20·sin 31 ÷ sin 41 = 15.701 g at 90, 20·sin 10 ÷ sin 41 = 5.294 g at 131.
#[test]
fn a_barred_range_beside_a_full_place_is_kept_out_of() {
    let rows = beside(&format!("{RING}\n    barred: 105 deg to 130 deg"), 80.0, 20.0, 100.0);
    let [(_, at, one, None), (_, then, other, None)] = &rows[..] else { panic!("{rows:?}") };
    near(*at, 90.0, 1e-6);
    near(*then, 131.0, 1e-6);
    near(*one, 15.701, 1e-3);
    near(*other, 5.294, 1e-3);
}
