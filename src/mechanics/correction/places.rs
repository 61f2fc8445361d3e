//! Fixed places round a plane, and what can be corrected with them.

use crate::mechanics::domain::{Computed, Input, Requirement, demand, finite, not_negative, settled};
use crate::units::{Angle, Length, Mass, Typed, Unbalance, Vector};
use std::f64::consts::TAU;

/// A range of angles, run through with increasing angle; it may pass zero.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct AngularRange {
    pub from: Angle,
    pub to: Angle,
}

impl AngularRange {
    /// Whether an angle lies in the range, its ends included. `0 deg to 360 deg` holds every angle.
    pub fn contains(self, angle: Angle) -> bool {
        let from_start = |angle: Angle| (angle - self.from).within_one_turn();
        self.is_whole_turn() || from_start(angle) <= from_start(self.to)
    }

    fn is_whole_turn(self) -> bool {
        (self.to - self.from).in_radians() >= TAU * (1.0 - 1e-12)
    }

    /// The range made longer at both ends; no longer than a whole turn.
    pub fn widened(self, by: Angle) -> Self {
        let from = self.from - by;
        let length = (self.to - self.from).within_one_turn() + by * 2.0;
        let whole = self.is_whole_turn() || length.in_radians() >= TAU;
        Self { from, to: from + if whole { Angle::radians(TAU) } else { length } }
    }
}

/// Which way places are numbered round the plane, against the way angles are counted.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Numbering {
    WithAngles,
    AgainstAngles,
}

/// The angles of equally spaced places, in the order of their numbers. At least one place.
pub fn equally_spaced(count: u32, first: Angle, numbering: Numbering) -> Computed<Vec<Angle>> {
    demand(count >= 1, Input::Places, Requirement::BePositive)?;
    let first = finite(first, Input::Direction)?;
    let sign = match numbering {
        Numbering::WithAngles => 1.0,
        Numbering::AgainstAngles => -1.0,
    };
    let step = |place: u32| Angle::radians(sign * TAU * f64::from(place) / f64::from(count));
    Ok((0..count).map(|place| (first + step(place)).within_one_turn()).collect())
}

/// Masses at places of one radius, as one vector: `Σ mᵢ·r ∠θᵢ`. The radius is not below zero.
///
/// Source: vector sum.
#[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "for masses at the places of a ledger"))]
pub fn sum_at_places(masses: &[(Mass, Angle)], radius: Length) -> Computed<Vector<Unbalance>> {
    let radius = not_negative(radius, Input::Radius)?;
    let sum: Vector<Mass> = masses.iter().map(|(mass, angle)| Vector::from_polar(*mass, *angle)).sum();
    let sum = sum.map(|mass| mass * radius);
    demand(sum.is_finite(), Input::Result, Requirement::BeFinite)?;
    Ok(sum)
}

/// What can be corrected when each of several places takes up to an unbalance.
#[derive(Clone, Debug)]
pub struct Capacity {
    places: Vec<Vector<Unbalance>>,
}

impl Capacity {
    /// From the most that each place takes and the angles of the places. At least one place.
    pub fn new(most_per_place: Unbalance, places: &[Angle]) -> Computed<Self> {
        let most = not_negative(most_per_place, Input::Unbalance)?;
        demand(!places.is_empty(), Input::Places, Requirement::BeGiven)?;
        Ok(Self { places: places.iter().map(|angle| Vector::from_polar(most, *angle)).collect() })
    }

    /// The largest unbalance that can be made exactly towards an angle.
    ///
    /// All that the places can make is a polygon, the sum of a segment for each place; its edges run along the places'
    /// directions. Along a direction e it ends at `min h(n)/(n·e)` over the edge normals n with `n·e > 0`, with
    /// `h(n) = Σ max(0, uᵢ·n)`. Source: geometry of zonotopes.
    #[cfg(feature = "internals")]
    pub fn towards(&self, angle: Angle) -> Computed<Unbalance> {
        let direction = direction(finite(angle, Input::Direction)?.in_radians());
        let along = |normal: [f64; 2]| normal[0] * direction[0] + normal[1] * direction[1];
        let limits = self.normals().into_iter().filter(|normal| along(*normal) > 1e-9);
        let least = limits.map(|normal| self.extent(normal) / along(normal)).fold(f64::INFINITY, f64::min);
        // A single line of places has no edge across a direction along it: there its own end is the limit.
        let least = least.min(self.extent(direction));
        settled(Unbalance::from_base(least))
    }

    /// The largest unbalance that can be made towards every angle: `min h(n)` over the edge normals.
    ///
    /// Zero when the places leave half a turn or more free. Source: as for [`Capacity::towards`].
    pub fn everywhere(&self) -> Computed<Unbalance> {
        let least = self.normals().into_iter().map(|normal| self.extent(normal)).fold(f64::INFINITY, f64::min);
        settled(Unbalance::from_base(least))
    }

    /// The largest unbalance that can be made towards the best angle: the farthest corner of the polygon.
    ///
    /// Source: as for [`Capacity::towards`].
    #[cfg(feature = "internals")]
    pub fn best(&self) -> Computed<Unbalance> {
        let corners = self.normals().into_iter().map(|normal| self.corner(normal));
        settled(Unbalance::from_base(corners.fold(0.0, f64::max)))
    }

    /// Both normals of the edge along each place's direction.
    fn normals(&self) -> Vec<[f64; 2]> {
        let angles = self.places.iter().map(|place| place.angle().in_radians());
        angles.flat_map(|angle| [angle + TAU / 4.0, angle - TAU / 4.0]).map(direction).collect()
    }

    /// `h(n)`: how far the polygon reaches along a normal.
    fn extent(&self, normal: [f64; 2]) -> f64 {
        self.components(normal).map(|(component, _)| component.max(0.0)).sum()
    }

    /// The distance of the farther end of the edge with a normal: all places on its side, and those along the edge too.
    #[cfg(feature = "internals")]
    fn corner(&self, normal: [f64; 2]) -> f64 {
        let edge = [-normal[1], normal[0]];
        let end = |sign: f64| {
            let on_this_side = |(across, place): (f64, &Vector<Unbalance>)| {
                let (x, y) = (place.x.base(), place.y.base());
                let hair = 1e-9 * x.hypot(y);
                let along = sign * (x * edge[0] + y * edge[1]);
                (across > hair || (across > -hair && along > 0.0)).then_some((x, y))
            };
            let (x, y) =
                self.components(normal).filter_map(on_this_side).fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
            x.hypot(y)
        };
        end(1.0).max(end(-1.0))
    }

    fn components(&self, normal: [f64; 2]) -> impl Iterator<Item = (f64, &Vector<Unbalance>)> {
        self.places.iter().map(move |place| (place.x.base() * normal[0] + place.y.base() * normal[1], place))
    }
}

fn direction(angle: f64) -> [f64; 2] {
    [angle.cos(), angle.sin()]
}
