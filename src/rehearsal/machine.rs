//! One virtual machine: what a setup does not say of it is drawn once, and then it stays as it is.

use num_complex::Complex64;

use super::given::{Arbor, Bend, Mounting, Plan, SCATTER_IN_STEPS, SPEED_OFF};
use crate::motion::{Body, Chance, Supports};

/// No reading is out of proportion by more than this share. Source: common practice, no source.
const MOST_OUT: f64 = 0.5;

pub struct Machine {
    /// Channel by plane.
    answers: Vec<Vec<Complex64>>,
    bend: Vec<f64>,
    /// Standard deviation of each component of a reading.
    pub noise: f64,
    mounting: Moves,
    /// What is shown in each plane though nothing is there.
    apparent: Vec<Complex64>,
    /// In each plane, in the arbor's angles.
    arbor: Vec<Complex64>,
    turning: Option<Turning>,
}

/// The rotor on its supports, and what its planes look like from there at the balancing speed.
struct Turning {
    body: Body,
    supports: Supports,
    hard: bool,
    /// Supports by planes, at the balancing speed.
    columns: [[Complex64; 2]; 2],
}

/// What a mounting moves.
enum Moves {
    /// In each plane for itself: kg·m, one standard deviation of each component.
    Each(f64),
    /// In all planes together: so much, shared by them so.
    Together(f64, Vec<f64>),
}

/// What is read in one run, before it is shown: with all errors but the scatter of the reading.
pub struct Run {
    pub exact: Vec<Complex64>,
    /// rad/s
    pub speed: f64,
}

impl Machine {
    pub fn drawn(plan: &Plan, chance: &mut Chance) -> Self {
        let answers: Vec<Vec<Complex64>> = plan
            .channels
            .iter()
            .map(|channel| {
                let drawn = channel.answers.iter().map(|answer| {
                    let off = Complex64::from_polar(answer.off * chance.share().sqrt(), chance.angle());
                    answer.middle + off
                });
                drawn.collect()
            })
            .collect();
        let bend = |Bend { middle, off }: Bend, chance: &mut Chance| middle + chance.between(-off, off);
        let bend = plan.channels.iter().map(|channel| bend(channel.bend, chance)).collect();
        let in_steps = chance.between(SCATTER_IN_STEPS[0], SCATTER_IN_STEPS[1]);
        let noise = plan.readout.scatter.unwrap_or(in_steps * plan.readout.step());
        let least = plan.planes.iter().map(|plane| plane.tolerance).fold(f64::INFINITY, f64::min);
        let mounting = match plan.mounting {
            Mounting::Found(standard) => Moves::Each(standard),
            Mounting::Centring(moment) => Moves::Together(moment, shares(plan)),
            Mounting::Between(low, high) => Moves::Each(least * chance.spread(low, high)),
        };
        let arbor = match &plan.arbor {
            Arbor::None => vec![Complex64::ZERO; plan.planes.len()],
            Arbor::Stated(at_supports) => in_planes(plan, *at_supports),
            Arbor::Between(low, high) => {
                let one = |chance: &mut Chance, tolerance: f64| {
                    Complex64::from_polar(tolerance * chance.spread(*low, *high), chance.angle())
                };
                plan.planes.iter().map(|plane| one(chance, plane.tolerance)).collect()
            }
        };
        let apparent =
            plan.planes.iter().map(|plane| Complex64::from_polar(plane.apparent * chance.share(), chance.angle()));
        let apparent = apparent.collect();
        let turning = Turning::drawn(plan, chance);
        Self { answers, bend, noise, mounting, apparent, arbor, turning }
    }

    /// What a mounting adds in each plane of the rotor's own angles, with it turned so far on its arbor.
    pub fn mount(&self, turned: f64, chance: &mut Chance) -> Vec<Complex64> {
        let back = Complex64::from_polar(1.0, -turned);
        let arbor = self.arbor.iter().map(|arbor| arbor * back);
        match &self.mounting {
            Moves::Each(standard) => {
                let mut one = || Complex64::new(chance.scatter(*standard), chance.scatter(*standard));
                arbor.map(|arbor| arbor + one()).collect()
            }
            Moves::Together(moment, shares) => {
                let moved = Complex64::from_polar(*moment, chance.angle());
                arbor.zip(shares).map(|(arbor, share)| arbor + moved.scale(*share)).collect()
            }
        }
    }

    /// What the arbor adds in each plane, with the rotor turned so far on it.
    pub fn of_arbor(&self, turned: f64) -> Vec<Complex64> {
        let back = Complex64::from_polar(1.0, -turned);
        self.arbor.iter().map(|arbor| arbor * back).collect()
    }

