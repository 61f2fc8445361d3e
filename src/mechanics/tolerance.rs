//! How much unbalance may remain in the whole rotor.

use super::domain::{Computed, Input, not_negative, positive, settled};
use crate::units::{Mass, Ratio, SpecificUnbalance, Speed, Unbalance, Velocity};

/// Permissible specific unbalance of a balance quality grade: `e_per = G / Ω`.
///
/// `grade` is G, the permissible velocity of the mass centre; `highest_service_speed` is Ω.
/// Both above zero. Source: ISO 21940-11:2016, clause 6 (from memory).
pub fn permissible_specific_unbalance(grade: Velocity, highest_service_speed: Speed) -> Computed<SpecificUnbalance> {
    let grade = positive(grade, Input::Grade)?;
    let speed = positive(highest_service_speed, Input::Speed)?;
    settled(grade / speed)
}

/// Permissible residual unbalance of a balance quality grade: `U_per = G · m / Ω`, which is
/// `9549.3 · G · m / n` g·mm with G in mm/s, m in kg and n in r/min.
///
/// `mass` is that of the whole rotor. All above zero. Source: ISO 21940-11:2016, clause 6 (from memory).
pub fn permissible_unbalance(grade: Velocity, mass: Mass, highest_service_speed: Speed) -> Computed<Unbalance> {
    let specific = permissible_specific_unbalance(grade, highest_service_speed)?;
    settled(positive(mass, Input::Mass)? * specific)
}

/// The grade that an unbalance amounts to: `G = U · Ω / m`, the formula of the permissible residual
/// unbalance solved for G.
///
/// `unbalance` is the rotor's permissible unbalance. All above zero.
/// Source: ISO 21940-11:2016, clause 6 (from memory).
pub fn equivalent_grade(unbalance: Unbalance, mass: Mass, highest_service_speed: Speed) -> Computed<Velocity> {
    let unbalance = positive(unbalance, Input::Tolerance)?;
    let specific = unbalance / positive(mass, Input::Mass)?;
    settled(specific * positive(highest_service_speed, Input::Speed)?)
}

/// The tolerance of a rotor like one whose tolerance is known: `U₂ = U₁ · (m₂ / m₁) · (n₁ / n₂)`.
///
/// Like parts at like speed keep their specific unbalance; at another speed they keep their grade.
/// The known rotor and the new one are each a mass and a highest service speed. All above zero.
/// Source: ISO 21940-11:2016, clause 6, similarity (from memory).
pub fn scaled_by_mass_and_speed(
    known_tolerance: Unbalance,
    (known_mass, known_speed): (Mass, Speed),
    (mass, speed): (Mass, Speed),
) -> Computed<Unbalance> {
    let grade = equivalent_grade(known_tolerance, known_mass, known_speed)?;
    permissible_unbalance(grade, mass, speed)
}

/// `4W/N`: `U = 4 · W / N` oz·in in one plane, with W in lb and N in r/min; exactly `6350 · W / N` g·mm with
/// W in kg.
///
/// By journal load W is the static load on the journal next to the plane; by whole weight it is that of the
/// whole rotor, and the limit holds in each plane all the same. `speed` is the highest service speed.
/// The journal of an overhung rotor may be lifted: its load counts by its amount. Not zero, the speed above zero.
/// Source: API 610 and 617, and MIL-STD-167-1 (1974) above 1000 r/min (from memory;
/// the form with these figures seen in a trade article on both).
pub fn four_w_over_n(load: Mass, speed: Speed) -> Computed<Unbalance> {
    let load = positive(load.abs(), Input::JournalLoad)?;
    let speed = positive(speed, Input::Speed)?;
    settled(Unbalance::ounce_inches(4.0 * load.in_pounds() / speed.in_rpm()))
}

/// A measured unbalance as a multiple of a tolerance. The unbalance is not below zero, the tolerance above it.
pub fn times(unbalance: Unbalance, tolerance: Unbalance) -> Computed<Ratio> {
    settled(not_negative(unbalance, Input::Unbalance)? / positive(tolerance, Input::Tolerance)?)
}
