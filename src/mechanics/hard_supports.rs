//! Plane separation by dimensions, on supports that measure force.

use super::domain::{Computed, Input, Requirement, demand, finite, positive};
use crate::units::{Force, Length, Typed, Unbalance, Vector};

/// Where the correction planes stand along the supports of the machine.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Dimensions {
    /// d₁, from the left support to the left plane; below zero when the plane is outside.
    pub left_support_to_left_plane: Length,
    /// d, from the left plane to the right plane; above zero.
    pub between_planes: Length,
    /// d₂, from the right plane to the right support; below zero when the plane is outside.
    pub right_plane_to_right_support: Length,
}

/// Which planes are outside the supports.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Layout {
    PlanesBetweenSupports,
    LeftPlaneOutside,
    RightPlaneOutside,
    BothOutside,
    BothOutsideLeft,
    BothOutsideRight,
}

impl Dimensions {
    /// From axial places that count from left to right, left support and left plane first.
    pub fn from_places(supports: [Length; 2], planes: [Length; 2]) -> Computed<Self> {
        let span = finite(supports[1] - supports[0], Input::BearingSpan)?;
        positive(span, Input::BearingSpan)?;
        let dimensions = Self {
            left_support_to_left_plane: planes[0] - supports[0],
            between_planes: planes[1] - planes[0],
            right_plane_to_right_support: supports[1] - planes[1],
        };
        dimensions.checked()
    }

    /// The same where they can be: the planes apart, left before right, and the supports too.
    pub fn checked(self) -> Computed<Self> {
        for place in [self.left_support_to_left_plane, self.right_plane_to_right_support] {
            finite(place, Input::Place)?;
        }
        positive(self.between_planes, Input::PlaneDistance)?;
        positive(self.span(), Input::BearingSpan)?;
        Ok(self)
    }

    /// From the left support to the right plane, `d₁ + d`.
    pub fn left_support_to_right_plane(self) -> Length {
        self.left_support_to_left_plane + self.between_planes
    }

    /// From the left plane to the right support, `d + d₂`.
    pub fn left_plane_to_right_support(self) -> Length {
        self.between_planes + self.right_plane_to_right_support
    }

    /// The distance of the supports, `d₁ + d + d₂`.
    pub fn span(self) -> Length {
        self.left_support_to_right_plane() + self.right_plane_to_right_support
    }

    pub fn layout(self) -> Layout {
        let outside = |distance: Length| distance < Length::ZERO;
        match (outside(self.left_support_to_left_plane), outside(self.right_plane_to_right_support)) {
            (false, false) => Layout::PlanesBetweenSupports,
            (true, true) => Layout::BothOutside,
            (true, false) if outside(self.left_support_to_right_plane()) => Layout::BothOutsideLeft,
            (true, false) => Layout::LeftPlaneOutside,
            (false, true) if outside(self.left_plane_to_right_support()) => Layout::BothOutsideRight,
            (false, true) => Layout::RightPlaneOutside,
        }
    }

    /// Whether the planes stand so close that small errors of the forces grow much: nearer than a tenth of the span.
    ///
    /// Source: common practice, no source.
    pub fn closely_spaced(self) -> bool {
        // A tenth to the last digit of a binary fraction is a tenth, whichever way round the rotor lies.
        self.between_planes * 10.0 < self.span() * (1.0 - 1e-9)
    }

    /// Forces in the planes from forces at the supports: `F₁ = [F_L·(d₁ + d) − F_R·d₂] / d`,
    /// `F₂ = [F_R·(d + d₂) − F_L·d₁] / d`. The plane distance and the span are above zero.
    ///
    /// Source: statics of a rigid rotor.
    pub fn forces_in_planes(self, at_supports: [Vector<Force>; 2]) -> Computed<[Vector<Force>; 2]> {
        self.checked()?;
        let [at_left, at_right] = at_supports;
        let share = |length: Length| (length / self.between_planes).value();
        both_finite([
            at_left * share(self.left_support_to_right_plane()) - at_right * share(self.right_plane_to_right_support),
            at_right * share(self.left_plane_to_right_support()) - at_left * share(self.left_support_to_left_plane),
        ])
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
