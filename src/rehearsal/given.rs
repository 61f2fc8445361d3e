//! What the sheets say of a setup, as its virtual machine needs it; what they do not say, with the range that it is drawn
//! from. Numbers in SI units, angles in the sense of the rotor's own.

use num_complex::Complex64;

use super::reading::Readout;
use crate::motion::Cut;

/// Why a setup cannot be rehearsed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cannot(pub String);

/// A number that is known so far: its value and a standard deviation.
#[derive(Clone, Copy, Debug, Default)]
pub struct Spread {
    pub value: f64,
    pub standard: f64,
}

/// What is drawn by chance because the sheets do not say it, or only within limits.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Drawn {
    pub what: &'static str,
    pub from: String,
    /// Whether a sheet says it.
    pub is_stated: bool,
}

/// What a channel reads of one kg·m in a plane, and how far off that may be: anywhere in a disc.
#[derive(Clone, Copy, Debug, Default)]
pub struct Answer {
    pub middle: Complex64,
    pub off: f64,
}

#[derive(Clone, Debug)]
pub struct Channel {
    pub name: String,
    /// By plane.
    pub answers: Vec<Answer>,
    pub bend: Bend,
    /// What is read where `bend` is what it is.
    pub full: f64,
}

/// By what share more or less is read at a full reading than in proportion, and how far off that may be.
#[derive(Clone, Copy, Debug)]
pub struct Bend {
    pub middle: f64,
    pub off: f64,
}

/// Sliding weights of a plane.
#[derive(Clone, Copy, Debug)]
pub struct Weights {
    pub count: usize,
    /// Mass times radius of each, in kg·m.
    pub each: f64,
}

#[derive(Clone, Debug)]
pub struct Plane {
    pub name: String,
    /// Along the axis.
    pub at: f64,
    /// Of corrections that say none of their own.
    pub radius: f64,
    /// kg·m
    pub tolerance: f64,
    /// Angles of the places by number.
    pub places: Vec<f64>,
    pub cut: Option<Cut>,
    /// What the machine may show of itself, in kg·m.
    pub apparent: f64,
    pub weights: Option<Weights>,
    /// The lines of the sheet that say how much is corrected at a time, and in which steps.
    pub takes: Vec<String>,
    pub steps: Vec<String>,
}

/// A limit that stands: what acts is the sum of the planes by their levers.
#[derive(Clone, Debug)]
pub struct Limit {
    pub name: String,
    pub levers: Vec<f64>,
    pub most: f64,
}

/// How far each mounting moves what is read, in kg·m a plane: as the proof found it, else as the arbor centres the rotor,
/// else between two values.
#[derive(Clone, Copy, Debug)]
pub enum Mounting {
    Found(f64),
    /// The whole rotor at once, so far in any direction: all planes share it.
    Centring(f64),
    Between(f64, f64),
}

/// What an arbor puts in.
#[derive(Clone, Debug)]
pub enum Arbor {
    None,
    /// Stated towards each support, in the arbor's angles.
    Stated([Complex64; 2]),
    /// Between these shares of each plane's tolerance.
    Between(f64, f64),
}

/// How the supports carry the rotor.
#[derive(Clone, Copy, Debug)]
pub struct Carried {
    pub at: [f64; 2],
    /// Whether the machine shows force instead of motion.
    pub hard: bool,
    /// Where resonance lies over the balancing speed, between two values.
    pub resonance: [f64; 2],
}

/// All that a rehearsal draws rotors from.
#[derive(Clone, Debug)]
pub struct Plan {
    pub setup: String,
    /// The proof that records name, and the day on which they are made.
    pub proof: Option<String>,
    pub day: String,
    pub rotor_mass: Spread,
    pub mass_centre: Spread,
    pub largest_radius: f64,
    pub length: f64,
    pub planes: Vec<Plane>,
    pub limits: Vec<Limit>,
    pub channels: Vec<Channel>,
    pub readout: Readout,
    /// `None` where it is not known between which places the rotor is carried.
    pub carried: Option<Carried>,
    /// rad/s
    pub speed: f64,
    /// Whether the angles of the rotor count against its rotation.
    pub against: bool,
    /// Whether runs say that calibration masses are off.
    pub is_calibrated: bool,
    /// What a calibration mass that is left on puts in: its plane, and kg·m at an angle.
    pub calibration_mass: (usize, Complex64),
    pub mounting: Mounting,
    /// Whether the rotor stays in its own bearings.
    pub in_place: bool,
    pub arbor: Arbor,
    /// As found, over the tolerance of each plane.
    pub as_found: [f64; 2],
    pub drawn: Vec<Drawn>,
}

/// How far the speed of a run lies off the balancing speed, as a share. Source: common practice, no source.
pub const SPEED_OFF: f64 = 0.005;

/// How far a mass is off, as a share of it, standard. Source: common practice, no source.
pub const MASS_OFF: f64 = 0.003;

/// How far from its angle something is put on, in degrees, at most. Source: common practice, no source.
pub const ANGLE_OFF: f64 = 1.0;

/// How far a hole, flat or arc is off in depth, in m, at most. Source: common practice, no source.
pub const DEPTH_OFF: f64 = 0.05e-3;

/// Standard deviation of each component of a reading, in steps of the readout, between these, where no scatter is stated.
/// Source: common practice, no source.
pub const SCATTER_IN_STEPS: [f64; 2] = [0.1, 1.0];

impl Plan {
    /// What acts at a limit over it, at the worst of them; with the number of that limit.
    pub fn over_limit(&self, planes: &[Complex64]) -> (f64, usize) {
        let shares = self.limits.iter().enumerate().map(|(n, limit)| (limit.acting(planes) / limit.most, n));
        shares.fold((0.0, 0), |worst, one| if one.0 > worst.0 { one } else { worst })
    }

    pub fn plane(&self, name: &str) -> Option<usize> {
        self.planes.iter().position(|plane| plane.name == name)
    }
}

impl Limit {
    pub fn acting(&self, planes: &[Complex64]) -> f64 {
        self.levers.iter().zip(planes).map(|(lever, plane)| plane.scale(*lever)).sum::<Complex64>().norm()
    }
}
