//! Rows on uncertainty by the simple formulas of the GUM, and rows on units.

use super::row::{Outcome, Row};
use rotorbook::units::{Length, Mass, Ratio, Typed, Unbalance};

pub fn outcome(row: &Row) -> Option<Outcome> {
    Some(match row.what.as_str() {
        "uncertainty_of_product" => product(row),
        "uncertainty_worst_case" => {
            let (mass, radius) = (row.get::<Mass>("m"), row.get::<Length>("r"));
            let worst = row.get::<Mass>("Δm") * radius + mass * row.get::<Length>("Δr");
            Outcome::default().with("ΔU", worst)
        }
        "uncertainty_rectangular" => Outcome::default().with("u", rectangular(row.get::<Ratio>("half width"))),
        "uncertainty_of_digit" => {
            let (mass, half) = (row.get::<Mass>("m"), row.get::<Mass>("step") * 0.5);
            Outcome::default().with("half step", half / mass).with("expanded", rectangular(half) * 2.0 / mass)
        }
        "unit" => unit(row),
        _ => return None,
    })
}

/// Standard uncertainty of limits ±a: a/√3.
fn rectangular<T: Typed>(half_width: T) -> T {
    T::from_base(half_width.base() / 3f64.sqrt())
}

fn product(row: &Row) -> Outcome {
    let (mass, radius) = (row.get::<Mass>("m"), row.get::<Length>("r"));
    let of_mass = rectangular(row.get::<Mass>("step") * 0.5);
    let of_radius = rectangular(row.get::<Length>("limits"));
    let unbalance: Unbalance = mass * radius;
    let share = (of_mass / mass).value().hypot((of_radius / radius).value());
    Outcome::default()
        .with("u_m", of_mass)
        .with("u_r", of_radius)
        .with("U", unbalance)
        .with("u_U", unbalance * share)
        .with("expanded", unbalance * share * 2.0)
}

fn unit(row: &Row) -> Outcome {
    Outcome::default().quantity("value", row.quantity("value"))
}
