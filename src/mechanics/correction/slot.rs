//! Filler cast or pressed into a slot.

use super::Piece;
use crate::mechanics::domain::{Computed, Input, not_negative, positive, settled};
use crate::units::{Area, Density, Length, Mass};

/// Filler that fills a length of a slot: `m = ρ·A·l`, `U = m·r`.
///
/// ρ is the density once cured, A the section that is filled, l the filled length, r the radius of the mass centre.
/// The length is not below zero, all else is above it. Source: plain geometry.
pub fn slot_filler(cured_density: Density, section: Area, length: Length, radius: Length) -> Computed<Piece> {
    let section = positive(section, Input::SlotSection)?;
    let volume = section * not_negative(length, Input::SlotLength)?;
    Piece::at_radius(settled(positive(cured_density, Input::Density)? * volume)?, positive(radius, Input::Radius)?)
}

/// The length of slot that a mass of filler takes: `l = m / (ρ·A)`.
///
/// Symbols as in [`slot_filler`]. Source: plain geometry.
pub fn slot_length(mass: Mass, cured_density: Density, section: Area) -> Computed<Length> {
    let volume = not_negative(mass, Input::Mass)? / positive(cured_density, Input::Density)?;
    settled(volume / positive(section, Input::SlotSection)?)
}
