//! The measuring side of the machine: sensors with response and phase of their own, noise, a readout with steps.

use rotorbook::motion::Supports;

use super::part::Part;
use num_complex::Complex64;
use rotorbook::motion::Chance;

/// How the shop goes about the rotor.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Way {
    /// One plane, one sensor, trial runs with angles.
    OnePlane,
    /// Two planes, a sensor at each support, trial runs.
    TwoPlanes,
    /// Two planes, four sensors: more readings than unknowns.
    ManySensors,
    /// Two planes on hard supports that measure force, by dimensions and without trial runs.
    ByDimensions,
    /// One plane, amounts alone: four runs.
    WithoutAngles,
    /// Two planes that the machine keeps apart, each on its own dial, calibrated in divisions.
    Calibrated,
    /// The same on an arbor with an unbalance of its own, the rotor turned on it from run to run.
    Indexed,
}

impl Way {
    pub const ALL: [Way; 7] = [
        Way::OnePlane,
        Way::TwoPlanes,
        Way::ManySensors,
        Way::ByDimensions,
        Way::WithoutAngles,
        Way::Calibrated,
        Way::Indexed,
    ];

    pub fn is_calibrated(self) -> bool {
        matches!(self, Way::Calibrated | Way::Indexed)
    }

    pub fn by_trials(self) -> bool {
        !self.is_calibrated() && self != Way::ByDimensions
    }

    pub fn planes(self) -> usize {
        match self {
            Way::OnePlane | Way::WithoutAngles => 1,
            _ => 2,
        }
    }

    pub fn channels(self) -> usize {
        match self {
            Way::OnePlane | Way::WithoutAngles => 1,
            Way::ManySensors => 4,
            Way::TwoPlanes | Way::ByDimensions | Way::Calibrated | Way::Indexed => 2,
        }
    }
}

/// A machine with its sensors.
#[derive(Clone, Debug)]
pub struct Stand {
    pub way: Way,
    pub supports: Supports,
    /// rad/s
    pub speed: f64,
    /// What a sensor makes of the motion: response and phase.
    responses: Vec<Complex64>,
    /// Along the axis, as a share of the way from the left to the right support.
    places: Vec<f64>,
    /// Standard deviation of each component of a reading, in readout units.
    pub noise: f64,
    pub step: f64,
    pub angle_step: f64,
    pub shows_with_rotation: bool,
    pub rotor_counts_with_rotation: bool,
    /// The body's angle at which the rotor's zero mark sits.
    pub zero_mark: f64,
    /// What is shown is half a turn from where the rotor is heavy.
    pub indicates_light: bool,
    /// Divisions that the tolerance of a plane is to read.
    pub tolerance_reads: f64,
    /// What one division of each dial truly means, kg·m; none before the machine is calibrated.
    pub one_division: Vec<f64>,
    /// What each dial shows of the other plane, as a share.
    pub across: [Complex64; 2],
}

/// A reading as the readout shows it: amount in µm, g·mm or div, angle in degrees.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Shown {
    pub amount: f64,
    pub angle: f64,
}

impl Stand {
    pub fn by_chance(chance: &mut Chance, body: &Part, way: Way) -> Self {
        let speed = chance.between(500.0, 1500.0) * std::f64::consts::TAU / 60.0;
        let supports = body.supports(chance, speed, way == Way::ByDimensions);
        let count = way.channels();
        let response = |chance: &mut Chance| Complex64::from_polar(chance.between(0.7, 1.4), chance.angle());
        let responses = (0..count)
            .map(|_| if way == Way::ByDimensions { Complex64::from_polar(1.0, 0.0) } else { response(chance) });
        let responses = responses.collect();
        let places = match way {
            Way::OnePlane | Way::WithoutAngles => vec![chance.between(0.2, 0.8)],
            Way::ManySensors => vec![0.0, 0.35, 0.7, 1.0],
            Way::TwoPlanes | Way::ByDimensions | Way::Calibrated | Way::Indexed => vec![0.0, 1.0],
        };
        let mut stand = Self {
            way,
            supports,
            speed,
            responses,
            places,
            noise: 0.0,
            step: 0.0,
            angle_step: 1.0,
            shows_with_rotation: chance.coin(),
            rotor_counts_with_rotation: chance.coin(),
            zero_mark: chance.angle(),
            indicates_light: chance.coin() && (way.is_calibrated() || way == Way::ByDimensions),
            tolerance_reads: [1.0, 2.0, 5.0, 10.0][chance.below(4)],
            one_division: Vec::new(),
            across: [0.0; 2].map(|_| Complex64::from_polar(chance.between(0.0, 0.01), chance.angle())),
        };
        // Noise and step as a share of what the permissible unbalance reads, from hardly seen to as large as it.
        let share = chance.spread(0.003, 2.0);
        if way.is_calibrated() {
            let reads = stand.tolerance_reads;
            stand.noise = share * reads * 0.3;
            stand.step = 10f64.powf((share * reads).log10().floor());
            return stand;
        }
        let mut loaded = body.with(Vec::new());
        for plane in &body.planes {
            loaded.put_on(Complex64::from_polar(body.permissible() / body.planes.len() as f64, 0.0), *plane);
        }
        let at_tolerance = stand.true_readings(&loaded, speed).iter().map(|v| v.norm()).sum::<f64>() / count as f64;
        stand.noise = share * at_tolerance * 0.3;
        // A readout has round steps.
        stand.step = 10f64.powf((share * at_tolerance).log10().floor());
        stand
    }

