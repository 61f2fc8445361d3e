//! Holes side by side: where they go, how deep they are, and what their chips weigh. Right answers by hand.

use super::ledger::{Row, asked, did, near, proposed, run, said, sheet};
use crate::support::books;
use rotorbook::book::Outcome;

/// What rows take off a rotor, by the integrals of a hole in a round surface with a point of 118 degrees in steel: each as x
/// and y in g·mm.
fn taken(rows: &[Row], surface: f64, diameter: f64) -> [f64; 2] {
    rows.iter().fold([0.0, 0.0], |[x, y], (_, angle, _, depth)| {
        let one = hole(surface, diameter, depth.expect("a hole has its depth"));
        [x + one * angle.to_radians().cos(), y + one * angle.to_radians().sin()]
    })
}

fn hole(surface: f64, diameter: f64, depth: f64) -> f64 {
    let tip = diameter / 2.0 / 59_f64.to_radians().tan();
    let section = std::f64::consts::PI * diameter * diameter / 4.0;
    let below_a_flat = section * (depth * (surface - depth / 2.0) + tip / 3.0 * (surface - depth - tip / 4.0));
    7.85e-3 * (below_a_flat - std::f64::consts::PI * (diameter / 2.0).powi(4) / 8.0)
}

/// How near the middles of two holes come where both still have their full diameter.
fn nearest(rows: &[Row], surface: f64) -> f64 {
    let mut least = f64::INFINITY;
    for (n, one) in rows.iter().enumerate() {
        for other in &rows[..n] {
            let radius = surface - one.3.unwrap().min(other.3.unwrap());
            least = least.min(2.0 * radius * ((one.1 - other.1).to_radians() / 2.0).sin().abs());
        }
    }
    least
}

const DRILLED: &str = "    correct: remove
    method: drilling
    direction: radial
    material: steel
    hole diameter: 8 mm
    depth: up to 16 mm";

/// The old hole is 15 mm deep at 0 degrees, where 15 mm are left to the axis: middles 10 mm apart down there are
/// 2·arcsin(10 ÷ 30) = 38.94 deg apart, so 39 in whole degrees. 150 g·mm towards 0 are 150 ÷ (2·cos 39) = 96.51 each, which a
/// hole of 9.04 mm takes.
#[test]
fn no_hole_is_drilled_into_an_old_one() {
    let plane = format!("{DRILLED}\n    surface radius: 30 mm\n    holes at most: 2\n    hole spacing at least: 10 mm");
    let record =
        run("found", "300 g·mm @ 0 deg") + &did("depth: 15 mm\n    angle: 0 deg") + &run("then", "150 g·mm @ 0 deg");
    let book = sheet(&plane, &(record + &asked()));
    let rows = proposed(&book).unwrap();
    let mut angles: Vec<f64> = rows.iter().map(|row| row.1).collect();
    angles.sort_by(f64::total_cmp);
    let [first, second] = angles[..] else { panic!("{rows:?}") };
    near(first, 39.0, 0.001);
    near(second, 360.0 - 39.0, 0.001);
    assert!(rows.iter().all(|row| (row.3.unwrap() - 9.0365).abs() < 0.001), "{rows:?}");
    assert_eq!(said(&book, "correction rim / not reached"), None);
}

