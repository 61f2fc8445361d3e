//! What a way of correcting takes off or puts on, and how much of it a wanted unbalance needs.

pub mod arc;
pub mod drilling;
pub mod flat;
pub mod holes;
pub mod places;
pub mod sliding;
pub mod slot;
pub mod spread;
mod zonotope;

use super::domain::{Computed, Input, not_negative, positive, settled};
use crate::units::{Density, Length, Mass, Typed, Unbalance, Volume};

/// Material taken off or put on: its mass, the radius of its mass centre, and its unbalance.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Piece {
    pub mass: Mass,
    pub radius: Length,
    pub unbalance: Unbalance,
}

impl Piece {
    /// A mass whose mass centre lies at a radius: `U = m · r`. Neither is below zero. Source: definition.
    pub fn at_radius(mass: Mass, radius: Length) -> Computed<Self> {
        let mass = not_negative(mass, Input::Mass)?;
        let radius = not_negative(radius, Input::Radius)?;
        Ok(Self { mass, radius, unbalance: settled(mass * radius)? })
    }

    /// A body of known volume and unbalance for each unit of density.
    fn of(density: Density, volume: Volume, unbalance: Unbalance) -> Computed<Self> {
        let mass = settled(density * volume)?;
        let unbalance = settled(unbalance)?;
        // Nothing taken off has no mass centre; zero means it.
        let radius =
            if mass == Mass::ZERO { Length::ZERO } else { settled(Length::from_base((unbalance / mass).base()))? };
        Ok(Self { mass, radius, unbalance })
    }
}

/// The mass that makes an unbalance at a radius: `m = U / r`. The radius is above zero, the unbalance not below.
///
/// Source: definition of unbalance.
pub fn mass_at_radius(unbalance: Unbalance, radius: Length) -> Computed<Mass> {
    settled(not_negative(unbalance, Input::Unbalance)? / positive(radius, Input::Radius)?)
}
