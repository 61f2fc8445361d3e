//! Known unbalances along a rotor, brought into the correction planes.

use super::domain::{Computed, Input, Requirement, demand, finite};
use crate::units::{Couple, Length, Unbalance, Vector};

/// The unbalances in two planes that balance known ones: `U₂ = −Σ Uᵢ·(zᵢ − z₁)/(z₂ − z₁)`, `U₁ = −Σ Uᵢ − U₂`.
///
/// z are the axial places; the planes must not coincide. Source: moments of a rigid rotor, plain statics.
pub fn correction_in_two_planes(
    known: &[(Vector<Unbalance>, Length)],
    planes: [Length; 2],
) -> Computed<[Vector<Unbalance>; 2]> {
    let distance = finite(planes[1] - planes[0], Input::CorrectionPlanes)?;
    demand(distance != Length::ZERO, Input::CorrectionPlanes, Requirement::NotCoincide)?;
    let shares = known.iter().map(|(unbalance, at)| *unbalance * ((*at - planes[0]) / distance).value());
    let second = -shares.sum::<Vector<Unbalance>>();
    let first = -known.iter().map(|(unbalance, _)| *unbalance).sum::<Vector<Unbalance>>() - second;
    demand(first.is_finite() && second.is_finite(), Input::Result, Requirement::BeFinite)?;
    Ok([first, second])
}

/// Resultant and moment of known unbalances about a place z along the rotor: `Σ Uᵢ` and `Σ Uᵢ·(zᵢ − z)`.
///
/// Source: plain statics.
pub fn resultant_and_moment(
    known: &[(Vector<Unbalance>, Length)],
    about: Length,
) -> (Vector<Unbalance>, Vector<Couple>) {
    let moment = known.iter().map(|(unbalance, at)| unbalance.map(|component| component * (*at - about)));
    (known.iter().map(|(unbalance, _)| *unbalance).sum(), moment.sum())
}
