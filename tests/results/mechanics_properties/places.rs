//! Places round a plane: sums of vectors against what the formulas say of them.

use super::close;
use proptest::prelude::*;
use rotorbook::mechanics::correction::holes::{equal_holes, holes_along_arc, most_together, spacing_angle};
use rotorbook::mechanics::correction::places::{AngularRange, Capacity};
use rotorbook::mechanics::correction::spread::{Way, over_ways, together};
use rotorbook::units::{Angle, Length, Unbalance, Vector};

fn unit(degrees: f64) -> Vector<Unbalance> {
    Vector::from_polar(Unbalance::gram_millimetres(1.0), Angle::degrees(degrees))
}

fn angles(degrees: &[f64]) -> Vec<Angle> {
    degrees.iter().copied().map(Angle::degrees).collect()
}

/// How far the sum of the places' segments reaches along a normal, by its definition.
fn reach(degrees: &[f64], normal: f64) -> f64 {
    degrees.iter().map(|place| (place - normal).to_radians().cos().max(0.0)).sum()
}

proptest! {
    #[test]
    fn capacity_is_what_the_half_planes_of_many_normals_leave(
        degrees in prop::collection::vec(0.0..360.0, 3..9), towards in 0.0..360.0,
    ) {
        let capacity = Capacity::new(Unbalance::gram_millimetres(1.0), &angles(&degrees)).unwrap();
        let normals = (0..7200).map(|n| f64::from(n) / 20.0);
        let along = |normal: f64, direction: f64| (normal - direction).to_radians().cos();
        // Every normal gives an upper bound; among so many one comes close to the least. Only just outside the spread of
        // the places none of a twentieth of a degree does: there the normals of the edges themselves are needed.
        let edges: Vec<f64> = degrees.iter().flat_map(|place| [place + 90.0, place - 90.0]).collect();
        // Along an edge its normal says nothing.
        prop_assume!(edges.iter().all(|edge| along(*edge, towards).abs() > 1e-6));
        let bound = |direction: f64| {
            let limits = normals.clone().filter(|normal| along(*normal, direction) > 1e-3);
            let limits = limits.chain(edges.iter().copied().filter(|edge| along(*edge, direction) > 1e-6));
            limits.map(|normal| reach(&degrees, normal) / along(normal, direction)).fold(f64::INFINITY, f64::min)
        };
        let exact = capacity.towards(Angle::degrees(towards)).unwrap().in_gram_millimetres();
        let bound = bound(towards);
        prop_assert!(exact <= bound + 1e-9 && bound - exact < 0.2, "{exact} {bound}");
        let everywhere = capacity.everywhere().unwrap().in_gram_millimetres();
        let least = normals.clone().map(|normal| reach(&degrees, normal)).fold(f64::INFINITY, f64::min);
        prop_assert!(everywhere <= least + 1e-9 && least - everywhere < 0.02, "{everywhere} {least}");
        let best = capacity.best().unwrap().in_gram_millimetres();
        let most = normals.map(|normal| reach(&degrees, normal)).fold(0.0, f64::max);
        prop_assert!(best >= most - 1e-9 && best - most < 0.01, "{best} {most}");
        prop_assert!(everywhere <= exact + 1e-9 && exact <= best + 1e-9);
    }

    #[test]
    fn holes_along_an_arc_are_the_sum_of_their_vectors(holes in 1_u32..40, spacing in 0.5..9.0) {
        let each = Unbalance::gram_millimetres(1.0);
        let sum: Vector<Unbalance> = (0..holes).map(|hole| unit(f64::from(hole) * spacing)).sum();
        let formula = holes_along_arc(each, holes, Angle::degrees(spacing)).unwrap();
        prop_assert!((sum.amount() - formula).abs().in_gram_millimetres() < 1e-9);
    }

    /// Holes that come nearer to each other the deeper they are: what is asked of them is made, and no depth makes more
    /// than the most.
    #[test]
    fn equal_holes_make_what_is_wanted(holes in 2_u32..9, share in 0.1..0.99, spacing in 2.0..9.0) {
        let length = Length::millimetres;
        let each = |depth: Length| Some(Unbalance::gram_millimetres(5.0 + depth.in_millimetres()));
        let apart = |depth: Length| spacing_angle(length(spacing), length(30.0) - depth).ok();
        let deepest = length(20.0);
        let sum = |holes: u32, depth: Length| holes_along_arc(each(depth)?, holes, apart(depth)?).ok();
        let most = most_together(holes, deepest, each, apart).unwrap();
        for step in 0..=57 {
            let sum = sum(holes, deepest * (f64::from(step) / 57.0));
            prop_assert!(sum.is_none_or(|sum| sum <= most * (1.0 + 1e-9)));
        }
        let depth_of = |one: Unbalance| Some(length(one.in_gram_millimetres() - 5.0)).filter(|depth| *depth >= Length::ZERO);
        if let Some((depth, angle)) = equal_holes(most * share, holes, deepest, depth_of, apart) {
            prop_assert!(depth <= deepest && angle >= apart(depth).unwrap());
            prop_assert!((angle.in_degrees() - angle.in_degrees().round()).abs() < 1e-9);
            let made: Unbalance = holes_along_arc(each(depth).unwrap(), holes, angle).unwrap() - most * share;
            prop_assert!(made.abs() <= most * 1e-9);
        }
    }

    /// Without limits two neighbours make any vector; with them, what is made costs no more than any other choice that
    /// makes it, and what is left is no longer than what any other choice leaves.
    #[test]
    fn shares_make_what_is_wanted_at_the_least_cost(
        direction in 0.0..360.0, wanted in 0.1..20.0,
        ways in prop::collection::vec((0.0..360.0, 0.1..8.0, 0.2..2.0), 2..7), others in prop::collection::vec(0.0..1.0, 6),
    ) {
        let way = |(angle, most, cost): &(f64, f64, f64)| Way {
            angle: Angle::degrees(*angle),
            most: Some(Unbalance::gram_millimetres(*most)),
            cost: *cost,
        };
        let ways: Vec<Way<Unbalance>> = ways.iter().map(way).collect();
        let cost = |shares: &[(usize, Unbalance)]| -> f64 {
            shares.iter().map(|(way, share)| ways[*way].cost * share.in_gram_millimetres()).sum()
        };
        // Another choice, and what it makes.
        let other: Vec<(usize, Unbalance)> =
            ways.iter().enumerate().map(|(n, way)| (n, way.most.unwrap() * others[n])).collect();
        let made = together(&ways, &other);
        let spread = over_ways(made, &ways).unwrap();
        prop_assert!(spread.left.amount().in_gram_millimetres() < 1e-6 * made.amount().in_gram_millimetres());
        prop_assert!(cost(&spread.shares) <= cost(&other) * (1.0 + 1e-6));
        let spread = over_ways(unit(direction) * wanted, &ways).unwrap();
        prop_assert!(spread.left.amount() <= (unit(direction) * wanted - made).amount() * (1.0 + 1e-9));
        prop_assert!(spread.shares.iter().all(|(way, share)| *share <= ways[*way].most.unwrap() * (1.0 + 1e-9)));
    }
}

