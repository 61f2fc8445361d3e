//! Index balancing: parting the arbor's unbalance from the rotor's.

use super::domain::{Computed, Input, Requirement, demand};
use crate::units::{Amount, Angle, Ratio, Vector};

/// What runs with the rotor turned on its arbor tell, in the arbor's angles.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Indexed<T: Amount> {
    pub arbor: Vector<T>,
    /// As the rotor sat before it was turned.
    pub rotor: Vector<T>,
    /// The farthest that any reading lies from what arbor and rotor together explain: how well the seat repeats.
    pub scatter: T,
}

/// Arbor and rotor from readings with the rotor turned by known angles, in the arbor's frame: the least-squares
/// solution of `M_k = arbor + rotor ∠θ_k`.
///
/// With two positions half a turn apart it is `arbor = (M₀ + M₁₈₀)/2`, `rotor = (M₀ − M₁₈₀)/2`; with evenly spread
/// positions `arbor = mean M_k`, `rotor = mean M_k ∠−θ_k`. At least two positions that differ.
/// Source: ISO 21940-14:2012, index balancing (from memory; the half-turn method seen in Machinery
/// Component Maintenance and Repair, chapter 6); N positions by plain algebra.
pub fn index_balancing<T: Amount>(readings: &[(Angle, Vector<T>)]) -> Computed<Indexed<T>> {
    demand(readings.len() >= 2, Input::Readings, Requirement::BeGiven)?;
    let usable = |(angle, reading): &(Angle, Vector<T>)| angle.is_finite() && reading.is_finite();
    demand(readings.iter().all(usable), Input::Readings, Requirement::BeFinite)?;
    let count = readings.len() as f64;
    // S = Σ e^{iθ}: zero for evenly spread positions, N for positions that do not differ.
    let turns: Vector<Ratio> = readings.iter().map(|(angle, _)| Vector::from_polar(Ratio::new(1.0), *angle)).sum();
    let determinant = count * count - turns.amount().value().powi(2);
    demand(determinant > 1e-6 * count * count, Input::AngularPlaces, Requirement::NotCoincide)?;
    let sum: Vector<T> = readings.iter().map(|(_, reading)| *reading).sum();
    let turned_back: Vector<T> = readings.iter().map(|(angle, reading)| reading.rotate(-*angle)).sum();
    let arbor = (sum * count - turned_back.times(turns)) / determinant;
    let rotor = (turned_back * count - sum.times(turns.mirrored())) / determinant;
    let left = |(angle, reading): &(Angle, Vector<T>)| (*reading - arbor - rotor.rotate(*angle)).amount().raw();
    let scatter = readings.iter().map(left).fold(0.0, f64::max);
    demand(arbor.is_finite() && rotor.is_finite(), Input::Result, Requirement::BeFinite)?;
    Ok(Indexed { arbor, rotor, scatter: T::from_raw(scatter) })
}