    /// What the sensors would show without noise, as phasors in the angles of the body.
    pub fn true_readings(&self, body: &Part, speed: f64) -> Vec<Complex64> {
        let shown = if self.indicates_light { -1.0 } else { 1.0 };
        if self.way == Way::ByDimensions {
            let to_unbalance = 1e6 / (speed * speed) * shown;
            return body.forces(&self.supports, speed).map(|force| force.scale(to_unbalance)).to_vec();
        }
        if self.way.is_calibrated() {
            let planes = body.in_planes();
            let dial = |n: usize| (planes[n] + self.across[n] * planes[1 - n]).scale(shown / self.one_division[n]);
            return vec![dial(0), dial(1)];
        }
        let [left, right] = body.motion(&self.supports, speed);
        let along = |share: f64| (left + (right - left).scale(share)).scale(1e6);
        self.places.iter().zip(&self.responses).map(|(place, response)| along(*place) * *response).collect()
    }

    /// One run.
    pub fn run(&self, body: &Part, speed: f64, chance: &mut Chance) -> Vec<Shown> {
        let with_noise = |chance: &mut Chance, reading: Complex64| {
            let noise = Complex64 { re: chance.scatter(self.noise), im: chance.scatter(self.noise) };
            reading + noise
        };
        let readings = self.true_readings(body, speed);
        readings.into_iter().map(|reading| self.show(with_noise(chance, reading), chance)).collect()
    }

    fn show(&self, reading: Complex64, chance: &mut Chance) -> Shown {
        let counted = reading.arg() - self.zero_mark;
        let counted = if self.shows_with_rotation { counted } else { -counted };
        let degrees = counted.to_degrees() + chance.scatter(0.2);
        Shown {
            amount: (reading.norm() / self.step).round() * self.step,
            angle: ((degrees / self.angle_step).round() * self.angle_step).rem_euclid(360.0),
        }
    }

    /// What an angle of the rotor is on the body.
    pub fn on_body(&self, rotor_angle: f64) -> f64 {
        self.zero_mark + if self.rotor_counts_with_rotation { rotor_angle } else { -rotor_angle }
    }

    /// How far a reading may be off: three times the noise and half a step.
    pub fn reading_limits(&self) -> f64 {
        3.0 * self.noise + self.step / 2.0
    }

    /// What one error of a reading looks like as an unbalance in kg·m, and by how much telling two planes apart enlarges it.
    pub fn floor(&self, body: &Part) -> Floor {
        let effect = |plane: &f64| -> Vec<Complex64> {
            let mut alone = body.with(Vec::new());
            alone.put_on(Complex64::from_polar(1.0, 0.0), *plane);
            self.true_readings(&alone, self.speed)
        };
        let columns: Vec<Vec<Complex64>> = body.planes.iter().map(effect).collect();
        let product = |a: &[Complex64], b: &[Complex64]| -> Complex64 {
            a.iter().zip(b).map(|(a, b)| Complex64 { im: -a.im, ..*a } * *b).sum()
        };
        let own: Vec<f64> = columns.iter().map(|column| product(column, column).re).collect();
        let alone = own.iter().map(|square| square.sqrt().recip()).fold(0.0, f64::max);
        // The diagonal of the inverse of the normal equations.
        let together = match &columns[..] {
            [first, second] => {
                let determinant = own[0] * own[1] - product(first, second).norm().powi(2);
                (own[0].max(own[1]) / determinant).sqrt()
            }
            _ => alone,
        };
        Floor { unbalance: self.reading_limits() * together, enlarged: together / alone, effect: 1.0 / alone }
    }
}

/// What the readings cannot tell from nothing.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Floor {
    /// kg·m
    pub unbalance: f64,
    /// By how much telling two planes apart enlarges what one plane alone would have.
    pub enlarged: f64,
    /// What one kg·m in the weaker plane reads.
    pub effect: f64,
}
