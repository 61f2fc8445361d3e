//! The tolerances of planes against those of the bearings.

use proptest::prelude::*;
use rotorbook::mechanics::allocation::{Support, by_mass_centre};
use rotorbook::mechanics::planes::Levers;
use rotorbook::mechanics::weighing::{Placed, journal_loads, weighed_at_two_places};
use rotorbook::units::{Angle, Length, Mass, Unbalance, Vector};

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
    fn shares_of_the_bearings_keep_their_limits(
        bearings in [place(), place()],
        centre in place(),
        overhung in any::<bool>(),
    ) {
        prop_assume!(apart(bearings));
        let total = Unbalance::gram_millimetres(1000.0);
        let support = if overhung { Support::Overhung } else { Support::Inboard };
        let shares = by_mass_centre(total, bearings[0], bearings[1], centre, support).unwrap();
        let (least, most) = support.share_limits();
        for share in [shares.at_a, shares.at_b] {
            prop_assert!(share >= total * (least - ROUNDING) && share <= total * (most + ROUNDING));
        }
        // The same rotor seen from its other end.
        let mirrored = by_mass_centre(total, -bearings[0], -bearings[1], -centre, support).unwrap();
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
