//! Keys: what a half-key weighs, and what a wrong key convention does.

use super::domain::{Computed, Input, not_negative, positive, settled};
use crate::units::{Density, Length, Mass, Unbalance};

/// How much of the key was in the keyway while a part was balanced. A part balanced so is marked H, F or N.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum KeyConvention {
    Half,
    Full,
    None,
}

impl KeyConvention {
    const fn share(self) -> f64 {
        match self {
            KeyConvention::Half => 0.5,
            KeyConvention::Full => 1.0,
            KeyConvention::None => 0.0,
        }
    }
}

/// Mass of a whole parallel key: `m = b·h·l·ρ`, with its ends counted as square. All above zero.
///
/// Source: plain geometry.
pub fn key_mass(width: Length, height: Length, length: Length, density: Density) -> Computed<Mass> {
    for size in [width, height, length] {
        positive(size, Input::KeySize)?;
    }
    settled(positive(density, Input::Density)? * (width * height * length))
}

/// Mass of the half-key that fills the keyway while a part is balanced: half of [`key_mass`].
///
/// The height is simply halved; along the true joint of shaft and part the halves differ a little.
/// Source: ISO 21940-32:2012, half-key convention (from memory); halving the height is common practice.
pub fn half_key_mass(width: Length, height: Length, length: Length, density: Density) -> Computed<Mass> {
    key_mass(width, height, length, density).map(|mass| mass * 0.5)
}

/// What an assembly gets from how its two parts were balanced: `U = (1 − s₁ − s₂) · 2·m_h · r`.
///
/// s is the share of the key in place while each part was balanced: ½ for a half-key, 1 for a full key, 0 for none;
/// m_h the mass of the half-key, r the radius of the key's mass centre. Above zero the assembly is heavy at the key, below
/// zero opposite to it. Half-key with half-key gives nothing; half with full or none gives one half-key; full with
/// full, or none with none, gives two. Mass and radius are not below zero.
/// Source: vector sum; conventions of ISO 21940-32:2012 (from memory).
pub fn unbalance_of_conventions(
    shaft: KeyConvention,
    fitted_part: KeyConvention,
    half_key: Mass,
    radius: Length,
) -> Computed<Unbalance> {
    let half = not_negative(half_key, Input::Mass)? * not_negative(radius, Input::Radius)?;
    settled(half * (2.0 * (1.0 - shaft.share() - fitted_part.share())))
}

/// What one part carries when its mating part follows the half-key convention: one half-key's unbalance when it was
/// balanced with a full key (below zero: opposite the key) or without (above zero).
///
/// Domain and source as for [`unbalance_of_conventions`].
#[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "for keys fitted or not"))]
pub fn unbalance_against_half_key(part: KeyConvention, half_key: Mass, radius: Length) -> Computed<Unbalance> {
    unbalance_of_conventions(part, KeyConvention::Half, half_key, radius)
}
