//! Where a plane may be corrected: its numbered places, or every angle that is not barred.

use super::PlaneResults;
use super::removal::{Cut, filler};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::mechanics::correction::places::{AngularRange, Numbering, equally_spaced};
use crate::sheet::FieldValue;
use crate::units::{Angle, Length, Mass, Typed, Unit};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{Sense, plane};

/// The edge of a cut beside a barred range keeps this many degrees off it. Source: common practice, no source.
const OFF_THE_EDGE: f64 = 1.0;

/// The places of a plane.
#[derive(Clone, Debug)]
pub struct Places {
    /// By number, from place 1. Barred and used places among them.
    pub angles: Vec<Angle>,
    /// The numbers of the places that may be used, from 0.
    pub free: Vec<usize>,
    /// The numbers of those in a barred range, and of those that are taken, from 0.
    pub barred: Vec<usize>,
    pub used: Vec<usize>,
    /// Whether the plane says which way its places are numbered: without that, an angle has a place but no number.
    pub numbered: bool,
}

impl Places {
    /// `None` when the plane has no places, or they could not be read. Where the sheet does not say which way the numbers
    /// run or which way angles count, the numbers are taken to run with the angles.
    pub fn of(plane: &EffectiveBlock<'_>, sense: Option<Sense>) -> Option<Self> {
        let FieldValue::Places { count, from } = &plane.field(plane::PLACES)?.field.value else { return None };
        let way = plane.choice(plane::PLACES_NUMBERED);
        let numbering = match (way, sense) {
            (Some(way), Some(sense)) if way != sense => Numbering::AgainstAngles,
            _ => Numbering::WithAngles,
        };
        let angles = equally_spaced(*count, Angle::degrees(Unit::DEGREE.from_base(from.base)), numbering).ok()?;
        let barred = barred(plane);
        let used = used(plane);
        let is_barred = |place: &usize| barred.iter().any(|range| range.contains(angles[*place]));
        let barred: Vec<usize> = (0..angles.len()).filter(is_barred).collect();
        let free = (0..angles.len()).filter(|place| !barred.contains(place) && !used.contains(place)).collect();
        Some(Self { angles, free, barred, used, numbered: way.is_some() && sense.is_some() })
    }

    /// The angle of a place by the name that a sheet gives it.
    pub fn named(&self, name: &str) -> Option<Angle> {
        self.angles.get(Self::nth(name)?).copied()
    }

    /// A number of a place, which counts from 1, as it counts from 0.
    pub fn nth(number: &str) -> Option<usize> {
        number.parse::<usize>().ok()?.checked_sub(1)
    }
}

fn used(plane: &EffectiveBlock<'_>) -> Vec<usize> {
    match plane.field(plane::PLACES_USED).map(|field| &field.field.value) {
        Some(FieldValue::Names(names)) => names.iter().filter_map(|name| Places::nth(&name.text)).collect(),
        _ => Vec::new(),
    }
}

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

/// The angles at which nothing may be corrected.
pub fn barred(block: &EffectiveBlock<'_>) -> Vec<AngularRange> {
    let Some(FieldValue::Ranges(ranges)) = block.field(plane::BARRED).map(|field| &field.field.value) else {
        return Vec::new();
    };
    ranges
        .iter()
        .filter_map(|range| {
            let (from, to) = (range.low?, range.high?);
            Some(AngularRange { from: Angle::from_base(from.base), to: Angle::from_base(to.base) })
        })
        .collect()
}
