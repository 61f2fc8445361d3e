//! A rigid rotor on two supports, from the equations of motion. SI units; angles are of the body, with rotation.

use super::chance::Chance;
use super::complex::{Complex, complex};

/// The rotor: a rigid body with unbalances along its axis.
#[derive(Clone, Debug)]
pub struct Body {
    pub mass: f64,
    /// Along the axis, from bearing A.
    pub mass_centre: f64,
    pub bearing_span: f64,
    pub diametral: f64,
    pub polar: f64,
    /// Unbalance in kg·m and its axial place.
    pub unbalances: Vec<(Complex, f64)>,
    pub planes: Vec<f64>,
    pub radius: f64,
    /// rad/s
    pub service_speed: f64,
    pub grade: f64,
}

/// Two supports, alike in all directions across the axis.
#[derive(Clone, Debug)]
pub struct Supports {
    pub at: [f64; 2],
    pub stiffness: [f64; 2],
    pub damping: [f64; 2],
    /// Of the carriages that move with the rotor.
    pub parasitic: [f64; 2],
}

impl Body {
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
        let polar = mass * radius * radius / 2.0;
        Self {
            mass,
            mass_centre,
            bearing_span: span,
            diametral: polar / 2.0 + mass * length * length / 12.0,
            polar,
            unbalances: Vec::new(),
            planes: if planes == 1 { vec![mass_centre] } else { at },
            radius,
            service_speed: chance.between(900.0, 4500.0) * std::f64::consts::TAU / 60.0,
            grade: [1.0, 2.5, 6.3, 16.0][chance.below(4)],
        }
    }

    /// Permissible unbalance of the whole rotor, kg·m: e·Ω = G.
    pub fn permissible(&self) -> f64 {
        self.mass * self.grade * 1e-3 / self.service_speed
    }

    /// Of the whole rotor, as it acts at bearings A and B.
    pub fn at_bearings(&self) -> [f64; 2] {
        let share = |weight: &dyn Fn(f64) -> f64| -> Complex {
            self.unbalances.iter().map(|(unbalance, at)| unbalance.times(weight(*at) / self.bearing_span)).sum()
        };
        [share(&|at| self.bearing_span - at).amount(), share(&|at| at).amount()]
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
    pub fn in_planes(&self) -> Vec<Complex> {
        let sum: Complex = self.unbalances.iter().map(|(unbalance, _)| *unbalance).sum();
        let [first, second] = self.planes[..] else { return vec![sum] };
        let moment: Complex = self.unbalances.iter().map(|(unbalance, at)| unbalance.times(at - first)).sum();
        let in_second = moment.times(1.0 / (second - first));
        vec![sum - in_second, in_second]
    }

    pub fn put_on(&mut self, unbalance: Complex, at: f64) {
        self.unbalances.push((unbalance, at));
    }

    /// The motion of the supports at a speed, as phasors in the angles of the body: what `x·e^{iΩt}` has to be for
    ///
    /// `m·ẍ = ΣU·Ω² + forces`, `I_d·θ̈ − i·Ω·I_p·θ̇ = ΣU·(z − z_G)·Ω² + moments`, with springs and dampers at the
    /// supports pulling back by `k·x + c·ẋ`.
    pub fn motion(&self, supports: &Supports, speed: f64) -> [Complex; 2] {
        let arms = supports.at.map(|at| at - self.mass_centre);
        let square = speed * speed;
        let pull =
            |n: usize| complex(supports.stiffness[n] - supports.parasitic[n] * square, speed * supports.damping[n]);
        let (first, second) = (pull(0), pull(1));
        let bounce = first + second - complex(self.mass * square, 0.0);
        let coupling = first.times(arms[0]) + second.times(arms[1]);
        let inertia = complex((self.diametral - self.polar) * square, 0.0);
        let rocking = first.times(arms[0] * arms[0]) + second.times(arms[1] * arms[1]) - inertia;
        let force: Complex = self.unbalances.iter().map(|(unbalance, _)| unbalance.times(square)).sum();
        let moment: Complex =
            self.unbalances.iter().map(|(unbalance, at)| unbalance.times(square * (at - self.mass_centre))).sum();
        let determinant = bounce * rocking - coupling * coupling;
        let shift = (force * rocking - moment * coupling) / determinant;
        let tilt = (moment * bounce - force * coupling) / determinant;
        arms.map(|arm| shift + tilt.times(arm))
    }

    /// The forces on the supports.
    pub fn forces(&self, supports: &Supports, speed: f64) -> [Complex; 2] {
        let motion = self.motion(supports, speed);
        [0, 1].map(|n| motion[n] * complex(supports.stiffness[n], speed * supports.damping[n]))
    }
}

impl Supports {
    /// Soft: both natural frequencies well below the speed. Hard: well above.
    pub fn by_chance(chance: &mut Chance, body: &Body, speed: f64, hard: bool) -> Self {
        let at = [0.0, body.bearing_span];
        let ratio = if hard { chance.between(3.5, 8.0) } else { chance.between(0.2, 0.45) };
        // Each support as if it carried its share of the mass; rocking is stiffer or softer by the inertia.
        let stiffness = [0, 1].map(|_| body.mass / 2.0 * (speed * ratio).powi(2) * chance.between(0.8, 1.25));
        let damping = stiffness.map(|k| 2.0 * chance.between(0.01, 0.05) * (k * body.mass / 2.0).sqrt());
        let parasitic = if hard { [0.0; 2] } else { [body.mass * chance.between(0.0, 0.2); 2] };
        Self { at, stiffness, damping, parasitic }
    }
}
