//! The calibration mass and the reading it must give.

use super::domain::{Computed, Input, not_negative, positive, settled};
use super::force;
use crate::units::{Force, Indication, Length, Mass, Ratio, Speed, Typed, Unbalance};

/// Unbalance of a calibration mass: `U = m · r`. Both above zero. Source: definition.
pub fn calibration_unbalance(mass: Mass, radius: Length) -> Computed<Unbalance> {
    settled(positive(mass, Input::CalibrationMass)? * positive(radius, Input::Radius)?)
}

/// How many times the tolerance of its plane a calibration unbalance is. Both above zero.
pub fn times_tolerance(unbalance: Unbalance, tolerance: Unbalance) -> Computed<Ratio> {
    settled(positive(unbalance, Input::CalibrationUnbalance)? / positive(tolerance, Input::Tolerance)?)
}

/// The reading to set: `A = U / U_tol · A_tol`, with U the calibration unbalance, U_tol the tolerance of the plane and A_tol
/// what the readout shows at tolerance. All above zero.
///
/// Source: a readout proportional to unbalance; common practice, no source.
pub fn reading_to_set(unbalance: Unbalance, tolerance: Unbalance, at_tolerance: Indication) -> Computed<Indication> {
    let times = times_tolerance(unbalance, tolerance)?;
    settled(positive(at_tolerance, Input::ReadingAtTolerance)? * times)
}

/// The unbalance that gives a reading: [`reading_to_set`] the other way, `U = A / A_tol · U_tol`.
pub fn unbalance_of_reading(
    reading: Indication,
    tolerance: Unbalance,
    at_tolerance: Indication,
) -> Computed<Unbalance> {
    let reading = not_negative(reading, Input::Reading)?;
    let times = reading / positive(at_tolerance, Input::ReadingAtTolerance)?;
    settled(positive(tolerance, Input::Tolerance)? * times)
}

/// The mass that gives a reading at a radius: `m = A / A_tol · U_tol / r`. All above zero.
///
/// Symbols and source as for [`reading_to_set`].
pub fn mass_for_reading(
    reading: Indication,
    radius: Length,
    tolerance: Unbalance,
    at_tolerance: Indication,
) -> Computed<Mass> {
    let unbalance = unbalance_of_reading(positive(reading, Input::Reading)?, tolerance, at_tolerance)?;
    settled(unbalance / positive(radius, Input::Radius)?)
}

/// The radius at which a mass gives a reading: `r = A / A_tol · U_tol / m`. All above zero.
///
/// Symbols and source as for [`reading_to_set`].
pub fn radius_for_reading(
    reading: Indication,
    mass: Mass,
    tolerance: Unbalance,
    at_tolerance: Indication,
) -> Computed<Length> {
    let unbalance = unbalance_of_reading(positive(reading, Input::Reading)?, tolerance, at_tolerance)?;
    radius_of_mass(unbalance, mass)
}

/// The radius at which a mass makes an unbalance: `r = U / m`. The unbalance not below zero, the mass above it. Source:
/// definition.
pub fn radius_of_mass(unbalance: Unbalance, mass: Mass) -> Computed<Length> {
    let unbalance = not_negative(unbalance, Input::Unbalance)?;
    settled(Length::from_base((unbalance / positive(mass, Input::CalibrationMass)?).base()))
}

/// What one division of the readout means: `U_tol / A_tol`. Both above zero.
///
/// Source: as for [`reading_to_set`].
pub fn value_of_one_division(tolerance: Unbalance, at_tolerance: Indication) -> Computed<Unbalance> {
    unbalance_of_reading(Indication::new(1.0), tolerance, at_tolerance)
}

/// What one division means by what was set: `U / A`, with U the calibration unbalance and A the reading that was set
/// with it. Both above zero.
///
/// Source: as for [`reading_to_set`].
pub fn division_as_set(unbalance: Unbalance, reading: Indication) -> Computed<Unbalance> {
    let unbalance = positive(unbalance, Input::CalibrationUnbalance)?;
    settled(unbalance * (1.0 / positive(reading, Input::Reading)?.value()))
}

/// How far a check mass reads from what it must read, as a share of that: `A ÷ A_must − 1`. The reading is not below zero,
/// what it must be above. Source: definition.
pub fn drift_of_check(reading: Indication, must_read: Indication) -> Computed<Ratio> {
    let share = not_negative(reading, Input::Reading)? / positive(must_read, Input::Reading)?;
    settled(Ratio::new(share.value() - 1.0))
}

/// What a readout that shows the mass at a set radius shows for an unbalance: `m = U / r`. The radius is above zero, the
/// unbalance not below. Source: definition.
pub fn indicated_mass(unbalance: Unbalance, set_radius: Length) -> Computed<Mass> {
    settled(not_negative(unbalance, Input::Unbalance)? / positive(set_radius, Input::Radius)?)
}

/// The mass that pulls with a force at a radius: `m = F / (r · Ω²)`. Radius and speed above zero, the force not below.
///
/// Source: plain mechanics.
pub fn mass_for_force(force: Force, radius: Length, speed: Speed) -> Computed<Mass> {
    settled(force::unbalance_of_force(force, speed)? / positive(radius, Input::Radius)?)
}

/// The trial mass that pulls with a share of the rotor's weight: `m = p · M · g / (r · Ω²)`. All above zero.
///
/// Source: common practice, no source (a tenth is usual).
#[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "for trial masses"))]
pub fn trial_mass(rotor: Mass, radius: Length, speed: Speed, share_of_weight: Ratio) -> Computed<Mass> {
    let weight = force::weight(positive(rotor, Input::Mass)?)?;
    mass_for_force(weight * positive(share_of_weight, Input::Share)?, radius, speed)
}

/// How the reading of a calibration mass is taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TakenAs {
    OnePosition,
    MeanOfTwoOppositePositions,
}

/// The largest share of the reading that a residual unbalance of the rotor can falsify: `x` for one position, `x²/2` for
/// the mean of two opposite ones, with `x = U_res / U_cal`. The difference of two vectors does not contain it.
///
/// One position adds the residual to the calibration mass at any phase, so the amount lies within `1 ± x`. The two
/// amounts of opposite positions have a mean of 1 along the mass and `√(1 + x²)` across it, which is `1 + x²/2` at
/// most. The residual is not below zero, the calibration unbalance above it. Source: vector sum, plain geometry.
pub fn error_from_residual(taken_as: TakenAs, residual: Unbalance, calibration: Unbalance) -> Computed<Ratio> {
    let residual = not_negative(residual, Input::ResidualUnbalance)?;
    let share = (residual / positive(calibration, Input::CalibrationUnbalance)?).value();
    settled(Ratio::new(match taken_as {
        TakenAs::OnePosition => share,
        TakenAs::MeanOfTwoOppositePositions => share * share / 2.0,
    }))
}
