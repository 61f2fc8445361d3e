//! The numbered places of a plane, and the angles where nothing may be corrected.

use crate::book::effective::EffectiveBlock;
use crate::mechanics::correction::places::{AngularRange, Numbering, equally_spaced};
use crate::sheet::FieldValue;
use crate::units::{Angle, Typed, Unit};
use crate::vocabulary::{Sense, plane};

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
