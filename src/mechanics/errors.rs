//! Errors of balancing, and what a measured unbalance must then not exceed.

use super::domain::{Computed, Input, positive, settled};
use super::fits::root_of_squares;
use crate::units::Unbalance;

/// Errors up to this share of the tolerance may be left out. Source: ISO 21940-14:2012, clause 7 (from memory).
pub const NEGLIGIBLE_SHARE: f64 = 0.05;

/// Combined error of what was not corrected for: `ΔU = √ΣΔUᵢ²`. None below zero.
///
/// Source: ISO 21940-14:2012, clause 6 (from memory).
pub fn combined_error(errors: &[Unbalance]) -> Computed<Unbalance> {
    root_of_squares(errors)
}

/// What a measured unbalance must not exceed.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct AcceptanceLimits {
    /// After balancing: `U_per − ΔU`; zero when the error is as large as the tolerance.
    pub at_the_balancing_machine: Unbalance,
    /// At a later check elsewhere: `U_per + ΔU`.
    pub at_a_later_check: Unbalance,
    /// The error is small enough to be left out, and both limits are `U_per`.
    pub error_left_out: bool,
    /// Whether the tolerance can be shown to be kept at all: the error is below it.
    pub can_be_shown: bool,
}

/// Limits for measured amounts under a combined error ΔU. The tolerance is above zero, the error not below.
///
/// Source: ISO 21940-14:2012, clause 7 (from memory).
pub fn acceptance_limits(tolerance: Unbalance, combined_error: Unbalance) -> Computed<AcceptanceLimits> {
    let tolerance = positive(tolerance, Input::Tolerance)?;
    let error = super::domain::not_negative(combined_error, Input::Errors)?;
    let left_out = error <= tolerance * (NEGLIGIBLE_SHARE * (1.0 + 1e-12));
    let error = if left_out { Unbalance::ZERO } else { error };
    Ok(AcceptanceLimits {
        at_the_balancing_machine: (tolerance - error).max(Unbalance::ZERO),
        at_a_later_check: settled(tolerance + error)?,
        error_left_out: left_out,
        can_be_shown: error < tolerance,
    })
}
