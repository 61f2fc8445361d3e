//! Machines with errors of their own: what they show of unbalances, and how the shop describes them.

use rotorbook::motion::Supports;

use super::job::Class;
use super::part::Part;
use super::rotor::{GMM, Rotor};
use num_complex::Complex64;
use rotorbook::motion::Chance;

pub const CHANNELS: [&str; 3] = ["one", "two", "three"];

/// An amount in units of the readout, and an angle in degrees.
#[derive(Clone, Copy, Debug)]
pub struct Shown {
    pub amount: f64,
    pub angle: f64,
}

/// Which of its errors a machine has; the others are left out to see what one alone does.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Errors {
    pub gain: bool,
    pub cross: bool,
    pub apparent: bool,
}

pub const ALL_ERRORS: Errors = Errors { gain: true, cross: true, apparent: true };

pub struct Machine {
    pub class: Class,
    /// rad/s
    pub speed: f64,
    /// What each dial shows of its own plane, and of the other.
    gain: [Complex64; 2],
    cross: [Complex64; 2],
    /// By how much it shows more at `full`, kg·m.
    bend: [f64; 2],
    full: f64,
    /// Standard deviation of each component of a reading, and the step, in units of the readout.
    pub noise: f64,
    pub step: f64,
    pub angle_step: f64,
    /// kg·m for one unit of the readout.
    pub one: [f64; 2],
    /// Sensors on soft supports: what each makes of the motion, and where it is.
    supports: Option<Supports>,
    sensors: Vec<(Complex64, f64)>,
    /// Standard deviation of what a mounting adds to each plane, kg·m.
    pub mounting: f64,
    /// What the machine adds of itself, at most so much.
    bias: [Complex64; 2],
    pub smallest: f64,
    pub tolerance_reads: f64,
}

/// One, two or five times a power of ten.
fn round_step(value: f64) -> f64 {
    let power = 10f64.powf(value.log10().floor());
    let lead = value / power;
    power
        * if lead >= 5.0 {
            5.0
        } else if lead >= 2.0 {
            2.0
        } else {
            1.0
        }
}

/// Supports of a machine that works above resonance, of rocking too: no reading goes by the speed by more than a third of
/// what the speed does.
fn above_resonance(chance: &mut Chance, body: &Part, speed: f64) -> Supports {
    let mut supports = body.supports(chance, speed, false);
    let steady = |supports: &Supports| {
        [0.0, body.bearing_span].iter().all(|at| {
            let loaded = body.with(vec![(Complex64::from_polar(1e-3, 0.0), *at)]);
            let [one, other] = [1.0, 1.01].map(|by| loaded.motion(supports, speed * by));
            let largest = one[0].norm().max(one[1].norm());
            one.iter().zip(&other).all(|(one, other)| (*one - *other).norm() < 0.003 * largest)
        })
    };
    while !steady(&supports) {
        supports = body.supports(chance, speed, false);
        for stiffness in &mut supports.stiffness {
            *stiffness *= 0.2;
        }
    }
    supports
}

impl Machine {
    pub fn by_chance(chance: &mut Chance, class: Class, rotor: &Rotor) -> Self {
        let size = rotor.size();
        let speed = chance.between(500.0, 1500.0).round() * std::f64::consts::TAU / 60.0;
        let gain = |chance: &mut Chance| {
            // What is told where the machine stands needs no calibration run, and is as good as its maker left it.
            let off = if class.by_dials() { 0.0 } else { chance.between(-0.045, 0.045) };
            Complex64::from_polar(1.0 + off, chance.between(-2.0, 2.0).to_radians())
        };
        let cross = |chance: &mut Chance| Complex64::from_polar(chance.between(0.0, 0.04), chance.angle());
        let mut machine = Self {
            class,
            speed,
            gain: [gain(chance), gain(chance)],
            cross: [cross(chance), cross(chance)],
            bend: [0; 2].map(|_| chance.between(-0.02, 0.02)),
            full: 8.0 * size,
            noise: 0.0,
            step: 0.0,
            angle_step: [0.1, 1.0, 5.0][chance.below(3)],
            one: [GMM; 2],
            supports: None,
            sensors: Vec::new(),
            mounting: size * chance.spread(0.003, 0.06),
            bias: [0.0; 2].map(|_| Complex64::from_polar(size * chance.spread(0.002, 0.04), chance.angle())),
            smallest: 0.0,
            tolerance_reads: [1.0, 2.0, 5.0, 10.0][chance.below(4)],
        };
        if class.by_dials() {
            machine.one = [size / machine.tolerance_reads; 2];
        } else if class == Class::Mass {
            machine.one = [1e-3 * rotor.body.radius; 2];
        }
        let share = chance.spread(0.002, 0.05);
        let noise = chance.between(0.1, 1.0);
        if class.by_trials() {
            let count = if class == Class::ManySensors { 3 } else { rotor.body.planes.len() };
            let places = [vec![chance.between(0.2, 0.8)], vec![0.0, 1.0], vec![0.0, 0.5, 1.0]][count - 1].clone();
            machine.sensors = places
                .into_iter()
                .map(|at| (Complex64::from_polar(chance.between(0.7, 1.4), chance.angle()), at))
                .collect();
            machine.supports = Some(above_resonance(chance, &rotor.body, speed));
            let loaded = rotor.body.planes.iter().map(|at| (Complex64::from_polar(size, 0.0), *at)).collect();
            let read = machine.sensed(&rotor.body, loaded, speed);
            let at_size = read.iter().map(|one| one.norm()).sum::<f64>() / read.len() as f64;
            machine.step = round_step(share * at_size);
            machine.one = [size / at_size; 2];
        } else {
            machine.step = round_step(share * size / machine.one[0]);
        }
        machine.noise = noise * machine.step;
        let bias = machine.bias.iter().map(|one| one.norm()).fold(0.0, f64::max);
        // Sensors see the motion alone.
        let bias = if class.by_trials() { 0.0 } else { bias };
        machine.smallest = bias + 2.0 * machine.noise.hypot(machine.step / 12f64.sqrt()) * machine.one[0];
        machine
    }

