//! Holes that are nearer to each other than the plane allows.

use super::PlaneResults;
use super::carried::{Carried, CarriedCut};
use super::removal::Cut;
use crate::sheet::FieldValue;
use crate::units::{Angle, Length, Typed};
use crate::vocabulary::plane;

/// A hole that another one is too near to.
#[derive(Clone, Copy, Debug)]
pub struct NearHole {
    /// Where it is.
    pub angle: Angle,
    /// Between the middles of both: where they go in, and at the bottom of the shallower one.
    pub at_surface: Length,
    pub at_bottom: Length,
    /// What the plane asks for; of one that does not say it, the diameter of the holes.
    pub least: Length,
    /// Whether they run into each other.
    pub meet: bool,
}

impl PlaneResults<'_> {
    /// The hole that one of a depth is nearest to, where that is too near however well the angles are known: each to so much.
    pub fn too_near(
        &self,
        carried: &Carried,
        (angle, depth): (Angle, Length),
        known_to: impl Fn(&CarriedCut) -> Angle,
    ) -> Option<NearHole> {
        let method = self.method?;
        if !matches!(self.geometry.cut(method)?, Cut::AxialHole | Cut::RadialHole) || self.places.is_some() {
            return None;
        }
        let diameter = self.geometry.hole_diameter.get()?;
        let stated = self.block.field(plane::HOLE_SPACING_AT_LEAST).and_then(|field| match &field.field.value {
            FieldValue::Quantity(stated) => Some(Length::from_base(stated.base)),
            _ => None,
        });
        let least = stated.unwrap_or(diameter);
        let is_same = |cut: &CarriedCut| {
            let deeper = carried.made_deeper_by(angle, depth);
            deeper.is_some_and(|deeper| deeper.angle == cut.angle && deeper.depth == cut.depth)
        };
        let others = carried.cuts.iter().filter(|cut| cut.place.is_none() && !is_same(cut));
        let near = others.filter_map(|cut| {
            let bottom = self.geometry.radius_at(method, cut.depth?.min(depth))?;
            let surface = self.geometry.radius_at(method, Length::ZERO)?;
            let turned = (cut.angle - angle).within_one_turn();
            let apart = turned.min(Angle::degrees(360.0) - turned);
            let chord = |radius: Length, apart: Angle| radius * (2.0 * (apart * 0.5).sin());
            let at_most = chord(bottom, apart + known_to(cut));
            (at_most < least * (1.0 - 1e-9)).then(|| NearHole {
                angle: cut.angle,
                at_surface: chord(surface, apart),
                at_bottom: chord(bottom, apart),
                least,
                meet: at_most < diameter,
            })
        });
        near.min_by(|a, b| a.at_bottom.base().total_cmp(&b.at_bottom.base()))
    }
}
