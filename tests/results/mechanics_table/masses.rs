//! Rows on known masses along a rotor.

use super::row::{Outcome, Row};
use rotorbook::mechanics::correction::mass_at_radius;
use rotorbook::mechanics::correction::spread::{Way, over_ways};
use rotorbook::mechanics::force::{STANDARD_GRAVITY, weight};
use rotorbook::mechanics::known_masses::{correction_in_two_planes, resultant_and_moment};
use rotorbook::units::{Angle, Force, Length, Mass, Typed, Unbalance, Vector};

pub fn outcome(row: &Row) -> Option<Outcome> {
    Some(match row.what.as_str() {
        "one_plane" => one_plane(row, &row.list("m")),
        "one_plane_of_weights" => one_plane_of_weights(row),
        "two_planes" => two_planes(row),
        "complete_balance" => complete_balance(row),
        _ => return None,
    })
}

fn balance(row: &Row, masses: &[Mass]) -> Vector<Unbalance> {
    let radii = row.list::<Length>("r");
    let unbalances = masses.iter().zip(radii).map(|(mass, radius)| *mass * radius);
    let vectors = unbalances.zip(row.list::<Angle>("angle")).map(|(amount, angle)| Vector::from_polar(amount, angle));
    -vectors.sum::<Vector<Unbalance>>()
}

fn one_plane(row: &Row, masses: &[Mass]) -> Outcome {
    let balance = balance(row, masses);
    let outcome = Outcome::default().vector("U", "balance angle", balance).with("resultant angle", (-balance).angle());
    match row.optional::<Length>("r balance") {
        Some(radius) => outcome.with("m balance", mass_at_radius(balance.amount(), radius).unwrap()),
        None => outcome,
    }
}

fn one_plane_of_weights(row: &Row) -> Outcome {
    let masses: Vec<Mass> =
        row.list::<Force>("W").iter().map(|weight| Mass::from_base(weight.base() / STANDARD_GRAVITY)).collect();
    let mass = mass_at_radius(balance(row, &masses).amount(), row.get("r balance")).unwrap();
    one_plane(row, &masses).with("W balance", weight(mass).unwrap())
}

fn two_planes(row: &Row) -> Outcome {
    let (to_first, to_second) = (row.get::<Length>("to plane 1"), row.get::<Length>("to plane 2"));
    let known = Vector::from_polar(row.get::<Unbalance>("U"), Angle::ZERO);
    let planes = [Length::ZERO, to_first + to_second];
    let corrections = correction_in_two_planes(&[(known, to_first)], planes).unwrap();
    Outcome::default().with("U_1", corrections[0].amount()).with("U_2", corrections[1].amount())
}

/// Four planes A, B, C, D: B and C are known; of A the angle, of D nothing but its radius.
fn complete_balance(row: &Row) -> Outcome {
    let known = |mass: &str, angle: &str| {
        Vector::from_polar(row.get::<Mass>(mass) * row.get::<Length>("r_BC"), row.get::<Angle>(angle))
    };
    let (at_b, radius) = (row.get::<Length>("AB"), row.get::<Length>("r_AD"));
    let at_c = at_b + row.get::<Length>("BC");
    let placed = [(known("m_B", "angle B"), at_b), (known("m_C", "angle C"), at_c)];
    // About A only D counts against B and C, so their moment gives its direction.
    let (sum, moment) = resultant_and_moment(&placed, Length::ZERO);
    let direction = (-moment).angle();
    let ways = [row.get("angle A"), direction].map(|angle| Way::new(angle, None));
    let spread = over_ways(-sum, &ways).unwrap();
    let [(0, at_a), (1, at_d)] = spread.shares[..] else { panic!("{}: {spread:?}", row.id) };
    Outcome::default()
        .with("m_A", mass_at_radius(at_a, radius).unwrap())
        .with("m_D", mass_at_radius(at_d, radius).unwrap())
        .with("D angle", direction)
        .with("AD", moment.amount() / at_d)
}
