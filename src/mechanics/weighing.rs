//! Mass, mass centre and what the journals carry.

use super::domain::{Computed, Input, Requirement, demand, finite, positive, settled};
use crate::units::{Length, Mass, Typed};

/// A mass, and where along the rotor it acts.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Placed {
    pub mass: Mass,
    pub at: Length,
}

/// A rotor laid on two supports, each on a scale: `m = m₁ + m₂`, `z = (m₁·z₁ + m₂·z₂) / m`.
///
/// The places must differ and the sum be above zero; one scale may read below zero, when the mass centre lies
/// outside and the rotor is held down there. Source: plain statics.
pub fn weighed_at_two_places(first: Placed, second: Placed) -> Computed<Placed> {
    demand(first.at != second.at, Input::WeighingPlaces, Requirement::NotCoincide)?;
    from_parts(&[first, second])
}

/// Mass and mass centre of a rotor from its parts: `m = Σ mᵢ`, `z = Σ mᵢ·zᵢ / m`.
///
/// At least one part; the sum is above zero. Source: plain statics.
pub fn from_parts(parts: &[Placed]) -> Computed<Placed> {
    demand(!parts.is_empty(), Input::Mass, Requirement::BeGiven)?;
    let mass = positive(parts.iter().map(|part| part.mass).sum::<Mass>(), Input::Mass)?;
    // Places counted from the first part, so that a far datum costs no digits.
    let origin = finite(parts[0].at, Input::Place)?;
    let moment = parts.iter().map(|part| part.mass.base() * (part.at - origin).base()).sum::<f64>();
    let at = settled(origin + Length::from_base(moment / mass.base()))?;
    Ok(Placed { mass, at })
}

/// What the two bearings A and B carry at standstill: `m_A = m · L_B / L`, `m_B = m · L_A / L`.
///
/// L is the distance of the bearings, L_A and L_B that of the mass centre from each, below zero on the far side:
/// an overhung rotor lifts off one bearing, and the load there is below zero. Source: plain statics.
pub fn journal_loads(rotor: Placed, bearing_a: Length, bearing_b: Length) -> Computed<[Mass; 2]> {
    let mass = positive(rotor.mass, Input::Mass)?;
    let at = finite(rotor.at, Input::MassCentre)?;
    let span = finite(bearing_b - bearing_a, Input::BearingSpan)?;
    demand(span != Length::ZERO, Input::BearingSpan, Requirement::NotCoincide)?;
    Ok([settled(mass * ((bearing_b - at) / span))?, settled(mass * ((at - bearing_a) / span))?])
}

/// What two supports carry at standstill of a rotor and what is on it: `m_L = Σ mᵢ · (z_R − zᵢ) / (z_R − z_L)`, and
/// `m_R = Σ mᵢ · (zᵢ − z_L) / (z_R − z_L)`.
///
/// Below zero where the rotor lifts off. Source: statics of a beam on two supports; common practice, no source.
pub fn support_loads(parts: &[Placed], left: Length, right: Length) -> Computed<[Mass; 2]> {
    journal_loads(from_parts(parts)?, left, right)
}
