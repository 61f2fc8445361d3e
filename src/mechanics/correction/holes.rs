//! Several like holes side by side along an arc.

use crate::mechanics::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use crate::units::{Angle, Length, Unbalance};
use std::f64::consts::{PI, TAU};

/// The angle between two holes whose middles are a distance apart on a surface: `δ = 2·arcsin(s / 2R)`.
///
/// s is the distance in a straight line, R the radius; both above zero, s at most 2R. Source: plain geometry.
pub fn spacing_angle(distance: Length, radius: Length) -> Computed<Angle> {
    let distance = positive(distance, Input::HoleSpacing)?;
    let half = (distance / (positive(radius, Input::Radius)? * 2.0)).value();
    demand(half <= 1.0, Input::HoleSpacing, Requirement::BeWithinRange)?;
    Ok(Angle::radians(2.0 * half.asin()))
}

/// The vector sum of like holes an angle apart, towards their middle: `U·sin(k·δ/2) / sin(δ/2)`.
///
/// U is the unbalance of one hole, k their number, δ the angle from one to the next. At least one hole; the angle is
/// above zero and all holes stand within one turn. Source: sum of equal vectors turned by equal steps.
pub fn holes_along_arc(each: Unbalance, holes: u32, spacing: Angle) -> Computed<Unbalance> {
    let each = not_negative(each, Input::Unbalance)?;
    demand(holes >= 1, Input::Places, Requirement::BePositive)?;
    let step = positive(spacing, Input::HoleSpacing)?.in_radians();
    demand(f64::from(holes) * step <= TAU * (1.0 + 1e-9), Input::HoleSpacing, Requirement::BeWithinRange)?;
    settled(each * resultant(f64::from(holes), step))
}

fn resultant(holes: f64, step: f64) -> f64 {
    ((holes * step / 2.0).sin() / (step / 2.0).sin()).max(0.0)
}

/// The most that like holes an angle apart can take off, and how many that is: they then span half a turn, as nearly
/// as their spacing allows.
///
/// Symbols and domain as in [`holes_along_arc`]. Source: as there.
pub fn most_from_holes(each: Unbalance, spacing: Angle) -> Computed<(u32, Unbalance)> {
    let each = not_negative(each, Input::Unbalance)?;
    let step = positive(spacing, Input::HoleSpacing)?.in_radians();
    demand(step <= TAU * (1.0 + 1e-9), Input::HoleSpacing, Requirement::BeWithinRange)?;
    // One more or one less than half a turn holds, whichever sums to more.
    let fewer = (PI / step).floor().max(1.0);
    let holes = if resultant(fewer + 1.0, step) > resultant(fewer, step) { fewer + 1.0 } else { fewer };
    // The conversion stops at the end of its range.
    Ok((holes as u32, settled(each * resultant(holes, step))?))
}

/// The fewest like holes an angle apart that together take off at least an unbalance.
///
/// Symbols and domain as in [`holes_along_arc`]; no more than [`most_from_holes`] gives. Source: as there.
pub fn holes_needed(wanted: Unbalance, each: Unbalance, spacing: Angle) -> Computed<u32> {
    let wanted = not_negative(wanted, Input::Unbalance)?;
    let (most, largest) = most_from_holes(positive(each, Input::Unbalance)?, spacing)?;
    demand(wanted <= largest, Input::Unbalance, Requirement::BeWithinReach)?;
    let step = spacing.in_radians();
    // The sum grows up to half a turn, so the number follows from the arcsine.
    let share = ((wanted / each).value() * (step / 2.0).sin()).min(1.0);
    let holes = (2.0 * share.asin() / step - 1e-9).ceil().max(1.0);
    Ok((holes as u32).min(most))
}