/// Radial holes come nearer to each other towards the axis. 480 g·mm take 5 holes of 14.04 mm, 31 deg apart: middles
/// 8.5 mm apart at their bottoms are 30.90 deg; 4 as deep run into each other. The most that 6 make is 498.976 g·mm, at 13.026
/// mm: 29 deg apart: by
/// brute force over depth, number and whole degrees.
#[test]
fn holes_towards_the_axis_do_not_meet() {
    let plane =
        format!("{DRILLED}\n    surface radius: 30 mm\n    holes at most: 6\n    hole spacing at least: 8.5 mm");
    let book = sheet(&plane, &(run("found", "480 g·mm @ 0 deg") + &asked()));
    let rows = proposed(&book).unwrap();
    assert_eq!(said(&book, "correction rim / holes").unwrap(), "5");
    assert!(nearest(&rows, 30.0) >= 8.5 - 1e-6, "{rows:?}");
    assert!(rows.iter().all(|row| (row.3.unwrap() - 14.042).abs() < 0.001), "{rows:?}");
    let [x, y] = taken(&rows, 30.0, 8.0);
    near(x, 480.0, 0.01);
    near(y, 0.0, 0.01);
    let (most, _) = books::amount(&book, "rotor part / plane rim / greatest correction", "g·mm");
    near(most, 498.976, 0.01);
    let beyond = sheet(&plane, &(run("found", "600 g·mm @ 0 deg") + &asked()));
    assert!(said(&beyond, "correction rim / not reached").is_some());
    assert!(nearest(&proposed(&beyond).unwrap(), 30.0) >= 8.5 - 1e-6);
}

/// What is called for is what comes out, so that chips can be weighed: 120 g·mm are a hole of 12.24 mm and 5.121 g, and 300
/// g·mm three of 10.36 mm and 4.376 g each, 13.13 g in all. A record that says so did what was called for. By the volume and
/// the moment of a hole in a round surface, solved for the depth apart from the program.
#[test]
fn the_mass_that_is_called_for_is_that_of_the_chips() {
    let plane =
        format!("{DRILLED}\n    surface radius: 30 mm\n    holes at most: 6\n    hole spacing at least: 8.5 mm");
    for (called_for, weighs) in [(120.0, 5.1213), (300.0, 13.1284)] {
        let found = run("found", &format!("{called_for} g·mm @ 0 deg"));
        let book = sheet(&plane, &(found.clone() + &asked()));
        near(books::amount(&book, "record job / correction rim / remove", "g").0, weighs, 2e-3);
        let told = sheet(&plane, &(found + &did(&format!("remove: {weighs} g\n    angle: 0 deg"))));
        let (path, entry) = books::results(&told).into_iter().find(|(path, _)| path.ends_with("rim / done")).unwrap();
        let Outcome::Vector { base, .. } = entry.outcome else { panic!("{path}: {entry:?}") };
        near(base * 1e6, called_for, called_for * 1e-3);
        assert_eq!(said(&told, "correction rim / fit").unwrap(), "as called for");
    }
}

/// Barred from 5 to 60 deg, and 1800 g·mm at 0: three holes side by side do not fit there. What is proposed keeps out of
/// the range with its edge (asin(4 ÷ 100) = 2.29 deg), stands 10 mm apart, and makes all of it.
#[test]
fn holes_side_by_side_keep_out_of_a_barred_range() {
    let plane = format!(
        "{DRILLED}\n    surface radius: 100 mm\n    holes at most: 6\n    hole spacing at least: 10 mm\n    barred: 5 deg to 60 deg"
    );
    let book = sheet(&plane, &(run("found", "1800 g·mm @ 0 deg") + &asked()));
    let rows = proposed(&book).unwrap();
    assert!(rows.iter().all(|row| row.1 >= 60.0 + 2.29 || row.1 <= 5.0 - 2.29), "{rows:?}");
    assert!(rows.iter().all(|row| row.3.unwrap() <= 16.0 + 1e-9), "{rows:?}");
    assert!(nearest(&rows, 100.0) >= 10.0 - 1e-6, "{rows:?}");
    let [x, y] = taken(&rows, 100.0, 8.0);
    near(x, 1800.0, 0.1);
    near(y, 0.0, 0.1);
}

