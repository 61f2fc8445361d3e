//! From the tolerances at the bearings to those of the correction planes.

use super::domain::{Computed, Input, Requirement, demand, finite, positive, settled};
use crate::units::{Couple, Length, Ratio, Unbalance, Vector};

/// How an unbalance in each of two correction planes acts at each of two bearings.
///
/// `U_A = U₁·(z_B−z₁)/L + U₂·(z_B−z₂)/L` and `U_B = U₁·(z₁−z_A)/L + U₂·(z₂−z_A)/L`, with z the axial places
/// and L = z_B − z_A. Source: plain statics of a rigid rotor.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Levers {
    /// Shares of plane 1 and of plane 2 at bearing A; below zero where a plane lies beyond B.
    at_a: [f64; 2],
    /// The same at bearing B.
    at_b: [f64; 2],
    bearing_span: Length,
    plane_distance: Length,
}

impl Levers {
    /// From the places of the bearings A and B and of the correction planes 1 and 2. The bearings must not
    /// coincide, and the planes must not.
    pub fn new(bearings: [Length; 2], planes: [Length; 2]) -> Computed<Self> {
        let span = finite(bearings[1] - bearings[0], Input::BearingSpan)?;
        let distance = finite(planes[1] - planes[0], Input::CorrectionPlanes)?;
        demand(span != Length::ZERO, Input::BearingSpan, Requirement::NotCoincide)?;
        demand(distance != Length::ZERO, Input::CorrectionPlanes, Requirement::NotCoincide)?;
        let share = |distance: Length| settled(distance / span).map(Ratio::value);
        Ok(Self {
            at_a: [share(bearings[1] - planes[0])?, share(bearings[1] - planes[1])?],
            at_b: [share(planes[0] - bearings[0])?, share(planes[1] - bearings[0])?],
            bearing_span: span.abs(),
            plane_distance: distance.abs(),
        })
    }

    /// Unbalances in the planes as they act in the tolerance planes A and B.
    #[cfg(feature = "internals")]
    pub fn at_bearings(&self, planes: [Vector<Unbalance>; 2]) -> [Vector<Unbalance>; 2] {
        [self.at_a, self.at_b].map(|shares| planes[0] * shares[0] + planes[1] * shares[1])
    }

    /// The most that amounts in the planes can do at A and at B, whatever their angles.
    pub fn worst_at_bearings(&self, amounts: [Unbalance; 2]) -> [Unbalance; 2] {
        [self.at_a, self.at_b].map(|shares| amounts[0] * shares[0].abs() + amounts[1] * shares[1].abs())
    }

    /// Whether the planes stand closer than a third of the bearing span, so that static and couple unbalance
    /// are better judged apart. Source: ISO 1940/1:1986 (from memory).
    pub fn closely_spaced(&self) -> bool {
        self.plane_distance * 3.0 < self.bearing_span
    }
}

/// Unbalances along a rotor as they act in the tolerance planes A and B: `U_A = Σ Uᵢ·(z_B − zᵢ)/L`,
/// `U_B = Σ Uᵢ·(zᵢ − z_A)/L`. The bearings must not coincide. Source: as for [`Levers`].
pub fn acting_at_bearings(
    unbalances: &[(Vector<Unbalance>, Length)],
    bearings: [Length; 2],
) -> Computed<[Vector<Unbalance>; 2]> {
    let span = finite(bearings[1] - bearings[0], Input::BearingSpan)?;
    demand(span != Length::ZERO, Input::BearingSpan, Requirement::NotCoincide)?;
    let share = |distance: Length| (distance / span).value();
    let at_a = unbalances.iter().map(|(unbalance, at)| *unbalance * share(bearings[1] - *at)).sum();
    let at_b = unbalances.iter().map(|(unbalance, at)| *unbalance * share(*at - bearings[0])).sum();
    let acting: [Vector<Unbalance>; 2] = [at_a, at_b];
    demand(acting.iter().all(|vector| vector.is_finite()), Input::Result, Requirement::BeFinite)?;
    Ok(acting)
}

/// Limits for closely spaced planes, with static and couple unbalance judged apart.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct StaticAndCouple {
    pub static_limit: Unbalance,
    /// In each plane, opposite to each other.
    pub couple_per_plane: Unbalance,
    pub couple: Couple,
}

/// Static residual `U_per/2 · d/(2c)`, couple residual in each plane `U_per/2 · 3d/(4b)`.
///
/// d is the bearing span, c the distance of the plane of static correction from the farther bearing, b that of the
/// two correction planes. All above zero. Source: ISO 1940/1:1986, guidance for closely spaced planes
/// (from memory, with some doubt); later editions state tolerances at the bearings instead.
#[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "for verdicts on static and couple unbalance apart"))]
pub fn static_and_couple_limits(
    total: Unbalance,
    bearing_span: Length,
    static_plane_to_farther_bearing: Length,
    plane_distance: Length,
) -> Computed<StaticAndCouple> {
    let half = positive(total, Input::Tolerance)? * 0.5;
    let span = positive(bearing_span, Input::BearingSpan)?;
    let to_bearing = positive(static_plane_to_farther_bearing, Input::Place)?;
    let distance = positive(plane_distance, Input::PlaneDistance)?;
    let couple_per_plane = settled(half * (span * 3.0 / (distance * 4.0)))?;
    Ok(StaticAndCouple {
        static_limit: settled(half * (span / (to_bearing * 2.0)))?,
        couple_per_plane,
        couple: settled(couple_per_plane * distance)?,
    })
}
