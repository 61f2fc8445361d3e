//! Places round a plane: sums of vectors against what the formulas say of them.

use super::close;
use proptest::prelude::*;
use rotorbook::mechanics::correction::holes::{holes_along_arc, holes_needed, most_from_holes};
use rotorbook::mechanics::correction::places::{AngularRange, Capacity, Numbering, equally_spaced};
use rotorbook::mechanics::correction::split::{neighbours, on_two_places};
use rotorbook::units::{Angle, Unbalance, Vector};

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
        let (count, most) = most_from_holes(each, Angle::degrees(spacing)).unwrap();
        prop_assert!(formula <= most * (1.0 + 1e-12));
        let needed = holes_needed(formula, each, Angle::degrees(spacing)).unwrap();
        prop_assert!(needed <= holes && needed <= count);
        let enough = holes_along_arc(each, needed, Angle::degrees(spacing)).unwrap();
        prop_assert!(enough >= formula * (1.0 - 1e-6));
    }

    #[test]
    fn two_places_make_the_wanted_vector(direction in 0.0..360.0, count in 3_u32..40, first in 0.0..360.0) {
        let places = equally_spaced(count, Angle::degrees(first), Numbering::AgainstAngles).unwrap();
        let wanted = unit(direction) * 7.0;
        let [before, after] = neighbours(wanted.angle(), &places).unwrap().map(|place| places[place]);
        let [at_first, at_second] = on_two_places(wanted, before, after).unwrap();
        prop_assert!(at_first >= Unbalance::ZERO && at_second >= Unbalance::ZERO);
        let fitted = Vector::from_polar(at_first, before) + Vector::from_polar(at_second, after);
        prop_assert!((fitted - wanted).amount().in_gram_millimetres() < 1e-9);
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
