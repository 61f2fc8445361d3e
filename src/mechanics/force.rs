//! What a mass on a turning rotor pulls.

use super::domain::{Computed, Input, finite, not_negative, positive, settled};
use crate::units::{Force, Length, Mass, Speed, Typed, Unbalance, Velocity};

/// Standard acceleration of free fall, m/s², exact by convention (NIST SP 811, from memory).
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// Centrifugal force of an unbalance: `F = U · Ω²`.
///
/// Source: plain mechanics.
pub fn centrifugal_force(unbalance: Unbalance, speed: Speed) -> Computed<Force> {
    let unbalance = not_negative(unbalance, Input::Unbalance)?;
    let speed = finite(speed, Input::Speed)?.in_radians_per_second();
    settled(Force::newtons(unbalance.in_kilogram_metres() * speed * speed))
}

/// The unbalance that pulls with a force: `U = F / Ω²`. The speed is above zero, the force not below.
///
/// Source: plain mechanics.
pub fn unbalance_of_force(force: Force, speed: Speed) -> Computed<Unbalance> {
    let force = not_negative(force, Input::Force)?;
    let speed = positive(speed, Input::Speed)?.in_radians_per_second();
    settled(Unbalance::kilogram_metres(force.in_newtons() / (speed * speed)))
}

/// Speed of a point at a radius: `v = r · Ω`.
///
/// Source: plain mechanics.
pub fn rim_speed(radius: Length, speed: Speed) -> Computed<Velocity> {
    settled(not_negative(radius, Input::Radius)? * finite(speed, Input::Speed)?)
}

/// The weight of a mass: `F = m · g`, at the standard acceleration of free fall.
pub fn weight(mass: Mass) -> Computed<Force> {
    settled(Force::from_base(finite(mass, Input::Mass)?.base() * STANDARD_GRAVITY))
}
