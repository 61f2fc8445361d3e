//! The tolerances of planes against those of the bearings.

use super::close;
use proptest::prelude::*;
use rotorbook::mechanics::allocation::by_mass_centre;
use rotorbook::mechanics::planes::{Levers, PlaneRule, by_share, limits};
use rotorbook::mechanics::weighing::{Placed, journal_loads, weighed_at_two_places};
use rotorbook::units::{Angle, Length, Mass, Ratio, Unbalance, Vector};

const ROUNDING: f64 = 1e-8;

fn place() -> impl Strategy<Value = Length> {
    (-3000.0..3000.0).prop_map(Length::millimetres)
}

fn apart(places: [Length; 2]) -> bool {
    (places[0] - places[1]).abs() > Length::millimetres(1e-3)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn plane_limits_never_break_a_bearing_limit_at_any_phase(
        bearings in [place(), place()],
        planes in [place(), place()],
        centre in place(),
        total in 1e-3..1e6,
        k in 0.0..=1.0,
        phases in [0.0..360.0, 0.0..360.0],
    ) {
        prop_assume!(apart(bearings) && apart(planes));
        let total = Unbalance::gram_millimetres(total);
        let shares = by_mass_centre(total, bearings[0], bearings[1], centre).unwrap();
        let allowed = [shares.at_a, shares.at_b];
        let levers = Levers::new(bearings, planes).unwrap();
        let limits = limits(&levers, allowed, total, Ratio::new(k)).unwrap();
        prop_assert!(limits.planes.iter().all(|limit| *limit >= Unbalance::ZERO && limit.is_finite()));
        if limits.rule == PlaneRule::TwoEquations {
            prop_assert!(limits.planes.iter().all(|limit| *limit > Unbalance::ZERO && *limit <= total));
        }
        let vector = |place: usize| Vector::from_polar(limits.planes[place], Angle::degrees(phases[place]));
        let at_bearings = levers.at_bearings([vector(0), vector(1)]);
        let worst = levers.worst_at_bearings(limits.planes);
        for bearing in 0..2 {
            prop_assert!(at_bearings[bearing].amount() <= worst[bearing] * (1.0 + ROUNDING));
            prop_assert!(worst[bearing] <= allowed[bearing] * (1.0 + ROUNDING));
        }
    }

    #[test]
    fn a_given_share_is_the_largest_that_both_bearings_allow(
        bearings in [place(), place()],
        planes in [place(), place()],
        allowed in [1e-3..1e6, 1e-3..1e6],
        k in 0.0..=1.0,
    ) {
        prop_assume!(apart(bearings) && apart(planes));
        let levers = Levers::new(bearings, planes).unwrap();
        let allowed = allowed.map(Unbalance::gram_millimetres);
        let limits = by_share(&levers, allowed, Ratio::new(k)).unwrap();
        let worst = levers.worst_at_bearings(limits.planes);
        let used = [0, 1].map(|bearing| (worst[bearing] / allowed[bearing]).value());
        prop_assert!(close(used[0].max(used[1]), 1.0, ROUNDING));
        let sum = limits.planes[0] + limits.planes[1];
        prop_assert!(close((limits.planes[0] / sum).value(), k, ROUNDING) || k < 1e-12);
    }

    #[test]
    fn shares_of_the_bearings_keep_their_limits(
        bearings in [place(), place()],
        centre in place(),
    ) {
        prop_assume!(apart(bearings));
        let total = Unbalance::gram_millimetres(1000.0);
        let shares = by_mass_centre(total, bearings[0], bearings[1], centre).unwrap();
        let (least, most) = shares.support.share_limits();
        for share in [shares.at_a, shares.at_b] {
            prop_assert!(share >= total * (least - ROUNDING) && share <= total * (most + ROUNDING));
        }
        // The same rotor seen from its other end.
        let mirrored = by_mass_centre(total, -bearings[0], -bearings[1], -centre).unwrap();
        prop_assert_eq!((mirrored.at_a, mirrored.at_b), (shares.at_a, shares.at_b));
    }

    #[test]
    fn an_unbalance_in_two_planes_loads_the_bearings_as_weights_would(
        bearings in [place(), place()],
        planes in [place(), place()],
        amounts in [0.1..100.0, 0.1..100.0],
    ) {
        prop_assume!(apart(bearings) && apart(planes));
        let levers = Levers::new(bearings, planes).unwrap();
        let in_phase = amounts.map(|u| Vector::from_polar(Unbalance::gram_millimetres(u), Angle::ZERO));
        let at_bearings = levers.at_bearings(in_phase).map(|vector| vector.x.in_gram_millimetres());
        let placed = |n: usize| Placed { mass: Mass::grams(amounts[n]), at: planes[n] };
        let rotor = weighed_at_two_places(placed(0), placed(1)).unwrap();
        let loads = journal_loads(rotor, bearings[0], bearings[1]).unwrap().map(|load| load.in_grams());
        let scale = loads[0].abs() + loads[1].abs();
        for bearing in 0..2 {
            prop_assert!((at_bearings[bearing] - loads[bearing]).abs() <= 1e-9 * scale);
        }
    }
}

// Bearings at 0 and 400 mm, planes at 80 and 320 mm: each plane puts 0.8 of itself on its bearing and 0.2 on the other.
// Two equations give (0.8·A − 0.2·B)/0.6 and (0.8·B − 0.2·A)/0.6, equal parts min(A, B).
#[test]
fn two_equations_near_their_edge_yield_to_equal_shares() {
    let at = |places: [f64; 2]| places.map(Length::millimetres);
    let levers = Levers::new(at([0.0, 400.0]), at([80.0, 320.0])).unwrap();
    let shared = |allowed: [f64; 2]| {
        let total = Unbalance::gram_millimetres(allowed[0] + allowed[1]);
        let limits = limits(&levers, allowed.map(Unbalance::gram_millimetres), total, Ratio::new(0.5)).unwrap();
        (limits.rule, limits.planes.map(Unbalance::in_gram_millimetres))
    };
    // 30 and 50: 23.3 and 56.7 against 30 each.
    let (rule, planes) = shared([30.0, 50.0]);
    assert_eq!(rule, PlaneRule::TwoEquations);
    assert!(close(planes[0], 70.0 / 3.0, 1e-9) && close(planes[1], 170.0 / 3.0, 1e-9), "{planes:?}");
    // 23 and 77: 5 and 95 against 23 each.
    let (rule, planes) = shared([23.0, 77.0]);
    assert_eq!(rule, PlaneRule::GivenShare);
    assert!(close(planes[0], 23.0, 1e-9) && close(planes[1], 23.0, 1e-9), "{planes:?}");
    // The edge itself: 0.8·A − 0.2·B = 0.3·A at B = 2.5·A.
    assert_eq!(shared([20.0, 49.9]).0, PlaneRule::TwoEquations);
    assert_eq!(shared([20.0, 50.1]).0, PlaneRule::GivenShare);
}
