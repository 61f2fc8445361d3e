//! Belt drive, resonance, and what counts as the same speed.

use super::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use crate::units::{Length, Mass, Ratio, Speed, Stiffness, Typed};

/// Up to this share of its first bending critical speed a rotor counts as rigid. Source: common practice, no source.
pub const RIGID_UP_TO: f64 = 0.7;

/// Motor speed for a rotor speed under a belt: `n_motor = n · D / D_motor / (1 − s)`.
///
/// D is the diameter on the rotor on which the belt runs, s the slip from 0 to below 1. Diameters above zero, the speed
/// not below. Source: plain kinematics.
pub fn motor_speed(rotor: Speed, pulley: Length, belt_runs_on: Length, slip: Ratio) -> Computed<Speed> {
    settled(not_negative(rotor, Input::Speed)? / belt_ratio(pulley, belt_runs_on, slip)?.value())
}

/// The motor pulley that gives a rotor speed: `D_motor = n · D / (n_motor · (1 − s))`.
///
/// Symbols as in [`motor_speed`]; all above zero. Source: plain kinematics.
pub fn pulley(rotor: Speed, motor: Speed, belt_runs_on: Length, slip: Ratio) -> Computed<Length> {
    let times = belt_slips(rotor, motor, slip)?;
    settled(positive(belt_runs_on, Input::Diameter)? * times.value())
}

/// The diameter on the rotor for the belt: `D = n_motor · D_motor · (1 − s) / n`.
///
/// Symbols as in [`motor_speed`]; all above zero. Source: plain kinematics.
pub fn belt_runs_on(rotor: Speed, motor: Speed, pulley: Length, slip: Ratio) -> Computed<Length> {
    let times = belt_slips(rotor, motor, slip)?;
    settled(positive(pulley, Input::PulleyDiameter)? / times.value())
}

/// Rotor speed over what the motor would turn it at by equal diameters.
fn belt_slips(rotor: Speed, motor: Speed, slip: Ratio) -> Computed<Ratio> {
    demand((0.0..1.0).contains(&slip.value()), Input::Slip, Requirement::BeWithinRange)?;
    Ok((positive(rotor, Input::Speed)? / positive(motor, Input::Speed)?) / (1.0 - slip.value()))
}

/// Rotor speed over motor speed.
fn belt_ratio(pulley: Length, belt_runs_on: Length, slip: Ratio) -> Computed<Ratio> {
    let ratio = positive(pulley, Input::PulleyDiameter)? / positive(belt_runs_on, Input::Diameter)?;
    demand((0.0..1.0).contains(&slip.value()), Input::Slip, Requirement::BeWithinRange)?;
    positive(ratio * (1.0 - slip.value()), Input::Diameter)
}

/// Resonance speed of a mass on springs: `Ω = √(k / m)`.
///
/// k is the stiffness of all springs together, m all that moves with the rotor; both above zero.
/// Source: single-degree-of-freedom oscillator, textbook (from memory).
#[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "for the amplification of supports"))]
pub fn resonance_speed(stiffness: Stiffness, moving_mass: Mass) -> Computed<Speed> {
    let stiffness = positive(stiffness, Input::Stiffness)?.base();
    settled(Speed::radians_per_second((stiffness / positive(moving_mass, Input::Mass)?.base()).sqrt()))
}

/// Speed over resonance speed. The resonance is above zero, the speed not below.
pub fn ratio_to_resonance(speed: Speed, resonance: Speed) -> Computed<Ratio> {
    settled(not_negative(speed, Input::Speed)? / positive(resonance, Input::Resonance)?)
}

/// How much more a soft support moves than far above resonance: `r² / (r² − 1)`, with r the ratio to the resonance
/// speed, above 1. Source: undamped oscillator under unbalance, textbook (from memory).
pub fn soft_support_factor(ratio_to_resonance: Ratio) -> Computed<Ratio> {
    let square = ratio_to_resonance.value().powi(2);
    demand(square > 1.0, Input::SpeedRatio, Requirement::BeWithinRange)?;
    settled(Ratio::new(1.0 / (1.0 - 1.0 / square)))
}

/// How much more force a hard support sees than far below resonance: `1 / (1 − r²)`, with r the ratio to the resonance
/// speed, from 0 to below 1. Source: undamped oscillator under unbalance, textbook (from memory).
pub fn hard_support_factor(ratio_to_resonance: Ratio) -> Computed<Ratio> {
    let ratio = not_negative(ratio_to_resonance, Input::SpeedRatio)?.value();
    demand(ratio < 1.0, Input::SpeedRatio, Requirement::BeWithinRange)?;
    settled(Ratio::new(1.0 / (1.0 - ratio * ratio)))
}

/// The speeds that count as the same: `n·(1 − p)` to `n·(1 + p)`. The speed is above zero, p from 0 to below 1.
///
/// Source: common practice, no source.
pub fn band_of_equal_speed(speed: Speed, within: Ratio) -> Computed<[Speed; 2]> {
    let speed = positive(speed, Input::Speed)?;
    demand((0.0..1.0).contains(&within.value()), Input::SpeedRatio, Requirement::BeWithinRange)?;
    Ok([settled(speed * (1.0 - within.value()))?, settled(speed * (1.0 + within.value()))?])
}
