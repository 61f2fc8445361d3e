//! What a plane carries and what it has lost, by all that was done to it before.

use super::places::Places;
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::correction::mass_at_radius;
use crate::units::{Angle, Length, Mass, Unbalance};

/// The account of one plane, in the order in which it was changed.
#[derive(Clone, Debug, Default)]
pub struct Carried {
    pub masses: Vec<CarriedMass>,
    pub cuts: Vec<CarriedCut>,
    /// Why it is not known what the plane carries.
    pub not_known: Option<WhyNot>,
}

/// A mass that is on the plane and can come off again.
#[derive(Clone, Copy, Debug)]
pub struct CarriedMass {
    /// By number, from 0, where it is at a numbered place.
    pub place: Option<usize>,
    pub angle: Angle,
    pub mass: Mass,
    pub radius: Length,
}

/// Material that was taken off for good.
#[derive(Clone, Copy, Debug)]
pub struct CarriedCut {
    /// By number, from 0, where it is at a numbered place.
    pub place: Option<usize>,
    pub angle: Angle,
    pub unbalance: Unbalance,
    /// `None` where neither the sheet nor the mass tells it.
    pub depth: Option<Length>,
}

/// Two angles this near are one place for what comes off.
const SAME_ANGLE: f64 = 1.0;

fn is_near(one: Angle, other: Angle) -> bool {
    let off = (one - other).within_one_turn().in_degrees();
    off.min(360.0 - off) <= SAME_ANGLE
}

impl CarriedMass {
    pub fn unbalance(&self) -> Unbalance {
        self.mass * self.radius
    }

    fn is_at(&self, place: Option<usize>, angle: Angle) -> bool {
        match (self.place, place) {
            (Some(own), Some(other)) => own == other,
            _ => is_near(self.angle, angle),
        }
    }
}

impl Carried {
    pub fn put_on(&mut self, mass: CarriedMass) {
        if mass.mass > Mass::ZERO {
            self.masses.push(mass);
        }
    }

    /// Takes mass off at a place: first what is on there, last on first off. Returns what is left to be taken from the
    /// rotor itself.
    pub fn take_off(&mut self, place: Option<usize>, angle: Angle, mut mass: Mass) -> Mass {
        for on in self.masses.iter_mut().rev().filter(|on| on.is_at(place, angle)) {
            let off = on.mass.min(mass);
            (on.mass, mass) = (on.mass - off, mass - off);
        }
        self.masses.retain(|on| on.mass > Mass::ZERO);
        // What weighing leaves over is not a hole.
        if mass < Mass::kilograms(1e-9) { Mass::ZERO } else { mass }
    }

    /// The cut at an angle of a plane without places, which can go deeper.
    pub fn cut_at(&self, angle: Angle) -> Option<&CarriedCut> {
        self.cuts.iter().filter(|cut| cut.place.is_none() && cut.depth.is_some()).find(|cut| is_near(cut.angle, angle))
    }

    /// The same, where a stated depth is more than it has.
    pub fn made_deeper_by(&self, angle: Angle, depth: Length) -> Option<&CarriedCut> {
        self.cut_at(angle).filter(|cut| cut.depth.is_some_and(|before| before < depth))
    }

    /// A cut goes deeper: what it takes more, and its whole depth where that is known.
    pub fn deepen(&mut self, angle: Angle, more: Unbalance, depth: Option<Length>) {
        let same = self.cuts.iter_mut().find(|cut| cut.place.is_none() && is_near(cut.angle, angle));
        if let Some(cut) = same {
            (cut.unbalance, cut.depth) = (cut.unbalance + more, depth);
        }
    }

    pub fn cut(&mut self, cut: CarriedCut) {
        if cut.unbalance > Unbalance::ZERO {
            self.cuts.push(cut);
        }
    }

    /// The mass on a numbered place.
    pub fn at_place(&self, place: usize) -> Mass {
        self.masses.iter().filter(|on| on.place == Some(place)).map(|on| on.mass).sum()
    }

    /// The unbalance that was taken off at a numbered place for good.
    pub fn taken_at(&self, place: usize) -> Unbalance {
        self.cuts.iter().filter(|cut| cut.place == Some(place)).map(|cut| cut.unbalance).sum()
    }

    /// The number of the place at an angle, where the plane has one there.
    pub fn place_at(places: Option<&Places>, angle: Angle) -> Option<usize> {
        let near = |of: &Angle| (*of - angle).cos() > Angle::degrees(SAME_ANGLE).cos();
        places?.angles.iter().position(near)
    }
}

/// A mass by the unbalance that it makes; nothing where the radius is nothing.
pub(in crate::book::results) fn mass_of(unbalance: Unbalance, radius: Length) -> Mass {
    mass_at_radius(unbalance, radius).unwrap_or(Mass::ZERO)
}
