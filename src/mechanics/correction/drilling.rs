//! Drilled holes with a conical bottom.

use super::Piece;
use crate::mechanics::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use crate::units::{Angle, Area, Density, Length, Typed, Unbalance, Volume};
use std::f64::consts::PI;

/// A drill: its diameter and the full angle of its tip, 118° on a common twist drill, 180° for a flat bottom.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Drill {
    pub diameter: Length,
    pub point_angle: Angle,
}

/// What the formulas of a hole share.
struct Bore {
    section: Area,
    tip: Length,
    tip_volume: Volume,
}

impl Drill {
    /// Height of the conical tip: `h = (d/2) / tan(τ/2)`, with d the diameter above zero and τ the point angle
    /// above 0 and up to 180°. Source: plain geometry.
    pub fn tip_height(self) -> Computed<Length> {
        let diameter = positive(self.diameter, Input::HoleDiameter)?;
        let half = positive(self.point_angle, Input::PointAngle)?.in_radians() / 2.0;
        // A hair above half a turn comes from writing 180° in radians.
        demand(half <= PI / 2.0 * (1.0 + 1e-12), Input::PointAngle, Requirement::BeWithinRange)?;
        let height = settled(diameter * 0.5 / half.tan())?;
        Ok(height.max(Length::ZERO))
    }

    fn bore(self) -> Computed<Bore> {
        let tip = self.tip_height()?;
        let section = settled(self.diameter * self.diameter * (PI / 4.0))?;
        Ok(Bore { section, tip, tip_volume: settled(section * tip * (1.0 / 3.0))? })
    }
}

/// Directions in a quarter turn that a hole is summed over: whose whole rim is in the material, and which is shallower. What
/// the first has along a direction goes by even powers of its cosine, of which so few have the exact mean.
const DIRECTIONS: [u32; 2] = [4, 64];

/// How far below the crown of the surface a drill has its whole rim in the material: `R − √(R² − r²)`.
fn rim_depth(drill: Drill, surface: Length) -> Length {
    let share = (drill.diameter * 0.5 / surface).value().min(1.0);
    surface * (share * share / (1.0 + (1.0 - share * share).sqrt()))
}

/// A hole drilled towards the axis into a round surface:
/// `U = ρ·[V_c·(R − L/2) + V_k·(R − L − h/4) − π·d⁴/128]` with `V_c = πd²/4·L` the cylinder and `V_k = πd²/12·h` the cone.
///
/// R is `surface_radius`; L is `depth` below the crown of the surface, to which the hole has its full diameter; h the
/// height of the tip. The last term is the gap between the flat end of that cylinder and the round surface. A hole so
/// shallow that its rim is not all in the material is summed up to where the drill leaves the surface. The depth is not
/// below zero, all else is above it, and the tip ends before the axis. Source: plain geometry.
pub fn radial_hole(drill: Drill, depth: Length, surface_radius: Length, density: Density) -> Computed<Piece> {
    let tip = drill.tip_height()?;
    let depth = not_negative(depth, Input::Depth)?;
    let surface = positive(surface_radius, Input::SurfaceRadius)?;
    let density = positive(density, Input::Density)?;
    demand(depth + tip <= surface, Input::Depth, Requirement::EndBeforeTheAxis)?;
    let is_whole = depth >= rim_depth(drill, surface);
    let directions = DIRECTIONS[usize::from(!is_whole)];
    let [r, rim] = [surface, drill.diameter * 0.5].map(Length::in_metres);
    // The bottom is at b + k·ρ from the axis, the surface at √(R² − ρ²·cos² φ).
    let (height, k) = ((depth + tip).in_metres(), tip.in_metres() / rim);
    let (b, below) = (r - height, height * (2.0 * r - height));
    let along = |n: u32| {
        let across = ((f64::from(n) + 0.5) * PI / 2.0 / f64::from(directions)).cos().powi(2);
        let squares = k * k + across;
        let leaves = below / (b * k + (b * b * k * k + squares * below).sqrt());
        let end = if is_whole { rim } else { rim.min(leaves) };
        let root = (r * r - across * end * end).max(0.0).sqrt();
        let volume = (r * r + r * root + root * root) / (3.0 * (r + root)) - b / 2.0 - k * end / 3.0;
        let moment = below / 4.0 - b * k * end / 3.0 - squares * end * end / 8.0;
        (volume * end * end, moment * end * end)
    };
    let (volume, moment) =
        (0..directions).map(along).fold((0.0, 0.0), |sum, direction| (sum.0 + direction.0, sum.1 + direction.1));
    let turn = 2.0 * PI / f64::from(directions);
    let volume = Volume::cubic_metres((volume * turn).max(0.0));
    Piece::of(density, volume, Unbalance::from_base(density.base() * moment * turn))
}