    /// What sensors make of the motion, in µm.
    fn sensed(&self, body: &Part, unbalances: Vec<(Complex64, f64)>, speed: f64) -> Vec<Complex64> {
        let Some(supports) = &self.supports else { return Vec::new() };
        let loaded = body.with(unbalances);
        let [left, right] = loaded.motion(supports, speed);
        let along = |share: f64| (left + (right - left).scale(share)).scale(1e6);
        self.sensors.iter().map(|(response, at)| along(*at) * *response).collect()
    }

    /// What channels show of a rotor without noise and steps, in kg·m; in µm by sensors. `added` is what else turns with it
    /// in the planes.
    pub fn signals(&self, body: &Part, added: &[Complex64], speed: f64, with: Errors) -> Vec<Complex64> {
        let bias = |n: usize| if with.apparent { self.bias[n] } else { Complex64::ZERO };
        if self.class.by_trials() {
            let mut all = body.unbalances.clone();
            all.extend(body.planes.iter().zip(added).map(|(at, one)| (*one, *at)));
            return self.sensed(body, all, speed);
        }
        let planes: Vec<Complex64> = body.in_planes().into_iter().zip(added).map(|(own, one)| own + *one).collect();
        let dial = |n: usize| {
            let other = if planes.len() == 2 && with.cross { self.cross[n] * planes[1 - n] } else { Complex64::ZERO };
            let seen = planes[n] + other;
            if !with.gain {
                return seen + bias(n);
            }
            let seen = seen * self.gain[n];
            seen.scale(1.0 + self.bend[n] * seen.norm() / self.full) + bias(n)
        };
        (0..planes.len()).map(dial).collect()
    }

    pub fn show(&self, n: usize, signal: Complex64, chance: &mut Chance) -> Shown {
        let noise = Complex64 { re: chance.scatter(self.noise), im: chance.scatter(self.noise) };
        let one = if self.class.by_trials() { 1.0 } else { self.one[n] };
        let seen = signal.scale(1.0 / one) + noise;
        let degrees = seen.arg().to_degrees() / self.angle_step;
        Shown {
            amount: (seen.norm() / self.step).round() * self.step,
            angle: (degrees.round() * self.angle_step).rem_euclid(360.0),
        }
    }

    pub fn unit(&self) -> &'static str {
        match self.class {
            _ if self.class.by_trials() => "µm",
            _ if self.class.by_dials() => "div",
            Class::Mass => "g",
            _ => "g·mm",
        }
    }

    /// A reading with the decimals of the step: nothing finer, and no `±`.
    pub fn written(&self, shown: Shown) -> String {
        let decimals = self.decimals();
        let amount = format!("{:.decimals$} {}", shown.amount, self.unit());
        if self.class == Class::WithoutAngles {
            return amount;
        }
        let decimals = usize::from(self.angle_step < 1.0);
        format!("{amount} @ {:.decimals$} deg", shown.angle)
    }

    fn decimals(&self) -> usize {
        (-(self.step * 1.000_001).log10().floor()).max(0.0) as usize
    }

    pub fn channels(&self, planes: usize) -> usize {
        if self.class.by_trials() { self.sensors.len() } else { planes }
    }

    pub fn text(&self, planes: usize) -> String {
        let shows = match self.unit() {
            "div" => "div".to_owned(),
            "g" => "mass at set radius\n    unit: g".to_owned(),
            "µm" => "displacement\n    unit: µm".to_owned(),
            unit => format!("unbalance\n    unit: {unit}"),
        };
        let hard = matches!(self.class, Class::Unbalance | Class::Mass);
        let (supports, works) = if hard { ("hard", "below resonance") } else { ("soft", "above resonance") };
        let (step, decimals) = (self.step, self.decimals());
        let angles = match self.class {
            Class::WithoutAngles => "angles: none".to_owned(),
            _ => format!("angles: measured\n    angles count: with rotation\n    angle step: {} deg", self.angle_step),
        };
        let unit = self.unit();
        // Rounded up, so that the machine keeps what it states.
        let smallest = (self.smallest / GMM * 1e3).ceil() * 1e-3;
        let stated = format!("  minimum achievable residual unbalance: {smallest:.3} g·mm\n");
        format!(
            "machine bench {{\n  supports: {supports}\n  works: {works}\n  drive: belt\n{stated}  channels: {}\n  readout {{\n    shows: {shows}\n    {angles}\n    smallest step: {step:.decimals$} {unit}\n  }}\n}}\n",
            CHANNELS[..self.channels(planes)].join(", ")
        )
    }
}
