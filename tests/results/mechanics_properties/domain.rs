//! Whatever goes in, a formula gives a finite answer or says what is wrong.

use proptest::prelude::*;
use rotorbook::mechanics::correction::arc::{Arc, ground_arc, ground_arc_depth};
use rotorbook::mechanics::correction::drilling::*;
use rotorbook::mechanics::correction::flat::{milled_flat, milled_flat_depth};
use rotorbook::mechanics::correction::{holes, places, sliding, slot, spread};
use rotorbook::mechanics::limits::{Acting, Row, largest_product};
use rotorbook::mechanics::weighing::{self, Placed};
use rotorbook::mechanics::*;
use rotorbook::units::*;

/// Any number at all, with the awkward ones among them.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => -1e3..1e3,
        2 => any::<f64>(),
        1 => prop::sample::select(vec![0.0, -0.0, 1.0, f64::NAN, f64::INFINITY, -f64::INFINITY, 5e-324, 1e308]),
    ]
}

fn finite<T: Amount>(answer: Computed<T>) -> bool {
    answer.is_err() || answer.is_ok_and(|value| value.raw().is_finite())
}

macro_rules! check {
    ($($answer:expr),* $(,)?) => {$(
        let answer = $answer;
        prop_assert!(finite(answer), "{}: {:?}", stringify!($answer), answer);
    )*};
}

/// A quantity of the type that is wanted, from a number in base units.
fn q<T: Typed>(base: f64) -> T {
    T::from_base(base)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3000))]

    #[test]
    fn of_rotors(v in prop::array::uniform6(any_number())) {
        let [a, b, c, d, e, f] = v;
        check!(
            tolerance::permissible_specific_unbalance(q(a), q(b)),
            tolerance::permissible_unbalance(q(a), q(b), q(c)),
            tolerance::equivalent_grade(q(a), q(b), q(c)),
            tolerance::scaled_by_mass_and_speed(q(a), (q(b), q(c)), (q(d), q(e))),
            tolerance::four_w_over_n(q(a), q(b)),
            weighing::from_parts(&[Placed { mass: q(a), at: q(b) }, Placed { mass: q(c), at: q(d) }]).map(|p| p.at),
            weighing::journal_loads(Placed { mass: q(a), at: q(b) }, q(c), q(d)).map(|loads| loads[0]),
            weighing::support_loads(&[Placed { mass: q(a), at: q(b) }], q(c), q(d)).map(|loads| loads[1]),
            allocation::by_mass_centre(q(a), q(b), q(c), q(d), allocation::Support::Inboard).map(|shares| shares.at_a),
            planes::static_and_couple_limits(q(a), q(b), q(c), q(d)).map(|limits| limits.couple),
            keyway::key_mass(q(a), q(b), q(c), q(d)),
            fits::unbalance_of_clearance(q(a), q(b)),
            fits::clearance_for_unbalance(q(a), q(b)),
            fits::couple_of_face_runout(q(a), q(b), q(c), q(d)),
            fits::root_of_squares::<Unbalance>(&[q(a), q(b)]),
            fits::worst_case::<Unbalance>(&[q(a), q(b)]),
        );
        let row = |n: usize, limit| Row::new(Acting::AtBearing(n, [q(a), q(b)]), &[q(c), q(d)], q(limit));
        if let (Ok(at_a), Ok(at_b)) = (row(0, e), row(1, f)) {
            let shares = largest_product(&[at_a, at_b], 2);
            check!(shares.clone().map(|shares| shares[0]), shares.map(|shares| shares[1]));
        }
    }

    #[test]
    fn of_setups(v in prop::array::uniform5(any_number())) {
        let [a, b, c, d, e] = v;
        check!(
            force::centrifugal_force(q(a), q(b)),
            force::unbalance_of_force(q(a), q(b)),
            force::rim_speed(q(a), q(b)),
            calibration::calibration_unbalance(q(a), q(b)),
            calibration::reading_to_set(q(a), q(b), Indication::new(c)),
            calibration::mass_for_reading(Indication::new(a), q(b), q(c), Indication::new(d)),
            calibration::radius_for_reading(Indication::new(a), q(b), q(c), Indication::new(d)),
            calibration::trial_mass(q(a), q(b), q(c), q(d)),
            drive::motor_speed(q(a), q(b), q(c), q(d)),
            drive::resonance_speed(q(a), q(b)),
            drive::soft_support_factor(q(a)),
            drive::hard_support_factor(q(a)),
            drive::band_of_equal_speed(q(a), q(b)).map(|band| band[1]),
            machine::minimum_achievable_per_plane(q(a), q(b)),
            machine::minimum_achievable_in_one_plane(q(a), q(b)),
            machine::unbalance_reduction_ratio(q(a), q(b)),
            machine::interference_ratio(Indication::new(a), Indication::new(b)),
        );
        let _ = machine::steps_needed(q(a), q(b), q(c));
        let readings = [a, b, c, d, e, 1.0].map(Indication::new);
        check!(machine::residual_from_traverse(q(a), &readings).map(|found| found.residual_from_harmonic));
        let vector = |x, y| Vector::<Force> { x: q(x), y: q(y) };
        let dimensions = hard_supports::Dimensions {
            left_support_to_left_plane: q(a),
            between_planes: q(b),
            right_plane_to_right_support: q(c),
        };
        check!(dimensions.forces_in_planes([vector(d, e), vector(e, d)]).map(|planes| planes[0].x));
        let readings = [(q(a), vector(b, c)), (q(d), vector(e, a))];
        check!(index::index_balancing(&readings).map(|indexed| indexed.arbor.x));
    }

    #[test]
    fn of_corrections(v in prop::array::uniform5(any_number())) {
        let [a, b, c, d, e] = v;
        let drill = Drill { diameter: q(a), point_angle: q(b) };
        let arc = Arc { surface_radius: q(a), width: q(b), full_angle: q(c) };
        check!(
            radial_hole(drill, q(c), q(d), q(e)).map(|piece| piece.radius),
            radial_hole_depth(drill, q(c), q(d), q(e)),
            axial_hole(drill, q(c), q(d), q(e)).map(|piece| piece.unbalance),
            axial_hole_depth(drill, q(c), q(d), q(e)),
            ground_arc(arc, q(d), q(e)).map(|piece| piece.radius),
            ground_arc_depth(arc, q(d), q(e)),
            milled_flat(q(a), q(b), q(c), q(d)).map(|piece| piece.radius),
            milled_flat_depth(q(a), q(b), q(c), q(d)),
            sliding::sliding_weights(q(a), q(b), q(c)),
            sliding::spread_for(q(a), q(b), q(c)),
            slot::slot_filler(q(a), q(b), q(c), q(d)).map(|piece| piece.unbalance),
            holes::spacing_angle(q(a), q(b)),
            holes::holes_along_arc(q(a), 7, q(b)),
            spread::over_ways(Vector::<Mass> { x: q(a), y: q(b) }, &[spread::Way::new(q(c), None), spread::Way::new(q(d), Some(q(e)))])
                .map(|spread| spread.left.x),
        );
        let capacity = places::Capacity::new(q(a), &[q(b), q(c), q(d)]);
        if let Ok(capacity) = capacity {
            check!(capacity.towards(q(e)), capacity.everywhere(), capacity.best());
        }
    }
}
