//! A rotor of the shop as it truly is: a rigid body with planes to correct in, and what its drawing allows. SI units.

use std::ops::{Deref, DerefMut};

use num_complex::Complex64;
use rotorbook::motion::{Body, Chance, Supports};

/// The rotor: a rigid body with unbalances along its axis.
#[derive(Clone, Debug)]
pub struct Part {
    pub body: Body,
    /// Along the axis, from bearing A.
    pub bearing_span: f64,
    pub planes: Vec<f64>,
    pub radius: f64,
    /// rad/s
    pub service_speed: f64,
    pub grade: f64,
}

impl Deref for Part {
    type Target = Body;
    fn deref(&self) -> &Body {
        &self.body
    }
}

impl DerefMut for Part {
    fn deref_mut(&mut self) -> &mut Body {
        &mut self.body
    }
}

impl Part {
    pub fn by_chance(chance: &mut Chance, planes: usize) -> Self {
        let span = chance.spread(0.15, 1.5);
        let radius = chance.between(0.04, 0.25);
        let mass = chance.spread(1.0, 120.0);
        // Mostly between the bearings; now and then so near one that its share is held at a limit, or overhung.
        let mass_centre = span
            * match chance.below(5) {
                0 => chance.between(-0.35, 0.3),
                1 => chance.between(0.7, 1.35),
                _ => chance.between(0.3, 0.7),
            };
        let first = span * chance.between(-0.15, 0.35);
        let mut at = vec![first];
        if planes == 2 {
            at.push(span * chance.between(0.65, 1.2));
        }
        let length = span * chance.between(0.5, 1.0);
        Self {
            body: Body::cylinder(mass, mass_centre, radius, length),
            bearing_span: span,
            planes: if planes == 1 { vec![mass_centre] } else { at },
            radius,
            service_speed: chance.between(900.0, 4500.0) * std::f64::consts::TAU / 60.0,
            grade: [1.0, 2.5, 6.3, 16.0][chance.below(4)],
        }
    }

    /// The same rotor with other unbalances.
    pub fn with(&self, unbalances: Vec<(Complex64, f64)>) -> Self {
        Self { body: Body { unbalances, ..self.body.clone() }, ..self.clone() }
    }

    /// Soft supports at its bearings: both natural frequencies well below the speed. Hard: well above.
    pub fn supports(&self, chance: &mut Chance, speed: f64, hard: bool) -> Supports {
        let ratio = if hard { chance.between(3.5, 8.0) } else { chance.between(0.2, 0.45) };
        Supports::tuned(chance, (self.mass, [0.0, self.bearing_span]), speed * ratio, hard)
    }

    /// Permissible unbalance of the whole rotor, kg·m: e·Ω = G.
    pub fn permissible(&self) -> f64 {
        self.mass * self.grade * 1e-3 / self.service_speed
    }

    /// Of the whole rotor, as it acts at bearings A and B.
    pub fn at_bearings(&self) -> [f64; 2] {
        let share = |weight: &dyn Fn(f64) -> f64| -> Complex64 {
            self.unbalances.iter().map(|(unbalance, at)| unbalance.scale(weight(*at) / self.bearing_span)).sum()
        };
        [share(&|at| self.bearing_span - at).norm(), share(&|at| at).norm()]
    }

    pub fn is_overhung(&self) -> bool {
        !(0.0..=1.0).contains(&(self.mass_centre / self.bearing_span))
    }

    /// The tolerance at bearings A and B: by the place of the mass centre, no share below 0.3 or above 0.7 of the whole,
    /// 1.3 where it is overhung. Source: ISO 21940-11:2016, clause 7 (from memory).
    pub fn limits_at_bearings(&self) -> [f64; 2] {
        let share = self.mass_centre / self.bearing_span;
        let most = if self.is_overhung() { 1.3 } else { 0.7 };
        [1.0 - share, share].map(|share| self.permissible() * share.abs().clamp(0.3, most))
    }

    /// What acts in the planes as all unbalances together do: the same sum, and the same moment with two planes.
    pub fn in_planes(&self) -> Vec<Complex64> {
        let sum: Complex64 = self.unbalances.iter().map(|(unbalance, _)| *unbalance).sum();
        let [first, second] = self.planes[..] else { return vec![sum] };
        let moment: Complex64 = self.unbalances.iter().map(|(unbalance, at)| unbalance.scale(at - first)).sum();
        let in_second = moment.scale(1.0 / (second - first));
        vec![sum - in_second, in_second]
    }
}
