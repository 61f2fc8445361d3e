//! What drilling, milling and grinding take off, summed up in thin slices.

use std::f64::consts::PI;

/// Slices of a cut; the sum is then right to some hundred-thousandths.
const SLICES: usize = 64;

/// The shape that a tool leaves, in m and rad.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Shape {
    /// Towards the axis, with the cone of the drill's point.
    RadialHole { diameter: f64, point: f64 },
    /// Along the axis on a circle.
    AxialHole { diameter: f64, point: f64, circle: f64 },
    /// A flat across the surface.
    Flat { width: f64 },
    /// An even layer along an arc of the surface.
    Arc { width: f64, full: f64 },
}

/// Where a tool goes in: the radius of the surface in m, the density of what it takes in kg/m³.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Cut {
    pub shape: Shape,
    pub surface: f64,
    pub density: f64,
}

fn sum(to: f64, slice: impl Fn(f64) -> f64) -> f64 {
    let each = to / SLICES as f64;
    (0..SLICES).map(|n| slice((n as f64 + 0.5) * each)).sum::<f64>() * each
}

impl Cut {
    /// The unbalance in kg·m that a cut of this depth takes off. Source: plain geometry.
    pub fn unbalance(&self, depth: f64) -> f64 {
        let section = |diameter: f64| PI * diameter * diameter / 4.0;
        let tip = |diameter: f64, point: f64| diameter / 2.0 / (point / 2.0).tan();
        let moment = match self.shape {
            Shape::RadialHole { diameter, point } => {
                let (rim, tip) = (diameter / 2.0, tip(diameter, point).max(0.0));
                // At a distance from the axis the drill leaves a disc, of which the round surface has a strip.
                let disc = |distance: f64, radius: f64| {
                    let half = (self.surface.powi(2) - distance.powi(2)).max(0.0).sqrt().min(radius);
                    let strip = half * (radius.powi(2) - half.powi(2)).sqrt() + radius.powi(2) * (half / radius).asin();
                    2.0 * strip * distance
                };
                let bottom = self.surface - depth;
                // Finer towards the crown, where the strip is narrow.
                let shaft = sum(depth.sqrt(), |x| 2.0 * x * disc(self.surface - x * x, rim));
                shaft + sum(tip, |x| disc(bottom - x, rim * (1.0 - x / tip)))
            }
            Shape::AxialHole { diameter, point, circle } => {
                section(diameter) * (depth + tip(diameter, point).max(0.0) / 3.0) * circle
            }
            Shape::Flat { width } => sum(depth, |x| {
                let height = self.surface - x;
                width * 2.0 * (self.surface.powi(2) - height.powi(2)).sqrt() * height
            }),
            Shape::Arc { width, full } => {
                let half = full / 2.0;
                sum(depth, |x| width * 2.0 * half.sin() * (self.surface - x).powi(2))
            }
        };
        moment * self.density
    }
}
