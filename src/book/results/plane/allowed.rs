//! Where a plane may be corrected: its numbered places, or every angle that is not barred.

use super::PlaneResults;
use super::places::barred;
use super::removal::{Cut, filler};
use crate::book::derive::Val;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::mechanics::correction::places::AngularRange;
use crate::units::{Angle, Length, Mass};
use crate::vocabulary::plane;
use crate::vocabulary::plane::Method;

/// The edge of a cut beside a barred range keeps this many degrees off it. Source: common practice, no source.
pub(super) const OFF_THE_EDGE: f64 = 1.0;

/// The angle from the middle of a cut to its edge: of a hole at the surface or pitch circle, of a flat at its deepest, of
/// an arc ground all round its range. Zero for masses, and where a fact is missing.
pub(in crate::book::results) fn half_width(plane: &PlaneResults<'_>) -> Angle {
    let geometry = &plane.geometry;
    let angle = || -> Option<f64> {
        let hole = |radius: Length| Some(((geometry.hole_diameter.get()? / radius).value() / 2.0).asin());
        Some(match geometry.cut(plane.method?)? {
            Cut::AxialHole => hole(geometry.pitch_radius.get()?)?,
            Cut::RadialHole => hole(geometry.surface.get()?)?,
            Cut::Flat => (1.0 - (geometry.depth.get()? / geometry.surface.get()?).value()).acos(),
            Cut::Arc => geometry.full_arc.get()?.in_radians() / 2.0,
        })
    };
    angle().filter(|angle| angle.is_finite()).map_or(Angle::ZERO, Angle::radians)
}

/// The angles at which a plane without places takes a correction towards an angle: that angle, or the two nearest
/// beside the barred range that holds it. None when the whole turn is barred.
pub(in crate::book::results) fn towards(plane: &PlaneResults<'_>, angle: Angle) -> Vec<Angle> {
    let half = half_width(plane);
    let barred: Vec<AngularRange> = barred(&plane.block).into_iter().map(|range| range.widened(half)).collect();
    let holding = |angle: Angle| barred.iter().find(|range| range.contains(angle));
    if holding(angle).is_none() {
        return vec![angle];
    }
    let off = Angle::degrees(OFF_THE_EDGE);
    let edge = |step: &dyn Fn(&AngularRange) -> Angle| {
        // Ranges may join; each step leaves one of them.
        let mut at = angle;
        for _ in 0..=barred.len() {
            match holding(at) {
                Some(range) => at = step(range).within_one_turn(),
                None => return Some(at),
            }
        }
        None
    };
    let before = edge(&|range| range.from - off);
    let after = edge(&|range| range.to + off);
    before.into_iter().chain(after).collect()
}

/// The most mass that one place of a plane takes, where it says so: as stated, what a slot holds, or one piece.
pub(in crate::book::results) fn most_per_place<'b>(
    recorder: &Recorder<'b>,
    plane: &PlaneResults<'b>,
    spot: &Spot,
) -> Option<Mass> {
    let stated: Val<Mass> = recorder.facts.quantity(&plane.block, plane::MOST_PER_PLACE);
    match plane.method {
        Some(Method::SlotFiller) => filler(recorder, &plane.block, spot, &plane.geometry).get(),
        Some(method) if method.is_in_pieces() => stated.or(|| plane.geometry.mass_each.clone()).get(),
        _ => stated.get(),
    }
}
