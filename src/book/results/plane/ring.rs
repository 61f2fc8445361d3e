//! Where masses go on a plane without places, of which each place takes so much and no more.

use super::PlaneResults;
use super::allowed::{OFF_THE_EDGE, half_width};
use super::carried::{Carried, CarriedMass};
use super::places::barred;
use crate::mechanics::correction::places::AngularRange;
use crate::sheet::FieldValue;
use crate::units::{Angle, Length, Typed, Unbalance};
use crate::vocabulary::plane;

/// So many degrees to either side of a mass are its place, where nobody says how long a mass is. Source: common practice,
/// no source.
const USUAL_ROOM: f64 = 10.0;

/// A mass farther off the direction than this does not help.
const NO_HELP: f64 = 90.0;

/// The room round a plane that masses are put on.
pub(in crate::book::results) struct Ring<'a> {
    barred: Vec<AngularRange>,
    masses: &'a [CarriedMass],
    room: Angle,
    most: Unbalance,
    /// Less than this is not worth a mass.
    least: Unbalance,
}

impl PlaneResults<'_> {
    /// How far the middles of two masses have to be from each other, to be at two places of a plane without places: in whole
    /// degrees, as angles are ordered. And whether the plane says how long one is.
    pub fn room_of_a_mass(&self) -> (Angle, bool) {
        let length = self.block.field(plane::WEIGHT_LENGTH).and_then(|field| match &field.field.value {
            FieldValue::Quantity(stated) => Some(Length::from_base(stated.base)),
            _ => None,
        });
        let along = length.zip(self.radius.get()).map(|(length, radius)| Angle::radians((length / radius).value()));
        match along.filter(|along| along.in_degrees() > 0.0 && along.in_degrees() < NO_HELP) {
            Some(along) => (Angle::degrees((along.in_degrees() - 1e-9).ceil()), true),
            None => (Angle::degrees(USUAL_ROOM), false),
        }
    }
}

impl<'a> Ring<'a> {
    pub fn of(plane: &PlaneResults<'_>, carried: &'a Carried, most: Unbalance, least: Unbalance) -> Self {
        let half = half_width(plane);
        let barred = barred(&plane.block).into_iter().map(|range| range.widened(half)).collect();
        Self { barred, masses: &carried.masses, room: plane.room_of_a_mass().0, most, least: least.min(most) }
    }

    /// Where masses go towards an angle, each with what fits there: at the angle; where it is barred or something is on there
    /// already, at the nearest free places to either side too.
    pub fn towards(&self, direction: Angle) -> Vec<(Angle, Unbalance)> {
        let here = self.left_at(direction);
        let is_empty = here == Some(self.most);
        let centre = here.filter(|left| self.is_enough(*left)).map(|left| (direction, left));
        if is_empty {
            return centre.into_iter().collect();
        }
        let from = if centre.is_some() { self.room } else { Angle::ZERO };
        let mut ways: Vec<(Angle, Unbalance)> = centre.into_iter().collect();
        let [after, before] = [1.0, -1.0].map(|sign| self.first_free(direction, from, sign));
        ways.extend(after);
        // Two sides that meet are one place.
        let apart = |(at, _): &(Angle, Unbalance)| {
            after.is_none_or(|(other, _)| near(*at, other) >= self.room.in_degrees() - 1e-9)
        };
        ways.extend(before.filter(apart));
        ways
    }

    /// What fits at an angle beside what is on within the room of a mass; `None` where it is barred.
    fn left_at(&self, angle: Angle) -> Option<Unbalance> {
        let on: Unbalance = self.near(angle).map(CarriedMass::unbalance).sum();
        let is_barred = self.barred.iter().any(|range| range.contains(angle));
        (!is_barred).then(|| (self.most - on).max(Unbalance::ZERO))
    }

    fn is_enough(&self, left: Unbalance) -> bool {
        left > Unbalance::ZERO && left >= self.least * (1.0 - 1e-9)
    }

    fn near(&self, angle: Angle) -> impl Iterator<Item = &CarriedMass> {
        self.masses.iter().filter(move |on| near(on.angle, angle) < self.room.in_degrees() - 1e-9)
    }

    /// The first place so far from a direction, and with increasing angle or against it.
    fn first_free(&self, direction: Angle, from: Angle, sign: f64) -> Option<(Angle, Unbalance)> {
        let mut off = from.in_degrees();
        while off < NO_HELP {
            let at = direction + Angle::degrees(off) * sign;
            if let Some(left) = self.left_at(at).filter(|left| self.is_enough(*left)) {
                return Some((at.within_one_turn(), left));
            }
            off += self.way_out(at, sign).max(1e-6);
        }
        None
    }

    /// How many degrees it is to where less is in the way.
    fn way_out(&self, at: Angle, sign: f64) -> f64 {
        if let Some(range) = self.barred.iter().find(|range| range.contains(at)) {
            let edge = if sign > 0.0 { range.to } else { range.from };
            return ((edge - at) * sign).within_one_turn().in_degrees() + OFF_THE_EDGE;
        }
        let way = |on: &CarriedMass| ((on.angle - at) * sign + self.room).within_one_turn().in_degrees();
        self.near(at).map(way).fold(f64::INFINITY, f64::min)
    }
}

/// How many degrees two angles are from each other.
fn near(one: Angle, other: Angle) -> f64 {
    let turned = (one - other).within_one_turn().in_degrees();
    turned.min(360.0 - turned)
}
