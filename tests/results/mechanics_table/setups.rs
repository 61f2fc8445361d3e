//! Rows on setting the machine up: calibration, supports, drive, and what the machine reaches.

use super::row::{Outcome, Row};
use rotorbook::mechanics::hard_supports::Dimensions;
use rotorbook::mechanics::{calibration, drive, force, machine};
use rotorbook::units::{Force, Length, Mass, Speed, Unbalance, Vector};

pub fn outcome(row: &Row) -> Option<Outcome> {
    Some(match row.what.as_str() {
        "reading_to_set" => reading_to_set(row),
        "centrifugal_force" => centrifugal_force(row),
        "trial_mass" => {
            let mass = calibration::trial_mass(row.get("M"), row.get("r"), row.get("n"), row.get("share")).unwrap();
            Outcome::default().with("m", mass)
        }
        "hard_supports" => hard_supports(row),
        "belt" => belt(row),
        "resonance" => resonance(row),
        "soft_factor" => Outcome::default().with("factor", drive::soft_support_factor(row.get("r")).unwrap()),
        "hard_factor" => Outcome::default().with("factor", drive::hard_support_factor(row.get("r")).unwrap()),
        "traverse_test_mass" => traverse_test_mass(row),
        "traverse" => traverse(row),
        "residual_after_step" => {
            let after = machine::residual_after_step(row.get("before"), row.get("URR")).unwrap();
            Outcome::default().with("after", after)
        }
        "reduction_ratio" => {
            let ratio = machine::unbalance_reduction_ratio(row.get("before"), row.get("after")).unwrap();
            Outcome::default().with("URR", ratio)
        }
        "interference_ratio" => {
            let ratio = machine::interference_ratio(row.reading("other"), row.reading("own")).unwrap();
            Outcome::default().with("ratio", ratio)
        }
        _ => return None,
    })
}

/// The reading, and from it the mass and the radius back again.
fn reading_to_set(row: &Row) -> Outcome {
    let (mass, radius) = (row.get::<Mass>("m"), row.get::<Length>("r"));
    let (tolerance, at_tolerance) = (row.get::<Unbalance>("U_tol"), row.reading("at tolerance"));
    let unbalance = calibration::calibration_unbalance(mass, radius).unwrap();
    let reading = calibration::reading_to_set(unbalance, tolerance, at_tolerance).unwrap();
    let mass_back = calibration::mass_for_reading(reading, radius, tolerance, at_tolerance).unwrap();
    let radius_back = calibration::radius_for_reading(reading, mass, tolerance, at_tolerance).unwrap();
    assert!(((mass_back / mass).value() - 1.0).abs() < 1e-12, "{}: the mass does not come back", row.id);
    assert!(((radius_back / radius).value() - 1.0).abs() < 1e-12, "{}: the radius does not come back", row.id);
    Outcome::default().reading("reading", reading)
}

fn centrifugal_force(row: &Row) -> Outcome {
    let speed = row.get::<Speed>("n");
    if let Some(unbalance) = row.optional::<Unbalance>("U") {
        return Outcome::default().with("F", force::centrifugal_force(unbalance, speed).unwrap());
    }
    let unbalance = row.get::<Mass>("m") * row.get::<Length>("r");
    Outcome::default().with("F", force::centrifugal_force(unbalance, speed).unwrap())
}

fn hard_supports(row: &Row) -> Outcome {
    let dimensions = Dimensions {
        left_support_to_left_plane: row.get("d1"),
        between_planes: row.get("d"),
        right_plane_to_right_support: row.get("d2"),
    };
    let at_supports = [row.vectors::<Force>("F_A")[0], row.vectors::<Force>("F_B")[0]];
    let [first, second] = dimensions.forces_in_planes(at_supports).unwrap();
    let unbalance = |force: Vector<Force>| force::unbalance_of_force(force.amount(), row.get("n")).unwrap();
    Outcome::default()
        .vector("F_I", "F_I angle", first)
        .vector("F_II", "F_II angle", second)
        .with("U_I", unbalance(first))
        .with("U_II", unbalance(second))
}

fn belt(row: &Row) -> Outcome {
    let (pulley, runs_on, slip) = (row.get("pulley"), row.get("runs on"), row.get("slip"));
    Outcome::default().with("motor", drive::motor_speed(row.get("rotor"), pulley, runs_on, slip).unwrap())
}

fn resonance(row: &Row) -> Outcome {
    let resonance = drive::resonance_speed(row.get("k"), row.get("m")).unwrap();
    Outcome::default()
        .with("resonance", resonance)
        .with("ratio", drive::ratio_to_resonance(row.get("n"), resonance).unwrap())
}

fn traverse_test_mass(row: &Row) -> Outcome {
    let minimum = machine::minimum_achievable_per_plane(row.get("e_mar"), row.get("rotor")).unwrap();
    let (unbalance, mass) = machine::traverse_test_mass(minimum, row.get("r")).unwrap();
    Outcome::default().with("per plane", minimum).with("test unbalance", unbalance).with("test mass", mass)
}

fn traverse(row: &Row) -> Outcome {
    let traverse = machine::residual_from_traverse(row.get("test"), &row.readings("reading")).unwrap();
    Outcome::default()
        .with("residual", traverse.residual_from_extremes)
        .with("harmonic residual", traverse.residual_from_harmonic)
        .with("heavy spot", traverse.heavy_spot)
        .answer("passes", traverse.largest_departure.value() <= machine::TRAVERSE_BAND)
}
