//! From the tolerances at the bearings to those of the correction planes.

use super::domain::{Computed, Input, Requirement, demand, finite, positive, settled};
use crate::units::{Couple, Length, Ratio, Typed, Unbalance, Vector};

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

/// How much of an equal share two equations must leave the smaller plane. Common practice, no source.
const LEAST_OF_EQUAL_SHARE: f64 = 0.5;

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

/// By which rule the planes got their limits.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PlaneRule {
    /// Both bearing limits are used up at the worst phase.
    TwoEquations,
    /// A given share to each plane, as much as both bearings allow.
    GivenShare,
}

/// Permissible residual unbalance in each correction plane.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PlaneLimits {
    pub planes: [Unbalance; 2],
    pub rule: PlaneRule,
}

/// The limits of the correction planes: by two equations where those give an answer, else by share.
///
/// `bearing_limits` are the tolerances at A and B, `total` is U_per, `first_share` is k, from 0 to 1.
/// Never below zero, and no bearing limit is ever broken, whatever the angles.
#[cfg(feature = "internals")]
pub fn limits(
    levers: &Levers,
    bearing_limits: [Unbalance; 2],
    total: Unbalance,
    first_share: Ratio,
) -> Computed<PlaneLimits> {
    match by_two_equations(levers, bearing_limits, total)? {
        Some(limits) => Ok(limits),
        None => by_share(levers, bearing_limits, first_share),
    }
}

/// Limits that use up both bearing limits at the worst phase: `|a₁|·U₁ + |a₂|·U₂ = U_A` and
/// `|b₁|·U₁ + |b₂|·U₂ = U_B`, with a and b the levers of the planes at A and B.
///
/// `None` unless both come out above zero, neither exceeds `total`, which is U_per, and the smaller is at least half of
/// what it gets when the planes share alike: a solution near its edge leaves one plane next to nothing for the sake of
/// the other. Source: plain statics; the half is common practice, no source.
pub fn by_two_equations(
    levers: &Levers,
    bearing_limits: [Unbalance; 2],
    total: Unbalance,
) -> Computed<Option<PlaneLimits>> {
    let [limit_a, limit_b] = checked_limits(bearing_limits)?;
    let total = positive(total, Input::Tolerance)?;
    let ([a1, a2], [b1, b2]) = (levers.at_a.map(f64::abs), levers.at_b.map(f64::abs));
    let determinant = a1 * b2 - a2 * b1;
    let first = (limit_a * b2 - limit_b * a2) / determinant;
    let second = (limit_b * a1 - limit_a * b1) / determinant;
    // Not a number, from levers that act alike, fails both comparisons.
    let usable = |limit: Unbalance| limit > Unbalance::ZERO && limit <= total;
    // Levers that act almost alike lose digits: what breaks a limit by that is no answer either.
    let worst = levers.worst_at_bearings([first, second]);
    let holds = worst[0] <= limit_a * (1.0 + 1e-9) && worst[1] <= limit_b * (1.0 + 1e-9);
    if !(usable(first) && usable(second) && holds) {
        return Ok(None);
    }
    let alike = by_share(levers, bearing_limits, Ratio::new(0.5))?.planes[0];
    let usable = first.min(second) >= alike * LEAST_OF_EQUAL_SHARE;
    Ok(usable.then_some(PlaneLimits { planes: [first, second], rule: PlaneRule::TwoEquations }))
}

/// The largest `U₁ = k·t`, `U₂ = (1−k)·t` for which both bearing limits hold at the worst phase:
/// `t = min(U_A / (k·|a₁| + (1−k)·|a₂|), U_B / (k·|b₁| + (1−k)·|b₂|))`.
///
/// `first_share` is k, from 0 to 1. Source: plain statics.
pub fn by_share(levers: &Levers, bearing_limits: [Unbalance; 2], first_share: Ratio) -> Computed<PlaneLimits> {
    let limits = checked_limits(bearing_limits)?;
    let k = first_share.value();
    demand((0.0..=1.0).contains(&k), Input::Share, Requirement::BeWithinRange)?;
    let unit = levers.worst_at_bearings([Unbalance::from_base(k), Unbalance::from_base(1.0 - k)]);
    // A bearing that neither plane loads limits nothing: the quotient is infinite there.
    let allowed = (limits[0] / unit[0]).value().min((limits[1] / unit[1]).value());
    let planes = [Unbalance::from_base(k * allowed), Unbalance::from_base((1.0 - k) * allowed)];
    Ok(PlaneLimits { planes: [settled(planes[0])?, settled(planes[1])?], rule: PlaneRule::GivenShare })
}

fn checked_limits(limits: [Unbalance; 2]) -> Computed<[Unbalance; 2]> {
    Ok([positive(limits[0], Input::ToleranceAtBearing)?, positive(limits[1], Input::ToleranceAtBearing)?])
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

/// One correction plane: the whole permissible unbalance. Its couple is not judged.
///
/// Source: ISO 21940-11:2016, one tolerance plane (from memory).
pub fn single_plane_limit(total: Unbalance) -> Computed<Unbalance> {
    positive(total, Input::Tolerance)
}
