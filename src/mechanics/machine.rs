//! What a balancing machine can reach, and how that is tested.

use super::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use super::drive::soft_support_factor;
use crate::units::{Angle, Indication, Length, Mass, Ratio, SpecificUnbalance, Typed, Unbalance};

/// Minimum achievable residual unbalance in each of two planes, from the minimum achievable residual specific unbalance: `U = e · m / 2`.
///
/// Both above zero. Source: ISO 2953 / ISO 21940-21, seen in Machinery Component Maintenance and
/// Repair, chapter 6.
pub fn minimum_achievable_per_plane(smallest_specific: SpecificUnbalance, rotor: Mass) -> Computed<Unbalance> {
    let specific = positive(smallest_specific, Input::MinimumAchievableResidual)?;
    settled(positive(rotor, Input::Mass)? * specific * 0.5)
}

/// The same where a rotor is balanced in one plane, which then has the whole of it: `U = e · m`.
///
/// Both above zero. Source: as for [`minimum_achievable_per_plane`]; the definition of specific unbalance.
pub fn minimum_achievable_in_one_plane(smallest_specific: SpecificUnbalance, rotor: Mass) -> Computed<Unbalance> {
    let specific = positive(smallest_specific, Input::MinimumAchievableResidual)?;
    settled(positive(rotor, Input::Mass)? * specific)
}

/// Test unbalance of the traverse test: ten times the minimum achievable residual unbalance, and the mass that makes
/// it at a radius. All above zero. Source: as for [`minimum_achievable_per_plane`].
pub fn traverse_test_mass(minimum_achievable: Unbalance, radius: Length) -> Computed<(Unbalance, Mass)> {
    let test = settled(positive(minimum_achievable, Input::MinimumAchievableResidual)? * 10.0)?;
    Ok((test, settled(test / positive(radius, Input::Radius)?)?))
}

/// How many times the minimum achievable residual unbalance a tolerance is. Both above zero.
pub fn tolerance_over_minimum(tolerance: Unbalance, minimum_achievable: Unbalance) -> Computed<Ratio> {
    settled(positive(tolerance, Input::Tolerance)? / positive(minimum_achievable, Input::MinimumAchievableResidual)?)
}

/// Unbalance reduction ratio of one correction step: `URR = (U₁ − U₂) / U₁`. U₁ above zero, U₂ not below; the ratio is
/// below zero when the correction made it worse. Source: ISO 21940-2 (from memory); seen in Machinery Component Maintenance and Repair.
pub fn unbalance_reduction_ratio(before: Unbalance, after: Unbalance) -> Computed<Ratio> {
    let left = not_negative(after, Input::ResidualUnbalance)? / positive(before, Input::Unbalance)?;
    settled(Ratio::new(1.0 - left.value()))
}

/// What one correction step leaves: `U₂ = U₁ · (1 − URR)`. U₁ not below zero, the ratio from 0 to 1.
///
/// Source: as for [`unbalance_reduction_ratio`].
pub fn residual_after_step(before: Unbalance, reduction: Ratio) -> Computed<Unbalance> {
    demand((0.0..=1.0).contains(&reduction.value()), Input::UnbalanceReductionRatio, Requirement::BeWithinRange)?;
    settled(not_negative(before, Input::Unbalance)? * (1.0 - reduction.value()))
}

/// The fewest correction steps to a tolerance: the whole number at or above `ln(U_per / U) / ln(1 − URR)`.
///
/// Unbalance not below zero, tolerance above it, the ratio above 0 and up to 1. Source: as for
/// [`unbalance_reduction_ratio`].
pub fn steps_needed(unbalance: Unbalance, tolerance: Unbalance, reduction: Ratio) -> Computed<u32> {
    let share = positive(tolerance, Input::Tolerance)?;
    let ratio = not_negative(unbalance, Input::Unbalance)? / share;
    let reduction = positive(reduction, Input::UnbalanceReductionRatio)?.value();
    demand(reduction <= 1.0, Input::UnbalanceReductionRatio, Requirement::BeWithinRange)?;
    if ratio.value() <= 1.0 {
        return Ok(0);
    }
    // A perfect step has an infinite logarithm, and needs one.
    let steps = (ratio.value().ln() / -(-reduction).ln_1p() - 1e-9).ceil().max(1.0);
    demand(steps < f64::from(u32::MAX), Input::UnbalanceReductionRatio, Requirement::BeWithinRange)?;
    Ok(steps as u32)
}