    /// One run with these unbalances in the planes.
    pub fn run(&self, plan: &Plan, planes: &[Complex64], chance: &mut Chance) -> Run {
        let speed = plan.speed * (1.0 + chance.between(-SPEED_OFF, SPEED_OFF));
        let mut seen = match &self.turning {
            Some(turning) => turning.seen(plan, planes, speed),
            None => planes.to_vec(),
        };
        seen.iter_mut().zip(&self.apparent).for_each(|(seen, own)| *seen += own);
        let channel = |(n, answers): (usize, &Vec<Complex64>)| {
            let read: Complex64 = answers.iter().zip(&seen).map(|(answer, plane)| answer * plane).sum();
            let full = plan.channels[n].full;
            read.scale(1.0 + (self.bend[n] * read.norm() / full).clamp(-MOST_OUT, MOST_OUT))
        };
        Run { exact: self.answers.iter().enumerate().map(channel).collect(), speed }
    }

    /// The same with the scatter of the reading.
    pub fn scattered(&self, exact: Complex64, chance: &mut Chance) -> Complex64 {
        exact + Complex64::new(chance.scatter(self.noise), chance.scatter(self.noise))
    }
}

/// How the planes share what acts at the mass centre. Source: statics of a rigid body.
fn shares(plan: &Plan) -> Vec<f64> {
    match &plan.planes[..] {
        [first, second] => {
            let in_second = (plan.mass_centre.value - first.at) / (second.at - first.at);
            vec![1.0 - in_second, in_second]
        }
        planes => vec![1.0 / planes.len() as f64; planes.len()],
    }
}

/// Unbalances at the supports as they act in the planes. Source: statics of a rigid body.
fn in_planes(plan: &Plan, at_supports: [Complex64; 2]) -> Vec<Complex64> {
    let at = plan.carried.map_or([0.0, 1.0], |carried| carried.at);
    let sum = at_supports[0] + at_supports[1];
    match &plan.planes[..] {
        [first, second] => {
            let moment = at_supports[0].scale(at[0] - first.at) + at_supports[1].scale(at[1] - first.at);
            let in_second = moment.scale(1.0 / (second.at - first.at));
            vec![sum - in_second, in_second]
        }
        planes => vec![sum.scale(1.0 / planes.len() as f64); planes.len()],
    }
}

impl Turning {
    fn drawn(plan: &Plan, chance: &mut Chance) -> Option<Self> {
        let carried = plan.carried?;
        let mass = plan.rotor_mass.value + chance.scatter(plan.rotor_mass.standard);
        let centre = plan.mass_centre.value + chance.scatter(plan.mass_centre.standard);
        let length = plan.length * chance.between(0.5, 1.0);
        let body = Body::cylinder(mass, centre, plan.largest_radius * chance.between(0.7, 1.0), length);
        let resonance = plan.speed * chance.between(carried.resonance[0], carried.resonance[1]);
        let supports = Supports::tuned(chance, (mass, carried.at), resonance, carried.hard);
        let mut turning = Self { body, supports, hard: carried.hard, columns: Default::default() };
        let at: Vec<f64> = plan.planes.iter().map(|plane| plane.at).collect();
        turning.columns = match at[..] {
            [one] => [turning.at_supports(&[(Complex64::new(1.0, 0.0), one)], plan.speed), Default::default()],
            [one, two] => [one, two].map(|at| turning.at_supports(&[(Complex64::new(1.0, 0.0), at)], plan.speed)),
            _ => return None,
        };
        Some(turning)
    }

    /// What the machine senses at its supports.
    fn at_supports(&self, unbalances: &[(Complex64, f64)], speed: f64) -> [Complex64; 2] {
        let mut loaded = self.body.clone();
        unbalances.iter().for_each(|(unbalance, at)| loaded.put_on(*unbalance, *at));
        match self.hard {
            true => loaded.forces(&self.supports, speed).map(|force| force.scale(1.0 / (speed * speed))),
            false => loaded.motion(&self.supports, speed),
        }
    }

    /// What the planes look like from the supports at this speed to a machine that was set up at the balancing speed.
    fn seen(&self, plan: &Plan, planes: &[Complex64], speed: f64) -> Vec<Complex64> {
        // The motion lags after in the sense of rotation, whichever way the rotor's angles count.
        let turned = |value: &Complex64| if plan.against { value.conj() } else { *value };
        let all: Vec<(Complex64, f64)> =
            planes.iter().zip(&plan.planes).map(|(u, plane)| (turned(u), plane.at)).collect();
        let sensed = self.at_supports(&all, speed);
        let [first, second] = &self.columns;
        let found = match planes {
            [_] => {
                let own: f64 = first.iter().map(Complex64::norm_sqr).sum();
                let along: Complex64 = first.iter().zip(&sensed).map(|(column, sensed)| column.conj() * sensed).sum();
                vec![along.scale(1.0 / own)]
            }
            _ => {
                let determinant = first[0] * second[1] - second[0] * first[1];
                vec![
                    (sensed[0] * second[1] - second[0] * sensed[1]) / determinant,
                    (first[0] * sensed[1] - sensed[0] * first[1]) / determinant,
                ]
            }
        };
        found.iter().map(turned).collect()
    }
}
