//! One correction made at two places.

use crate::mechanics::domain::{Computed, Input, Requirement, demand, finite, settled};
use crate::units::{Amount, Angle, Vector};

/// The shares at two places that together make a wanted vector: `m₁ = U·sin(θ₂ − φ) / sin(θ₂ − θ₁)`,
/// `m₂ = U·sin(φ − θ₁) / sin(θ₂ − θ₁)`.
///
/// U and φ are amount and angle of the vector, θ₁ and θ₂ the places. Neither share comes out below zero: the direction
/// must lie between the places, which are less than half a turn apart and do not coincide. Source: law of sines.
pub fn on_two_places<T: Amount>(wanted: Vector<T>, first: Angle, second: Angle) -> Computed<[T; 2]> {
    demand(wanted.is_finite(), Input::Unbalance, Requirement::BeFinite)?;
    let apart = (finite(second, Input::AngularPlaces)? - finite(first, Input::AngularPlaces)?).sin();
    let same_way = (second - first).cos() > 0.0;
    let must = if same_way { Requirement::NotCoincide } else { Requirement::BeWithinRange };
    demand(apart.abs() > 1e-9, Input::AngularPlaces, must)?;
    let (amount, direction) = (wanted.amount().raw(), wanted.angle());
    let shares = [(second - direction).sin() / apart, (direction - first).sin() / apart];
    // A direction on one of the places leaves nothing for the other, but for rounding.
    let between = shares.iter().all(|share| *share >= -1e-12);
    demand(between || amount == 0.0, Input::Direction, Requirement::LieBetweenThePlaces)?;
    let share = |share: f64| settled(T::from_raw(amount * share.max(0.0)));
    Ok([share(shares[0])?, share(shares[1])?])
}

/// The two of several places between which a direction lies, the one at or before it first, by increasing angle.
///
/// `None` with fewer than two places. Places are numbered as they stand in the list.
pub fn neighbours(direction: Angle, places: &[Angle]) -> Option<[usize; 2]> {
    if places.len() < 2 {
        return None;
    }
    let nearest = |distance: &dyn Fn(Angle) -> Angle, skipped: Option<usize>| {
        let kept = (0..places.len()).filter(|place| Some(*place) != skipped);
        kept.min_by(|a, b| distance(places[*a]).raw().total_cmp(&distance(places[*b]).raw()))
    };
    let before = nearest(&|place| (direction - place).within_one_turn(), None)?;
    let after = nearest(&|place| (place - direction).within_one_turn(), Some(before))?;
    Some([before, after])
}
