//! Several like holes side by side along an arc.

use crate::mechanics::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use crate::units::{Angle, Length, Typed, Unbalance};
use std::f64::consts::TAU;

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

/// What like holes side by side take off at a depth; `None` where they do not go round the rotor, or one is none.
fn together(
    holes: u32,
    depth: Length,
    each: impl Fn(Length) -> Option<Unbalance>,
    apart: impl Fn(Length) -> Option<Angle>,
) -> Option<Unbalance> {
    if holes == 1 {
        return each(depth);
    }
    holes_along_arc(each(depth)?, holes, apart(depth)?).ok()
}

/// How finely depths are looked through for the one that takes most.
const STEPS: u32 = 100;

fn share_of(depth: Length, step: u32) -> Length {
    depth * (f64::from(step) / f64::from(STEPS))
}

/// An angle up to the next whole degree: angles are ordered in whole degrees, and two that are a whole number of them apart
/// are still so once both are rounded.
pub fn up_to_whole_degree(least: Angle) -> Angle {
    Angle::degrees((least.in_degrees() - 1e-9).ceil())
}

/// The depth at which so many like holes side by side take off an unbalance, as near to each other as they may be in whole
/// degrees, and the angle from one to the next.
///
/// `depth` gives the depth of one hole that takes off so much and `apart` the least angle between two of a depth: holes
/// towards the axis come nearer to each other the deeper they are. `None` where no depth up to the deepest does.
/// Source: sum of equal vectors turned by equal steps.
pub fn equal_holes(
    wanted: Unbalance,
    holes: u32,
    deepest: Length,
    depth: impl Fn(Unbalance) -> Option<Length>,
    apart: impl Fn(Length) -> Option<Angle>,
) -> Option<(Length, Angle)> {
    let steps = (1..=360 / holes.max(1)).map(|degrees| Angle::degrees(f64::from(degrees)));
    steps.into_iter().find_map(|step| {
        let together = resultant(f64::from(holes), step.in_radians());
        let each = (together > 1e-9).then(|| wanted * (1.0 / together))?;
        let depth = depth(each).filter(|depth| *depth <= deepest)?;
        (apart(depth)? <= step).then_some((depth, step))
    })
}

/// The most that up to so many like holes side by side take off, whatever depth up to the deepest that needs.
///
/// Symbols as in [`equal_holes`]. Source: as there.
pub fn most_together(
    holes: u32,
    deepest: Length,
    each: impl Fn(Length) -> Option<Unbalance>,
    apart: impl Fn(Length) -> Option<Angle>,
) -> Option<Unbalance> {
    let sum = |holes: u32, depth: Length| together(holes, depth, &each, &apart).unwrap_or(Unbalance::ZERO);
    let most = |of: &dyn Fn(u32) -> Unbalance, numbers: std::ops::RangeInclusive<u32>| {
        numbers.map(|n| (n, of(n))).max_by(|a, b| a.1.base().total_cmp(&b.1.base()))
    };
    // More than a half turn of holes takes off less again.
    let best = |depth: Length| most(&|holes| sum(holes, depth), 1..=holes.min(MOST_LOOKED_AT));
    let (step, _) = most(&|step| best(share_of(deepest, step)).map_or(Unbalance::ZERO, |best| best.1), 0..=STEPS)?;
    let (number, _) = best(share_of(deepest, step))?;
    let (mut low, mut high) = (share_of(deepest, step.saturating_sub(1)), share_of(deepest, (step + 1).min(STEPS)));
    for _ in 0..60 {
        let third = (high - low) / 3.0;
        let (a, b) = (low + third, high - third);
        (low, high) = if sum(number, a) < sum(number, b) { (a, high) } else { (low, b) };
    }
    Some(sum(number, high).max(sum(number, low)).max(sum(number, deepest.min(high))))
}

/// As many holes as go round with a degree from one to the next.
const MOST_LOOKED_AT: u32 = 360;

fn resultant(holes: f64, step: f64) -> f64 {
    ((holes * step / 2.0).sin() / (step / 2.0).sin()).max(0.0)
}