/// Correction plane interference ratio: `I_AB = U_AB / U_BB`, what plane A shows for an unbalance in plane B over what
/// plane B shows for it. U_BB above zero, U_AB not below. Source: ISO 21940-2 (from memory).
pub fn interference_ratio(shown_in_other: Indication, shown_in_own: Indication) -> Computed<Ratio> {
    settled(not_negative(shown_in_other, Input::Reading)? / positive(shown_in_own, Input::Reading)?)
}

/// How sharp the resonance of a machine that works at it is taken to be, as a damping ratio. Source: assumed, no source.
const DAMPING_AT_RESONANCE: f64 = 0.02;

/// What a reading beside the peak of a machine that works at resonance lacks, as a share of it: `√(1 + (δ/ζ)²) − 1`, δ the
/// share of the speed by which it is beside. Source: the amplitude of a damped oscillator near resonance; plain mechanics.
pub fn lacks_beside_resonance(departure: Ratio) -> Ratio {
    Ratio::new((departure.value() / DAMPING_AT_RESONANCE).hypot(1.0) - 1.0)
}

/// What a reading that goes by a power of the speed is wrong by at another speed, as a share of it: `|1 − 1/(1 + δ)ⁿ|`.
/// Source: centrifugal force goes by the square, and the velocity of what it moves by one power more; plain mechanics.
pub fn wrong_by_power_of_speed(departure: Ratio, power: i32) -> Ratio {
    Ratio::new((1.0 - (1.0 + departure.value()).powi(-power)).abs())
}

/// What a reading of soft supports is wrong by at another speed, as a share of it: `|A(r) / A(r·(1 + δ)) − 1|`, with
/// `A = r² / (r² − 1)` the amplification at r times the resonance, above 1 at both speeds. Source: as for
/// [`soft_support_factor`].
pub fn wrong_above_resonance(ratio_to_resonance: Ratio, departure: Ratio) -> Computed<Ratio> {
    let at_run = soft_support_factor(Ratio::new(ratio_to_resonance.value() * (1.0 + departure.value())))?;
    let calibrated = soft_support_factor(ratio_to_resonance)?;
    settled(Ratio::new((calibrated.value() / at_run.value() - 1.0).abs()))
}

/// A known unbalance put at equal steps round the rotor, and what was read at each.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Traverse {
    /// Residual from the extremes: `U_t · (A_max − A_min) / (A_max + A_min)`.
    pub residual_from_extremes: Unbalance,
    /// Residual from the first harmonic of the squared readings: uses all of them, and holds for a residual of any size
    /// up to the test unbalance.
    pub residual_from_harmonic: Unbalance,
    /// A residual above the test unbalance that would read the same: `U_t² / U`. Infinite without a residual.
    pub would_read_alike: Unbalance,
    /// The farthest that a reading lies from what the residual explains, as an unbalance.
    pub scatter: Unbalance,
    /// Where the first harmonic is largest: the residual's heavy spot, counted from the first place.
    pub heavy_spot: Angle,
    /// The largest share by which a reading departs from the mean.
    pub largest_departure: Ratio,
}

impl Traverse {
    /// The other residual that reads the same: `U_t² / U` for each.
    pub fn larger(self, test: Unbalance) -> Computed<Self> {
        let from_extremes = settled(test * (test / self.residual_from_extremes).value())?;
        Ok(Self {
            residual_from_extremes: from_extremes,
            residual_from_harmonic: self.would_read_alike,
            would_read_alike: self.residual_from_harmonic,
            ..self
        })
    }

