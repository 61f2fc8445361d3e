//! A flat milled on a round rim.

use super::Piece;
use crate::mechanics::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use crate::units::{Density, Length, Typed, Unbalance, Volume};

/// A flat milled to a depth below the round surface: `U = ρ·w·c³/12`, with the chord `c = 2·√(2Rt − t²)` and the
/// section `A = R²·θ − (R − t)·c/2`, `sin(θ/2) = √(t / 2R)`.
///
/// R is the surface radius, t the depth from the round surface, w the width along the axis. The depth is not below
/// zero and ends before the axis; all else is above zero. Source: centroid of a segment of a circle, plain geometry.
pub fn milled_flat(surface_radius: Length, width: Length, depth: Length, density: Density) -> Computed<Piece> {
    let radius = positive(surface_radius, Input::SurfaceRadius)?.in_metres();
    let width = positive(width, Input::Width)?.in_metres();
    let depth = not_negative(depth, Input::Depth)?.in_metres();
    let density = positive(density, Input::Density)?;
    demand(depth <= radius, Input::Depth, Requirement::EndBeforeTheAxis)?;
    let half_chord = (depth * (2.0 * radius - depth)).sqrt();
    let half_angle = 2.0 * (depth / (2.0 * radius)).sqrt().asin();
    let section = radius * radius * half_angle - (radius - depth) * half_chord;
    let unbalance = density.base() * width * half_chord.powi(3) * (2.0 / 3.0);
    Piece::of(density, Volume::cubic_metres(section.max(0.0) * width), Unbalance::from_base(unbalance))
}

/// The depth of the flat that takes off an unbalance: `c = ∛(12U / (ρ·w))`, `t = R − √(R² − c²/4)`.
///
/// Symbols as in [`milled_flat`]. The unbalance is not below zero and no more than a flat through the axis gives.
/// Source: plain geometry.
pub fn milled_flat_depth(
    surface_radius: Length,
    width: Length,
    unbalance: Unbalance,
    density: Density,
) -> Computed<Length> {
    let radius = positive(surface_radius, Input::SurfaceRadius)?.in_metres();
    let width = positive(width, Input::Width)?.in_metres();
    let unbalance = not_negative(unbalance, Input::Unbalance)?.base();
    let density = positive(density, Input::Density)?.base();
    let half_chord = (1.5 * unbalance / (density * width)).cbrt();
    demand(half_chord <= radius, Input::Unbalance, Requirement::BeWithinReach)?;
    let square = half_chord * half_chord;
    // This form of the depth keeps its digits for a shallow flat.
    settled(Length::metres(square / (radius + (radius * radius - square).sqrt())))
}
