//! What fits, runout and the parts themselves bring into an assembly.

use super::domain::{Computed, Input, not_negative, positive, settled};
use crate::units::{Amount, Couple, Inertia, Length, Mass, SpecificUnbalance, Typed, Unbalance};

/// Unbalance of a part that may sit off centre in its fit: `U = m · c / 2`, with c the diametral clearance.
///
/// Mass above zero, clearance not below. Source: half the clearance as eccentricity, seen in
/// Machinery Component Maintenance and Repair, chapter 6.
pub fn unbalance_of_clearance(mass: Mass, diametral_clearance: Length) -> Computed<Unbalance> {
    settled(positive(mass, Input::Mass)? * (not_negative(diametral_clearance, Input::Clearance)? * 0.5))
}

/// Eccentricity of a seat whose runout is measured: half the total indicator reading.
///
/// The runout is not below zero. Source: plain geometry; as for [`unbalance_of_clearance`].
pub fn eccentricity_of_runout(total_indicator_reading: Length) -> Computed<SpecificUnbalance> {
    let half = not_negative(total_indicator_reading, Input::Runout)? * 0.5;
    Ok(SpecificUnbalance::from_base(half.base()))
}

/// Unbalance of a mass off centre: `U = m · e`. Mass above zero, eccentricity not below. Source: definition.
pub fn unbalance_of_eccentricity(mass: Mass, eccentricity: SpecificUnbalance) -> Computed<Unbalance> {
    settled(positive(mass, Input::Mass)? * not_negative(eccentricity, Input::Clearance)?)
}

/// The clearance that an unbalance allows: `c = 2·U / m`. Mass above zero, unbalance not below.
///
/// Source: [`unbalance_of_clearance`] solved for c.
pub fn clearance_for_unbalance(unbalance: Unbalance, mass: Mass) -> Computed<Length> {
    let eccentricity = not_negative(unbalance, Input::Unbalance)? / positive(mass, Input::Mass)?;
    settled(Length::from_base(eccentricity.base() * 2.0))
}

/// Couple of a part that sits tilted: `C = |I_p − I_d| · TIR / D`.
///
/// I_p and I_d are the part's polar and diametral moments of inertia about its mass centre, TIR the total indicator
/// reading of its face at the diameter D; the tilt is TIR/D, taken as small. Inertias and runout not below zero, the
/// diameter above. Source: products of inertia of a tilted body, plain mechanics.
pub fn couple_of_face_runout(
    polar: Inertia,
    diametral: Inertia,
    runout: Length,
    at_diameter: Length,
) -> Computed<Couple> {
    let difference = not_negative(polar, Input::Inertia)? - not_negative(diametral, Input::Inertia)?;
    let tilt = not_negative(runout, Input::Runout)? / positive(at_diameter, Input::Diameter)?;
    settled(Couple::from_base(difference.abs().base() * tilt.value()))
}

/// Amounts that are independent of each other: the root of the sum of their squares.
///
/// None of them below zero; zero for none. Source: ISO 21940-14:2012, clause 6 (from memory).
pub fn root_of_squares<T: Amount>(amounts: &[T]) -> Computed<T> {
    let length = amounts
        .iter()
        .try_fold(0.0_f64, |sum, amount| not_negative(*amount, Input::Errors).map(|amount| sum.hypot(amount.raw())));
    settled(T::from_raw(length?))
}

/// Amounts that may all point one way: their sum. None of them below zero. Source: plain arithmetic.
pub fn worst_case<T: Amount>(amounts: &[T]) -> Computed<T> {
    let sum = amounts
        .iter()
        .try_fold(0.0, |sum, amount| not_negative(*amount, Input::Errors).map(|amount| sum + amount.raw()));
    settled(T::from_raw(sum?))
}

/// What of a tolerance the parts and their fits leave for the assembly.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Left {
    /// `U_per − √ΣUᵢ²`; below zero when the parts alone take more than the tolerance.
    pub by_root_of_squares: Unbalance,
    /// `U_per − ΣUᵢ`; below zero when they may.
    pub in_worst_case: Unbalance,
}

/// What is left of the tolerance of an assembly once its parts and their fits have taken theirs.
///
/// `taken` holds the tolerances of the parts and the unbalances of the fits, none below zero; the tolerance is above it.
/// Source: the combination of errors of ISO 21940-14:2012, clause 6 (from memory), applied to parts; common practice.
pub fn left_for_assembly(tolerance: Unbalance, taken: &[Unbalance]) -> Computed<Left> {
    let tolerance = positive(tolerance, Input::Tolerance)?;
    Ok(Left {
        by_root_of_squares: settled(tolerance - root_of_squares(taken)?)?,
        in_worst_case: settled(tolerance - worst_case(taken)?)?,
    })
}
