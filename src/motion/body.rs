//! A rigid rotor on two supports, from the equations of motion. SI units; angles are of the body, with rotation.

use num_complex::Complex64;

use super::chance::Chance;

/// A rigid body that turns, with unbalances along its axis.
#[derive(Clone, Debug, Default)]
pub struct Body {
    /// kg
    pub mass: f64,
    /// Along the axis, in m.
    pub mass_centre: f64,
    /// Moments of inertia, in kg·m².
    pub diametral: f64,
    pub polar: f64,
    /// In kg·m, each with its place along the axis in m.
    pub unbalances: Vec<(Complex64, f64)>,
}

/// Two supports, alike in all directions across the axis.
#[derive(Clone, Debug)]
pub struct Supports {
    /// Along the axis, in m.
    pub at: [f64; 2],
    /// N/m
    pub stiffness: [f64; 2],
    /// N·s/m
    pub damping: [f64; 2],
    /// Of the carriages that move with the rotor, in kg.
    pub parasitic: [f64; 2],
}

impl Body {
    /// The inertia of a cylinder. Source: plain mechanics.
    pub fn cylinder(mass: f64, mass_centre: f64, radius: f64, length: f64) -> Self {
        let polar = mass * radius * radius / 2.0;
        let diametral = polar / 2.0 + mass * length * length / 12.0;
        Self { mass, mass_centre, diametral, polar, unbalances: Vec::new() }
    }

    pub fn put_on(&mut self, unbalance: Complex64, at: f64) {
        self.unbalances.push((unbalance, at));
    }

    /// The motion of the supports at a speed in rad/s, in m: what `x·e^{iΩt}` has to be for
    ///
    /// `m·ẍ = ΣU·Ω² + forces`, `I_d·θ̈ − i·Ω·I_p·θ̇ = ΣU·(z − z_G)·Ω² + moments`, with springs and dampers at the
    /// supports pulling back by `k·x + c·ẋ`.
    ///
    /// Source: Newton and Euler for a rigid body that turns steadily about its axis.
    pub fn motion(&self, supports: &Supports, speed: f64) -> [Complex64; 2] {
        let arms = supports.at.map(|at| at - self.mass_centre);
        let square = speed * speed;
        let pull = |n: usize| {
            Complex64::new(supports.stiffness[n] - supports.parasitic[n] * square, speed * supports.damping[n])
        };
        let (first, second) = (pull(0), pull(1));
        let bounce = first + second - Complex64::new(self.mass * square, 0.0);
        let coupling = first.scale(arms[0]) + second.scale(arms[1]);
        let inertia = Complex64::new((self.diametral - self.polar) * square, 0.0);
        let rocking = first.scale(arms[0] * arms[0]) + second.scale(arms[1] * arms[1]) - inertia;
        let force: Complex64 = self.unbalances.iter().map(|(unbalance, _)| unbalance.scale(square)).sum();
        let moment: Complex64 =
            self.unbalances.iter().map(|(unbalance, at)| unbalance.scale(square * (at - self.mass_centre))).sum();
        let determinant = bounce * rocking - coupling * coupling;
        let shift = (force * rocking - moment * coupling) / determinant;
        let tilt = (moment * bounce - force * coupling) / determinant;
        arms.map(|arm| shift + tilt.scale(arm))
    }

    /// The forces on the supports, in N.
    pub fn forces(&self, supports: &Supports, speed: f64) -> [Complex64; 2] {
        let motion = self.motion(supports, speed);
        [0, 1].map(|n| motion[n] * Complex64::new(supports.stiffness[n], speed * supports.damping[n]))
    }
}

impl Supports {
    /// With a resonance near a frequency in rad/s: each support as if it carried its share of the mass; rocking is stiffer
    /// or softer by the inertia.
    pub fn tuned(chance: &mut Chance, (mass, at): (f64, [f64; 2]), resonance: f64, hard: bool) -> Self {
        let stiffness = [0, 1].map(|_| mass / 2.0 * resonance.powi(2) * chance.between(0.8, 1.25));
        let damping = stiffness.map(|k| 2.0 * chance.between(0.01, 0.05) * (k * mass / 2.0).sqrt());
        let parasitic = if hard { [0.0; 2] } else { [mass * chance.between(0.0, 0.2); 2] };
        Self { at, stiffness, damping, parasitic }
    }
}
