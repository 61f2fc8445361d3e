//! Supports, indexed runs, reduction and calibration errors.

use proptest::prelude::*;
use rotorbook::mechanics::calibration::{TakenAs, error_from_residual};
use rotorbook::mechanics::hard_supports::{Dimensions, Layout};
use rotorbook::mechanics::index::index_balancing;
use rotorbook::mechanics::machine::{residual_after_step, residual_from_traverse, steps_needed};
use rotorbook::mechanics::planes::Levers;
use rotorbook::units::{Angle, Force, Indication, Length, Ratio, Unbalance, Vector};

fn vector() -> impl Strategy<Value = Vector<Unbalance>> {
    (0.1..100.0, 0.0..360.0)
        .prop_map(|(amount, angle)| Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(angle)))
}

fn amount(vector: Vector<Unbalance>) -> f64 {
    vector.amount().in_gram_millimetres()
}

proptest! {
    #[test]
    fn supports_feel_planes_as_bearings_do(
        a in -500.0..500.0, b in 1.0..500.0, c in -500.0..500.0, first in vector(), second in vector(),
    ) {
        prop_assume!(a + b + c > 1.0);
        let [a, b, c] = [a, b, c].map(Length::millimetres);
        let dimensions = Dimensions {
            left_support_to_left_plane: a,
            between_planes: b,
            right_plane_to_right_support: c,
        };
        let levers = Levers::new([Length::ZERO, dimensions.span()], [a, a + b]).unwrap();
        let at_bearings = levers.at_bearings([first, second]);
        let force = |u: Vector<Unbalance>| u.map(|u| Force::newtons(u.in_gram_millimetres()));
        let at_supports = at_bearings.map(force);
        let back = dimensions.forces_in_planes(at_supports).unwrap();
        let scale = at_supports.iter().map(|force| force.amount().in_newtons()).sum::<f64>();
        let condition = dimensions.span() / b;
        for n in 0..2 {
            let difference = (back[n] - force([first, second][n])).amount().in_newtons();
            prop_assert!(difference <= 1e-12 * scale.max(1.0) * condition.value().max(1.0) * 1000.0);
        }
    }

    #[test]
    fn arbor_and_rotor_come_back_from_indexed_runs(
        arbor in vector(), rotor in vector(), steps in prop::collection::vec(20.0..70.0, 2..6),
    ) {
        let positions = steps.iter().scan(0.0, |at, step| { *at += step; Some(*at) });
        let reading = |at: f64| (Angle::degrees(at), arbor + rotor.rotate(Angle::degrees(at)));
        let readings: Vec<_> = positions.map(reading).collect();
        let indexed = index_balancing(&readings).unwrap();
        prop_assert!(amount(indexed.arbor - arbor) < 1e-9 && amount(indexed.rotor - rotor) < 1e-9);
        prop_assert!(indexed.scatter.in_gram_millimetres() < 1e-9);
    }

    #[test]
    fn the_steps_needed_are_enough_and_one_less_is_not(start in 1.0..1e4, reduction in 0.05..0.99) {
        let (unbalance, tolerance) = (Unbalance::gram_millimetres(start), Unbalance::gram_millimetres(1.0));
        let reduction = Ratio::new(reduction);
        let steps = steps_needed(unbalance, tolerance, reduction).unwrap();
        let after = |steps| (0..steps).fold(unbalance, |left, _| residual_after_step(left, reduction).unwrap());
        prop_assert!(after(steps) <= tolerance * (1.0 + 1e-6));
        prop_assert!(steps == 0 || after(steps - 1) > tolerance * (1.0 - 1e-6));
    }

    #[test]
    fn no_phase_of_the_residual_does_more_than_stated(residual in 0.0..2.0, phase in 0.0..360.0) {
        let calibration = Vector::from_polar(Unbalance::gram_millimetres(1.0), Angle::ZERO);
        let left = Vector::from_polar(Unbalance::gram_millimetres(residual), Angle::degrees(phase));
        let stated = |taken_as| {
            error_from_residual(taken_as, left.amount(), calibration.amount()).unwrap().value() + 1e-12
        };
        let (one, opposite) = (amount(calibration + left), amount(calibration - left));
        prop_assert!((one - 1.0).abs() <= stated(TakenAs::OnePosition));
        prop_assert!(((one + opposite) / 2.0 - 1.0).abs() <= stated(TakenAs::MeanOfTwoOppositePositions));
    }

    #[test]
    fn a_traverse_finds_a_residual_of_any_size(residual in 0.01..0.95, spot in 0.0..360.0, places in 6_u32..25) {
        let step = 360.0 / f64::from(places);
        let unit = |amount: f64, at: f64| Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(at));
        let reading = |n: u32| amount(unit(1.0, f64::from(n) * step) + unit(residual, spot));
        let readings: Vec<Indication> = (0..places).map(|n| Indication::new(reading(n))).collect();
        let found = residual_from_traverse(Unbalance::gram_millimetres(1.0), &readings).unwrap();
        let harmonic = found.residual_from_harmonic.in_gram_millimetres();
        prop_assert!((harmonic - residual).abs() <= 1e-6, "{harmonic}");
        prop_assert!((found.would_read_alike.in_gram_millimetres() * residual - 1.0).abs() <= 1e-5);
        prop_assert!(found.scatter.in_gram_millimetres() <= 1e-6);
        let off = (found.heavy_spot.in_degrees() - spot + 180.0).rem_euclid(360.0) - 180.0;
        prop_assert!(off.abs() < 1e-3, "{off}");
        prop_assert!(found.residual_from_extremes.in_gram_millimetres() <= residual * (1.0 + 1e-9));
    }
}

#[test]
fn layouts_follow_from_the_places() {
    let layout = |first: f64, second: f64| {
        let places = [first, second].map(Length::millimetres);
        let supports = [Length::ZERO, Length::millimetres(300.0)];
        Dimensions::from_places(supports, places).unwrap().layout()
    };
    assert_eq!(layout(50.0, 200.0), Layout::PlanesBetweenSupports);
    assert_eq!(layout(-50.0, 200.0), Layout::LeftPlaneOutside);
    assert_eq!(layout(50.0, 400.0), Layout::RightPlaneOutside);
    assert_eq!(layout(-50.0, 400.0), Layout::BothOutside);
    assert_eq!(layout(-80.0, -20.0), Layout::BothOutsideLeft);
    assert_eq!(layout(320.0, 400.0), Layout::BothOutsideRight);
}
