//! Shares of planes against brute force: the largest product of all that keep every limit.

use super::close;
use proptest::prelude::*;
use rotorbook::mechanics::limits::{Acting, Row, largest_product};
use rotorbook::units::{Length, Unbalance};

/// Bearings at 0 and 200 mm.
fn rows(planes: &[f64], limits: [f64; 2], more: &[(Acting, f64)]) -> Vec<Row> {
    let bearings = [0.0, 200.0].map(Length::millimetres);
    let at = [(Acting::AtBearing(0, bearings), limits[0]), (Acting::AtBearing(1, bearings), limits[1])];
    let planes: Vec<Length> = planes.iter().copied().map(Length::millimetres).collect();
    let row = |(acting, limit): (Acting, f64)| Row::new(acting, &planes, Unbalance::gram_millimetres(limit)).unwrap();
    at.into_iter().chain(more.iter().copied()).map(row).collect()
}

fn shares(rows: &[Row], planes: usize) -> Vec<f64> {
    let shares = largest_product(rows, planes).unwrap();
    shares.into_iter().map(Unbalance::in_gram_millimetres).collect()
}

fn product(shares: &[f64]) -> f64 {
    shares.iter().product()
}

/// The most of the last plane that all rows leave beside amounts in the others; below zero where these alone are too much.
fn rest(rows: &[Row], others: &[f64]) -> f64 {
    let amounts: Vec<Unbalance> = others.iter().chain(&[0.0]).copied().map(Unbalance::gram_millimetres).collect();
    let left = |row: &Row| {
        let left = row.limit().in_gram_millimetres() - row.worst(&amounts).in_gram_millimetres();
        let lever = row.lever(others.len()).value().abs();
        if lever > 1e-12 {
            left / lever
        } else if left >= -1e-9 {
            f64::INFINITY
        } else {
            -1.0
        }
    };
    rows.iter().map(left).fold(f64::INFINITY, f64::min)
}

/// The largest product on a grid of the first planes, the last one taking what is left.
fn on_a_grid(rows: &[Row], planes: usize, steps: usize) -> f64 {
    let most = |plane: usize| {
        let alone = rows.iter().map(|row| row.limit().in_gram_millimetres() / row.lever(plane).value().abs());
        alone.fold(f64::INFINITY, f64::min)
    };
    let values = |plane: usize| (1..=steps).map(move |n| n as f64 / steps as f64).map(move |part| part * most(plane));
    let with = |others: &[f64]| product(others) * rest(rows, others);
    match planes {
        2 => values(0).map(|first| with(&[first])).fold(0.0, f64::max),
        _ => values(0).flat_map(|a| values(1).map(move |b| [a, b])).map(|others| with(&others)).fold(0.0, f64::max),
    }
}

// The table of shares that was worked out apart from the program, by a barrier method and by trying corners; bearings at
// 0 and 200 mm, 200 g·mm in all: places of the planes, limits of the bearings, shares.
#[test]
fn shares_of_two_planes_as_worked_out_apart_from_the_program() {
    for (planes, limits, wanted) in [
        ([40.0, 160.0], [100.0, 100.0], [100.0, 100.0]),
        ([0.0, 200.0], [130.0, 70.0], [130.0, 70.0]),
        ([0.0, 100.0], [100.0, 100.0], [50.0, 100.0]),
        ([60.0, 120.0], [133.3, 66.7], [111.2, 55.6]),
        ([50.0, 150.0], [133.3, 66.7], [133.3, 44.5]),
        ([50.0, 150.0], [133.4, 66.6], [133.2, 44.4]),
        ([20.0, 30.0], [140.0, 60.0], [77.8, 82.4]),
        ([95.0, 105.0], [100.0, 100.0], [100.0, 100.0]),
        ([-40.0, 240.0], [100.0, 100.0], [71.4, 71.4]),
        ([250.0, 320.0], [60.0, 230.0], [120.0, 50.0]),
        ([250.0, 320.0], [60.0, 140.0], [56.0, 43.8]),
    ] {
        let found = shares(&rows(&planes, limits, &[]), 2);
        assert!(found.iter().zip(wanted).all(|(found, wanted)| (found - wanted).abs() < 0.11), "{planes:?}: {found:?}");
    }
}

// One plane at 20 mm may have what A leaves it, 100 ÷ 0.9; three planes, 66.7 each: the same table.
#[test]
fn shares_of_one_and_of_three_planes() {
    let one = shares(&rows(&[20.0], [100.0, 100.0], &[]), 1);
    assert!(close(one[0], 100.0 / 0.9, 1e-12), "{one:?}");
    let overhung = shares(&rows(&[260.0], [60.0, 240.0], &[]), 1);
    assert!((overhung[0] - 184.615).abs() < 0.001, "{overhung:?}");
    let three = shares(&rows(&[40.0, 100.0, 160.0], [100.0, 100.0], &[]), 3);
    assert!(three.iter().all(|share| (share - 200.0 / 3.0).abs() < 1e-6), "{three:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_grid_finds_a_larger_product(
        planes in prop::collection::vec(-150.0..350.0, 2..=3),
        limits in [10.0..200.0, 10.0..200.0],
        sum in prop::option::of(10.0..400.0),
        cap in prop::option::of(1.0..300.0),
    ) {
        let more = [sum.map(|limit| (Acting::Sum, limit)), cap.map(|limit| (Acting::InPlane(0), limit))];
        let rows = rows(&planes, limits, &more.into_iter().flatten().collect::<Vec<_>>());
        let found = shares(&rows, planes.len());
        let amounts: Vec<Unbalance> = found.iter().copied().map(Unbalance::gram_millimetres).collect();
        for row in &rows {
            prop_assert!((row.worst(&amounts) / row.limit()).value() <= 1.0 + 1e-9);
        }
        let steps = if planes.len() == 2 { 2000 } else { 60 };
        let best = on_a_grid(&rows, planes.len(), steps);
        prop_assert!(product(&found) >= best * (1.0 - 1e-9), "{found:?}: {} on a grid {best}", product(&found));
        // The grid is fine enough to come near.
        let near = if planes.len() == 2 { 0.99 } else { 0.8 };
        prop_assert!(best >= product(&found) * near);
    }

    // A relative step of 1e-6 of any number moves no share by more than a relative 1e-3.
    #[test]
    fn no_share_jumps(
        planes in prop::collection::vec(-150.0..350.0, 2..=3),
        limits in [10.0..200.0, 10.0..200.0],
        sum in 10.0..400.0,
        moved in 0_usize..6,
    ) {
        let by = |n: usize| if n == moved { 1.0 + 1e-6 } else { 1.0 };
        let before = shares(&rows(&planes, limits, &[(Acting::Sum, sum)]), planes.len());
        let planes: Vec<f64> = planes.iter().enumerate().map(|(n, at)| at * by(n)).collect();
        let limits = [limits[0] * by(3), limits[1] * by(4)];
        let after = shares(&rows(&planes, limits, &[(Acting::Sum, sum * by(5))]), planes.len());
        for (before, after) in before.iter().zip(&after) {
            prop_assert!((after / before - 1.0).abs() <= 1e-3, "{before} to {after}");
        }
    }
}
