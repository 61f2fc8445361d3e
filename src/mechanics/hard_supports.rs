//! Plane separation by dimensions, on supports that measure force.

use super::domain::{Computed, Input, Requirement, demand, finite, positive};
use crate::units::{Force, Length, Typed, Unbalance, Vector};

/// Where the correction planes stand along the supports of the machine.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Dimensions {
    /// From the left support A to the left plane I; below zero when I stands outside A.
    pub a: Length,
    /// From plane I to plane II; above zero.
    pub b: Length,
    /// From plane II to the right support B; below zero when II stands outside B.
    pub c: Length,
}

/// Which planes stand outside the supports.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Arrangement {
    PlanesBetweenSupports,
    LeftPlaneOutside,
    RightPlaneOutside,
    BothOutside,
    BothOutsideLeft,
    BothOutsideRight,
}

impl Dimensions {
    /// From axial places that count from left to right: A before B, I before II.
    pub fn from_places(supports: [Length; 2], planes: [Length; 2]) -> Computed<Self> {
        let span = finite(supports[1] - supports[0], Input::BearingSpan)?;
        positive(span, Input::BearingSpan)?;
        let dimensions = Self { a: planes[0] - supports[0], b: planes[1] - planes[0], c: supports[1] - planes[1] };
        dimensions.checked()
    }

    fn checked(self) -> Computed<Self> {
        for place in [self.a, self.c] {
            finite(place, Input::Place)?;
        }
        positive(self.b, Input::PlaneDistance)?;
        positive(self.span(), Input::BearingSpan)?;
        Ok(self)
    }

    /// The distance of the supports, `a + b + c`.
    pub fn span(self) -> Length {
        self.a + self.b + self.c
    }

    pub fn arrangement(self) -> Arrangement {
        let (first_to_b, second_to_a) = (self.b + self.c, self.a + self.b);
        match (self.a < Length::ZERO, self.c < Length::ZERO) {
            (false, false) => Arrangement::PlanesBetweenSupports,
            (true, true) => Arrangement::BothOutside,
            (true, false) if second_to_a < Length::ZERO => Arrangement::BothOutsideLeft,
            (true, false) => Arrangement::LeftPlaneOutside,
            (false, true) if first_to_b < Length::ZERO => Arrangement::BothOutsideRight,
            (false, true) => Arrangement::RightPlaneOutside,
        }
    }

    /// Whether the planes stand so close that small errors of the forces grow much: nearer than a tenth of the span.
    ///
    /// Source: common practice, no source.
    pub fn closely_spaced(self) -> bool {
        // A tenth to the last digit of a binary fraction is a tenth, whichever way round the rotor lies.
        self.b * 10.0 < self.span() * (1.0 - 1e-9)
    }

    /// Forces in the planes from forces at the supports: `F_I = [F_A·(a + b) − F_B·c] / b`,
    /// `F_II = [F_B·(b + c) − F_A·a] / b`. The plane distance and the span are above zero.
    ///
    /// Source: statics of a rigid rotor.
    pub fn forces_in_planes(self, at_supports: [Vector<Force>; 2]) -> Computed<[Vector<Force>; 2]> {
        let Self { a, b, c } = self.checked()?;
        let [at_a, at_b] = at_supports;
        let share = |length: Length| (length / b).value();
        both_finite([at_a * share(a + b) - at_b * share(c), at_b * share(b + c) - at_a * share(a)])
    }

    /// The same of unbalances, which forces at one speed are proportional to.
    pub fn unbalances_in_planes(self, at_supports: [Vector<Unbalance>; 2]) -> Computed<[Vector<Unbalance>; 2]> {
        let as_force = |unbalance: Vector<Unbalance>| unbalance.map(|u| Force::from_base(u.base()));
        let forces = self.forces_in_planes(at_supports.map(as_force))?;
        Ok(forces.map(|force| force.map(|f| Unbalance::from_base(f.base()))))
    }
}

fn both_finite(vectors: [Vector<Force>; 2]) -> Computed<[Vector<Force>; 2]> {
    demand(vectors.iter().all(|vector| vector.is_finite()), Input::Result, Requirement::BeFinite)?;
    Ok(vectors)
}