/// The full-diameter depth of the radial hole that takes off an unbalance: the smaller root L of
/// `L²/2 − (R − h/3)·L + c = 0` with `c = 4U/(ρπd²) + d²/32 − h/3·(R − h/4)`; of a hole whose rim is not all in the material,
/// by halving.
///
/// Symbols and domain as in [`radial_hole`]. The unbalance is at least what the tip alone takes off, and no more
/// than a hole that ends before the axis gives. Source: plain geometry.
pub fn radial_hole_depth(
    drill: Drill,
    unbalance: Unbalance,
    surface_radius: Length,
    density: Density,
) -> Computed<Length> {
    let bore = drill.bore()?;
    let unbalance = not_negative(unbalance, Input::Unbalance)?;
    let surface = positive(surface_radius, Input::SurfaceRadius)?;
    let density = positive(density, Input::Density)?;
    demand(bore.tip <= surface, Input::Depth, Requirement::EndBeforeTheAxis)?;
    let deepest = surface - bore.tip;
    let shallow = rim_depth(drill, surface).min(deepest);
    let taken = |depth: Length| radial_hole(drill, depth.min(deepest), surface, density).map(|hole| hole.unbalance);
    if unbalance < taken(shallow)? {
        exceeding_tip(unbalance.base(), taken(Length::ZERO)?.base())?;
        let (mut low, mut high) = (Length::ZERO, shallow);
        for _ in 0..60 {
            let middle = (low + high) * 0.5;
            (low, high) = if taken(middle)? < unbalance { (middle, high) } else { (low, middle) };
        }
        return Ok(low);
    }
    let linear = (surface - bore.tip * (1.0 / 3.0)).in_metres();
    let wanted = unbalance.base() / (density.base() * bore.section.base());
    let gap = (drill.diameter * drill.diameter * (1.0 / 32.0)).in_square_metres();
    let by_tip = (bore.tip * (1.0 / 3.0) * (surface - bore.tip * 0.25)).in_square_metres();
    let constant = wanted + gap - by_tip;
    let discriminant = linear * linear - 2.0 * constant;
    demand(discriminant >= 0.0, Input::Unbalance, Requirement::BeWithinReach)?;
    // This form of the root keeps its digits for a shallow hole.
    let depth = settled(Length::metres(2.0 * constant / (linear + discriminant.sqrt())))?;
    demand(depth <= deepest, Input::Unbalance, Requirement::BeWithinReach)?;
    Ok(depth.max(Length::ZERO))
}

/// A hole drilled along the axis, its middle on a circle of `pitch_radius`: `m = ρ·(πd²/4·L + πd²/12·h)`,
/// `U = m·r`.
///
/// Symbols as in [`radial_hole`]. The depth is not below zero, all else is above it. Source: plain geometry.
pub fn axial_hole(drill: Drill, depth: Length, pitch_radius: Length, density: Density) -> Computed<Piece> {
    let bore = drill.bore()?;
    let depth = not_negative(depth, Input::Depth)?;
    let radius = positive(pitch_radius, Input::PitchRadius)?;
    let volume = bore.section * depth + bore.tip_volume;
    Piece::at_radius(settled(positive(density, Input::Density)? * volume)?, radius)
}

/// The full-diameter depth of the axial hole that takes off an unbalance: `L = (U/(r·ρ) − πd²/12·h) / (πd²/4)`.
///
/// Symbols and domain as in [`axial_hole`]; the unbalance is at least what the tip alone takes off.
/// Source: plain geometry.
pub fn axial_hole_depth(
    drill: Drill,
    unbalance: Unbalance,
    pitch_radius: Length,
    density: Density,
) -> Computed<Length> {
    let bore = drill.bore()?;
    let mass = super::mass_at_radius(unbalance, positive(pitch_radius, Input::PitchRadius)?)?;
    let volume = mass / positive(density, Input::Density)?;
    let depth = exceeding_tip((volume / bore.section).in_metres(), bore.tip.in_metres() / 3.0)?;
    settled(Length::metres(depth))
}

/// What a cylinder has to add to the tip. A difference within rounding of the tip is a hole of no depth.
fn exceeding_tip(wanted: f64, by_tip: f64) -> Computed<f64> {
    let more = wanted - by_tip;
    demand(more >= -1e-9 * by_tip, Input::Unbalance, Requirement::ExceedTheTip)?;
    Ok(if more <= 1e-9 * by_tip { 0.0 } else { more })
}