#[test]
fn barred_ranges_may_pass_zero() {
    let range = AngularRange { from: Angle::degrees(350.0), to: Angle::degrees(10.0) };
    let inside = |degrees: f64| range.contains(Angle::degrees(degrees));
    assert!(inside(350.0) && inside(0.0) && inside(360.0) && inside(5.0) && !inside(180.0) && !inside(349.0));
    let whole = AngularRange { from: Angle::degrees(0.0), to: Angle::degrees(360.0) };
    assert!(whole.contains(Angle::degrees(180.0)));
}

#[test]
fn places_on_one_side_correct_nothing_towards_the_other() {
    let one_sided = Capacity::new(Unbalance::gram_millimetres(5.0), &angles(&[0.0, 40.0, 90.0])).unwrap();
    assert!(one_sided.everywhere().unwrap().in_gram_millimetres() < 1e-9);
    assert!(one_sided.towards(Angle::degrees(225.0)).unwrap().in_gram_millimetres() < 1e-9);
    // A hair outside the spread is outside.
    let near = Capacity::new(Unbalance::gram_millimetres(1.0), &angles(&[35.440, 139.189, 115.064])).unwrap();
    assert!(near.towards(Angle::degrees(35.429)).unwrap().in_gram_millimetres() < 1e-9);
    let single = Capacity::new(Unbalance::gram_millimetres(5.0), &angles(&[30.0])).unwrap();
    assert!(close(single.best().unwrap().in_gram_millimetres(), 5.0, 1e-12));
    assert!(close(single.towards(Angle::degrees(30.0)).unwrap().in_gram_millimetres(), 5.0, 1e-6));
}
