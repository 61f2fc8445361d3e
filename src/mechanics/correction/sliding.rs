//! Two equal weights that slide in a groove.

use crate::mechanics::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use crate::units::{Angle, Length, Mass, Unbalance};
use std::f64::consts::PI;

/// Two equal weights: `U = 2·m·r·cos β`, towards the middle between them.
///
/// m is the mass of one, r the radius of its mass centre, β half the angle between the two. `spread` is that whole
/// angle, from 0, where both pull one way, to 180°, where they cancel. Source: vector sum, plain mechanics.
pub fn sliding_weights(mass_each: Mass, radius: Length, spread: Angle) -> Computed<Unbalance> {
    let each = not_negative(mass_each, Input::Mass)? * not_negative(radius, Input::Radius)?;
    let half = not_negative(spread, Input::Spread)? * 0.5;
    demand(half.in_radians() <= PI / 2.0 * (1.0 + 1e-12), Input::Spread, Requirement::BeWithinRange)?;
    settled(each * (2.0 * half.cos()).max(0.0))
}

/// The angle between the two weights that makes an unbalance: `β = arccos(U / (2·m·r))`, twice that.
///
/// Symbols as in [`sliding_weights`]. Mass and radius are above zero, the unbalance from 0 to `2·m·r`.
/// Source: vector sum, plain mechanics.
pub fn spread_for(unbalance: Unbalance, mass_each: Mass, radius: Length) -> Computed<Angle> {
    let wanted = not_negative(unbalance, Input::Unbalance)?;
    let most = positive(mass_each, Input::Mass)? * positive(radius, Input::Radius)? * 2.0;
    let cosine = settled(wanted / most)?.value();
    demand(cosine <= 1.0, Input::Unbalance, Requirement::BeWithinReach)?;
    Ok(Angle::radians(2.0 * cosine.acos()))
}
