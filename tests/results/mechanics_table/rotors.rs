//! Rows on the tolerance of a rotor, its allocation, its keys and errors.

use super::row::{Outcome, Row};
use rotorbook::mechanics::allocation::{Allocation, Support, by_mass_centre};
use rotorbook::mechanics::keyway::KeyConvention;
use rotorbook::mechanics::limits::Acting;
use rotorbook::mechanics::{fits, index, keyway, limits, planes, tolerance};
use rotorbook::units::{Angle, Length, Mass, SpecificUnbalance, Speed, Unbalance, Velocity};

pub fn outcome(row: &Row) -> Option<Outcome> {
    Some(match row.what.as_str() {
        "permissible_unbalance" => permissible_unbalance(row),
        "equivalent_grade" => {
            let grade = tolerance::equivalent_grade(row.get("U"), row.get("m"), row.get("n")).unwrap();
            Outcome::default().with("G", grade)
        }
        "four_w_over_n" => limit(tolerance::four_w_over_n(row.get("W"), row.get("n")).unwrap()),
        "eccentricity" => {
            let eccentricity = row.get::<SpecificUnbalance>("e");
            limit(fits::unbalance_of_eccentricity(row.get("W"), eccentricity).unwrap())
        }
        "scaled" => scaled(row),
        "tolerance_at_bearings" => tolerance_at_bearings(row),
        "largest_product" => largest_product(row),
        "static_and_couple" => static_and_couple(row),
        "clearance" => clearance(row),
        "index_balancing" => index_balancing(row),
        "key_mass" => key_mass(row),
        "key_conventions" => key_conventions(row),
        _ => return None,
    })
}

fn limit(unbalance: Unbalance) -> Outcome {
    Outcome::default().with("U", unbalance)
}

fn permissible_unbalance(row: &Row) -> Outcome {
    let (grade, speed) = (row.get::<Velocity>("G"), row.get::<Speed>("n"));
    let whole = tolerance::permissible_unbalance(grade, row.get("m"), speed).unwrap();
    Outcome::default()
        .with("e_per", tolerance::permissible_specific_unbalance(grade, speed).unwrap())
        .with("U_per", whole)
        .with("half", rotorbook::mechanics::allocation::half_each(whole).unwrap().at_a)
}

fn scaled(row: &Row) -> Outcome {
    let (known, mass) = (row.get::<Unbalance>("U"), row.get::<Mass>("m"));
    let new = (row.get("m new"), row.get("n new"));
    let scaled = tolerance::scaled_by_mass_and_speed(known, (mass, row.get("n")), new).unwrap();
    Outcome::default().with("e", known / mass).with("U new", scaled)
}

fn tolerance_at_bearings(row: &Row) -> Outcome {
    let (a, b, centre) = (row.get::<Length>("A"), row.get::<Length>("B"), row.get::<Length>("centre"));
    let inboard = centre >= a.min(b) && centre <= a.max(b);
    let support = if inboard { Support::Inboard } else { Support::Overhung };
    let shares = by_mass_centre(row.get("U_per"), a, b, centre, support).unwrap();
    Outcome::default()
        .with("U_A", shares.at_a)
        .with("U_B", shares.at_b)
        .answer("within limits", shares.allocation == Allocation::ByMassCentre)
        .answer("inboard", inboard)
}

fn largest_product(row: &Row) -> Outcome {
    let places = |first, second| [row.get::<Length>(first), row.get::<Length>(second)];
    let (bearings, planes) = (places("A", "B"), places("plane 1", "plane 2"));
    let at = |n: usize, limit| limits::Row::new(Acting::AtBearing(n, bearings), &planes, row.get(limit)).unwrap();
    let rows = [at(0, "U_A"), at(1, "U_B")];
    let shares = limits::largest_product(&rows, 2).unwrap();
    Outcome::default()
        .with("U_1", shares[0])
        .with("U_2", shares[1])
        .with("load A", rows[0].worst(&shares))
        .with("load B", rows[1].worst(&shares))
}

fn static_and_couple(row: &Row) -> Outcome {
    let limits = planes::static_and_couple_limits(row.get("U_per"), row.get("d"), row.get("c"), row.get("b")).unwrap();
    Outcome::default().with("static", limits.static_limit).with("couple per plane", limits.couple_per_plane)
}

fn clearance(row: &Row) -> Outcome {
    Outcome::default().with("ΔU", fits::unbalance_of_clearance(row.get("m"), row.get("c")).unwrap())
}

fn index_balancing(row: &Row) -> Outcome {
    let positions = row.list::<Angle>("position");
    let readings: Vec<_> = positions.into_iter().zip(row.vectors::<Unbalance>("reading")).collect();
    let indexed = index::index_balancing(&readings).unwrap();
    Outcome::default()
        .vector("arbor", "arbor angle", indexed.arbor)
        .vector("rotor", "rotor angle", indexed.rotor)
        .with("scatter", indexed.scatter)
}

fn key_mass(row: &Row) -> Outcome {
    let (b, h, l, density) = (row.get("b"), row.get("h"), row.get("l"), row.get("density"));
    Outcome::default()
        .with("full key", keyway::key_mass(b, h, l, density).unwrap())
        .with("half key", keyway::half_key_mass(b, h, l, density).unwrap())
}

fn key_conventions(row: &Row) -> Outcome {
    use KeyConvention::{Full, Half, None};
    let of = |shaft, part| keyway::unbalance_of_conventions(shaft, part, row.get("half key"), row.get("r")).unwrap();
    Outcome::default()
        .with("half and half", of(Half, Half))
        .with("half and none", of(Half, None))
        .with("half and full", of(Half, Full))
        .with("full and none", of(Full, None))
        .with("none and none", of(None, None))
}
