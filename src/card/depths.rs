//! What the depth of a cut is measured to.

use super::values::bare;
use crate::book::{Cut, PlaneResults};
use crate::units::{Amount, Length, Mass, Unit};

/// `Depth at full diameter; the point goes 2.4 mm farther`; `None` where a depth can mean one thing only.
pub fn depth_is(plane: &PlaneResults<'_>) -> Option<String> {
    let geometry = &plane.geometry;
    let length = |length: Length, unit: Unit| bare(length.raw(), unit);
    match geometry.cut(plane.method?)? {
        Cut::AxialHole | Cut::RadialHole => {
            let point = geometry.point_height().filter(|point| *point > Length::millimetres(0.05))?;
            let point = length(point, geometry.hole_diameter.unit);
            Some(format!("Depth at full diameter; the point goes {point} farther"))
        }
        Cut::Flat => {
            let width = length(geometry.width.get()?, geometry.width.unit);
            Some(format!("Depth in the middle of the flat, {width} wide"))
        }
        Cut::Arc => {
            let width = length(geometry.width.get()?, geometry.width.unit);
            let arc = bare(geometry.full_arc.get()?.raw(), geometry.full_arc.unit);
            Some(format!("Depth all along an arc of {arc}, {width} wide, with its middle at the angle"))
        }
    }
}

/// What the point of the drill alone takes; `None` where it has none.
pub fn mass_of_point(plane: &PlaneResults<'_>) -> Option<String> {
    let mass = plane.geometry.mass_at_depth(plane.method?, Length::ZERO).filter(|mass| *mass > Mass::ZERO)?;
    Some(bare(mass.raw(), Unit::GRAM))
}
