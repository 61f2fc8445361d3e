//! Filler cast or pressed into a slot.

use super::Piece;
use crate::mechanics::domain::{Computed, Input, not_negative, positive, settled};
use crate::units::{Area, Density, Length};

/// Filler that fills a length of a slot: `m = ρ·A·l`, `U = m·r`.
///
/// ρ is the density once cured, A the section that is filled, l the filled length, r the radius of the mass centre.
/// The length is not below zero, all else is above it. Source: plain geometry.
pub fn slot_filler(cured_density: Density, section: Area, length: Length, radius: Length) -> Computed<Piece> {
    let section = positive(section, Input::SlotSection)?;
    let volume = section * not_negative(length, Input::SlotLength)?;
    Piece::at_radius(settled(positive(cured_density, Input::Density)? * volume)?, positive(radius, Input::Radius)?)
}
