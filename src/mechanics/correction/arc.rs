//! Material ground off along an arc of the rim.

use super::Piece;
use crate::mechanics::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use crate::units::{Angle, Density, Length, Typed, Unbalance, Volume};
use std::f64::consts::PI;

/// The surface that is ground: its radius, the width of the ground band, and the full angle it spans.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Arc {
    pub surface_radius: Length,
    pub width: Length,
    pub full_angle: Angle,
}

impl Arc {
    /// Outer radius, width and half angle in m, m and rad. The angle is above 0 and at most a turn.
    fn checked(self) -> Computed<(f64, f64, f64)> {
        let surface = positive(self.surface_radius, Input::SurfaceRadius)?.in_metres();
        let width = positive(self.width, Input::Width)?.in_metres();
        let half = positive(self.full_angle, Input::ArcAngle)?.in_radians() / 2.0;
        demand(half <= PI * (1.0 + 1e-12), Input::ArcAngle, Requirement::BeWithinRange)?;
        Ok((surface, width, half))
    }
}

/// An arc ground to an even depth: `m = ρ·w·α·(r_o² − r_i²)`, `U = ⅔·ρ·w·sin α·(r_o³ − r_i³)`.
///
/// α is half the full angle, in radians; r_o the surface radius, `r_i = r_o − depth`. The depth is not below zero and
/// ends before the axis; the density is above zero. Source: centroid of an annular sector, plain geometry.
pub fn ground_arc(arc: Arc, depth: Length, density: Density) -> Computed<Piece> {
    let (outer, width, half) = arc.checked()?;
    let depth = not_negative(depth, Input::Depth)?.in_metres();
    let density = positive(density, Input::Density)?;
    demand(depth <= outer, Input::Depth, Requirement::EndBeforeTheAxis)?;
    let inner = outer - depth;
    // Differences of powers with the depth taken out, so that a thin layer keeps its digits.
    let squares = depth * (outer + inner);
    let cubes = depth * (outer * outer + outer * inner + inner * inner);
    let volume = Volume::cubic_metres(width * half * squares);
    let unbalance = density.base() * width * half.sin().max(0.0) * cubes * (2.0 / 3.0);
    Piece::of(density, volume, Unbalance::from_base(unbalance))
}

/// The depth to grind for an unbalance: `r_i³ = r_o³ − 3U / (2·ρ·w·sin α)`.
///
/// Symbols as in [`ground_arc`]. The unbalance is not below zero and no more than grinding to the axis would give;
/// the arc is less than a whole turn, whose ring has no unbalance. Source: plain geometry.
pub fn ground_arc_depth(arc: Arc, unbalance: Unbalance, density: Density) -> Computed<Length> {
    let (outer, width, half) = arc.checked()?;
    let unbalance = not_negative(unbalance, Input::Unbalance)?;
    let density = positive(density, Input::Density)?;
    demand(half.sin() > 1e-12, Input::ArcAngle, Requirement::BeWithinRange)?;
    let cubes = 1.5 * unbalance.base() / (density.base() * width * half.sin());
    let inner_cubed = outer.powi(3) - cubes;
    demand(inner_cubed >= 0.0, Input::Unbalance, Requirement::BeWithinReach)?;
    let inner = inner_cubed.cbrt();
    // The difference of the radii from that of their cubes, so that a thin layer keeps its digits.
    settled(Length::metres(cubes / (outer * outer + outer * inner + inner * inner)))
}