    /// Which of both it is, by the mean of the squares in g·mm and the like: `U² + U_t²`. Source: the law of cosines.
    pub fn by_amounts(self, test: Unbalance, readings: &[Unbalance]) -> Computed<Self> {
        let mean = readings.iter().map(|one| one.base().powi(2)).sum::<f64>() / readings.len() as f64;
        let off = |residual: Unbalance| (mean - residual.base().powi(2) - test.base().powi(2)).abs();
        match self.would_read_alike.is_finite() && off(self.would_read_alike) < off(self.residual_from_harmonic) {
            true => self.larger(test),
            false => Ok(self),
        }
    }
}

/// By how much the extremes may fall short of a residual that points between two of so many places: `1/cos(π/N) − 1` of it.
/// Source: a cosine between its samples.
pub fn missed_by_extremes(residual: Unbalance, places: usize) -> Unbalance {
    residual * (1.0 / (std::f64::consts::PI / places.max(3) as f64).cos() - 1.0)
}

/// The residual of a traverse: readings with a test unbalance at equally spaced places, in the sense of the angles.
///
/// `A² = κ²·(U² + U_t²) + 2·κ²·U·U_t·cos(θ − ψ)` is exactly linear in cos θ and sin θ. With r the first harmonic of the
/// squares over their mean, `r = 2·x / (1 + x²)`, x = U/U_t: `x = r / (1 + √(1 − r²))`, or its inverse.
///
/// At least six readings, none below zero, not all zero; the test unbalance is above zero.
/// Source: residual unbalance work sheet of API 610 and 617 (from memory) for the extremes; the law of cosines for the
/// squares, plain algebra.
pub fn residual_from_traverse(test: Unbalance, readings: &[Indication]) -> Computed<Traverse> {
    let test = positive(test, Input::TestUnbalance)?;
    demand(readings.len() >= 6, Input::Readings, Requirement::BeAtLeastSix)?;
    for reading in readings {
        not_negative(*reading, Input::Readings)?;
    }
    let (count, values) = (readings.len() as f64, readings.iter().map(|reading| reading.value()));
    let mean = positive(Ratio::new(values.clone().sum::<f64>() / count), Input::Readings)?.value();
    let (least, most) = values.clone().fold((f64::INFINITY, 0.0_f64), |(l, m), v| (l.min(v), m.max(v)));
    let places = values.enumerate().map(|(place, value)| (value / mean, std::f64::consts::TAU / count * place as f64));
    let squares = places.clone().map(|(value, at)| (value * value, at));
    let of_squares = squares.clone().map(|(square, _)| square).sum::<f64>() / count;
    let (x, y) = squares.fold((0.0, 0.0), |(x, y), (square, at)| (x + square * at.cos(), y + square * at.sin()));
    let spot = y.atan2(x);
    // Scatter can carry the share beyond what any residual gives.
    let harmonic = (2.0 * x.hypot(y) / count / of_squares).min(1.0);
    let share = harmonic / (1.0 + (1.0 - harmonic * harmonic).sqrt());
    // What the test unbalance alone would read, over the mean.
    let of_test = (of_squares / (1.0 + share * share)).sqrt();
    let explained = |at: f64| of_test * (1.0 + share * share + 2.0 * share * (at - spot).cos()).max(0.0).sqrt();
    let scatter = places.map(|(value, at)| (value - explained(at)).abs()).fold(0.0, f64::max) / of_test;
    Ok(Traverse {
        residual_from_extremes: settled(test * ((most - least) / (most + least)))?,
        residual_from_harmonic: settled(test * share)?,
        would_read_alike: test / share,
        scatter: settled(test * scatter)?,
        heavy_spot: Angle::radians(spot).within_one_turn(),
        largest_departure: settled(Ratio::new(((most / mean) - 1.0).max(1.0 - least / mean)))?,
    })
}

/// A test unbalance below this many times the residual it finds is too near to it: scatter may hide that the residual is
/// the larger of the two. Source: common practice, no source.
pub const TEST_OVER_RESIDUAL: f64 = 2.0;

/// Readings within this share of their mean show that the minimum achievable residual unbalance is reached: one part in
/// ten for the residual and a fifth more for scatter. Source: ISO 2953 / ISO 21940-21, seen in
/// Machinery Component Maintenance and Repair, chapter 6.
pub const TRAVERSE_BAND: f64 = 0.12;