/// One hole of 14 mm, 22 mm deep at the most, to either side of a range from 120 to 240 deg: 1782 g·mm each. Of 2160 at
/// 170 deg, all of the one at 113.6 and 2160·cos 76.36 − 1782.1·cos 132.71 = 1718 g·mm of the other: the nearest that two
/// such holes make. What they leave is said of the same two.
#[test]
fn what_a_barred_range_leaves_undone_is_said_of_holes_that_can_be_drilled() {
    let plane = "    correct: remove
    method: drilling
    direction: radial
    material: steel
    surface radius: 75 mm
    hole diameter: 14 mm
    depth: up to 22 mm
    barred: 120 deg to 240 deg";
    let book = sheet(plane, &(run("found", "2160 g·mm @ 170 deg") + &asked()));
    let mut rows = proposed(&book).unwrap();
    rows.sort_by(|a, b| a.1.total_cmp(&b.1));
    let [first, second] = &rows[..] else { panic!("{rows:?}") };
    near(first.1, 113.645, 0.001);
    near(first.3.unwrap(), 22.0, 1e-6);
    near(second.1, 246.355, 0.001);
    near(hole(75.0, 14.0, second.3.unwrap()), 1718.3, 1.0);
    let [x, y] = taken(&rows, 75.0, 14.0);
    let wanted = 170_f64.to_radians();
    let left = (2160.0 * wanted.cos() - x).hypot(2160.0 * wanted.sin() - y);
    let results = books::results(&book);
    let (_, entry) = results.iter().find(|(path, _)| path == "record job / correction rim / not reached").unwrap();
    let Outcome::Vector { base, .. } = entry.outcome else { panic!("{entry:?}") };
    near(base * 1e6, left, 0.01);
}

/// The wall after the hole is 10 mm, of which 3 must stay, and the point of an 8 mm drill is 2.40 mm long: no hole is
/// deeper than 4.60 mm, whatever `depth` allows.
#[test]
fn holes_end_before_the_wall() {
    let plane = format!(
        "{DRILLED}\n    surface radius: 100 mm\n    wall: 10 mm\n    wall at least: 3 mm\n    holes at most: 3\n    hole spacing at least: 12 mm"
    );
    let rows = proposed(&sheet(&plane, &(run("found", "500 g·mm @ 0 deg") + &asked()))).unwrap();
    assert!(rows.len() > 1 && rows.iter().all(|row| row.3.unwrap() <= 4.6), "{rows:?}");
}

/// Angles are ordered in whole degrees, and holes still keep apart. The surface is at 80 mm and one hole, 20 mm deep at the most,
/// takes 955 g·mm of 1400 at 40 deg: two holes. Two of them 14.2 mm deep are 2·arcsin(7 ÷ 65.8) = 12.22 deg apart at
/// their bottoms, so 13: 33.5 and 46.5 deg, ordered as 34 and 47, 14.9 mm apart.
#[test]
fn rounded_angles_keep_holes_apart() {
    let plane = "    correct: remove
    method: drilling
    material: steel
    surface diameter: 160 mm
    hole diameter: 10 mm
    depth: up to 20 mm
    hole spacing at least: 14 mm
    holes at most: 3";
    let book = sheet(plane, &(run("found", "1400 g·mm @ 40 deg") + &asked()));
    let mut angles: Vec<f64> = proposed(&book).unwrap().iter().map(|row| row.1).collect();
    angles.sort_by(f64::total_cmp);
    let [first, second] = angles[..] else { panic!("{angles:?}") };
    near(first, 33.5, 1e-6);
    near(second, 46.5, 1e-6);
    // Whatever the direction, no two rounded angles are nearer than 14 mm where both holes have their full diameter.
    for tenths in 0..40 {
        let wanted = format!("2100 g·mm @ {:.1} deg", 245.0 + f64::from(tenths) / 10.0);
        let mut rows = proposed(&sheet(plane, &(run("found", &wanted) + &asked()))).unwrap();
        rows.iter_mut().for_each(|row| row.1 = (row.1 + 1e-6).round());
        assert!(nearest(&rows, 80.0) >= 14.0, "{wanted}: {rows:?}");
    }
}
