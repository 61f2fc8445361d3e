//! One virtual rotor as it truly is, and what is done to it.

use num_complex::Complex64;

use super::given::{ANGLE_OFF, DEPTH_OFF, MASS_OFF, Plan};
use crate::motion::Chance;
use crate::sheet::{Block, Field, FieldValue};
use crate::vocabulary::{Fact, correction};

pub struct Rotor {
    /// In each plane, in kg·m and the rotor's own angles; sliding weights among it.
    pub planes: Vec<Complex64>,
    /// Where the sliding weights of each plane stand, in rad.
    weights: Vec<Vec<f64>>,
    /// The holes, flats and arcs of each plane.
    cuts: Vec<Vec<MadeCut>>,
}

/// A cut as it was ordered and as it was made, in rad and m.
#[derive(Clone, Copy, Debug)]
struct MadeCut {
    angle: f64,
    depth: f64,
    made_at: f64,
    made: f64,
}

/// A deeper cut this near to one that is there is the same one.
const SAME_CUT: f64 = 1.0;

/// What a correction was to put into its plane, and what it did.
#[derive(Clone, Copy, Debug, Default)]
pub struct Put {
    pub meant: Complex64,
    pub done: Complex64,
}

impl Rotor {
    /// As it comes: so many times its tolerance in each plane, anywhere.
    pub fn drawn(plan: &Plan, chance: &mut Chance) -> Self {
        let own = plan.planes.iter().map(|plane| {
            let times = chance.spread(plan.as_found[0], plan.as_found[1]);
            Complex64::from_polar(plane.tolerance * times, chance.angle())
        });
        let planes = own.collect();
        let even = |count: usize| (0..count).map(|n| std::f64::consts::TAU * n as f64 / count as f64).collect();
        let weights = plan.planes.iter().map(|plane| plane.weights.map_or_else(Vec::new, |one| even(one.count)));
        Self { planes, weights: weights.collect(), cuts: vec![Vec::new(); plan.planes.len()] }
    }

    /// Where the sliding weights of a plane stand, in degrees.
    pub fn weights(&self, plane: usize) -> Vec<f64> {
        self.weights[plane].iter().map(|angle| angle.to_degrees().round()).collect()
    }

    /// The sliding weights of a plane go where they are told to, in degrees.
    pub fn turn_weights(&mut self, plan: &Plan, plane: usize, to: &[f64], chance: &mut Chance) -> Put {
        let Some(weights) = plan.planes[plane].weights else { return Put::default() };
        let sum = |angles: &[f64]| -> Complex64 {
            angles.iter().map(|angle| Complex64::from_polar(weights.each, *angle)).sum()
        };
        let meant: Vec<f64> = to.iter().map(|degrees| degrees.to_radians()).collect();
        let made: Vec<f64> = meant.iter().map(|angle| angle + off(ANGLE_OFF.to_radians(), chance)).collect();
        let before = sum(&self.weights[plane]);
        let put = Put { meant: sum(&meant) - before, done: sum(&made) - before };
        self.planes[plane] += put.done;
        self.weights[plane] = made;
        put
    }

    /// What a `correction` block says is done, as well as people do it.
    pub fn correct(&mut self, plan: &Plan, block: &Block, chance: &mut Chance) -> Option<(usize, Put)> {
        let plane = plan.plane(block.name_text())?;
        let mut put = Put::default();
        for (field, sign) in masses(block) {
            let mass = quantity(field)?;
            let (angle, radius, depth) = match &field.name {
                Some(name) => {
                    let place = name.text.parse::<usize>().ok()?.checked_sub(1)?;
                    (*plan.planes[plane].places.get(place)?, plan.planes[plane].radius, None)
                }
                None => {
                    let stated = |fact| of(block, fact).and_then(quantity);
                    let radius = stated(correction::RADIUS.words());
                    let radius = radius.or_else(|| Some(stated(correction::DIAMETER.words())? / 2.0));
                    let radius = radius.unwrap_or(plan.planes[plane].radius);
                    (stated(correction::ANGLE.words())?, radius, stated(correction::DEPTH.words()))
                }
            };
            let mut made_at = angle + off(ANGLE_OFF.to_radians(), chance);
            let one = match (depth, plan.planes[plane].cut) {
                (Some(depth), Some(cut)) => {
                    let made = (depth + off(DEPTH_OFF, chance)).max(0.0);
                    let is_same = |other: &&mut MadeCut| {
                        let apart = (other.angle - angle).cos();
                        apart > SAME_CUT.to_radians().cos() - 1e-9 && other.depth < depth
                    };
                    // The tool goes back into the cut that is there.
                    match self.cuts[plane].iter_mut().find(is_same) {
                        Some(before) => {
                            made_at = before.made_at;
                            let made = made.max(before.made);
                            let more = [
                                cut.unbalance(depth) - cut.unbalance(before.depth),
                                cut.unbalance(made) - cut.unbalance(before.made),
                            ];
                            (before.depth, before.made) = (depth, made);
                            more
                        }
                        None => {
                            self.cuts[plane].push(MadeCut { angle, depth, made_at, made });
                            [cut.unbalance(depth), cut.unbalance(made)]
                        }
                    }
                }
                _ => [mass * radius, mass * (1.0 + chance.scatter(MASS_OFF)) * radius],
            };
            put.meant += Complex64::from_polar(sign * one[0], angle);
            put.done += Complex64::from_polar(sign * one[1], made_at);
        }
        self.planes[plane] += put.done;
        Some((plane, put))
    }
}

fn off(most: f64, chance: &mut Chance) -> f64 {
    chance.between(-most, most)
}

fn of<'f>(block: &'f Block, key: &str) -> Option<&'f Field> {
    block.fields.iter().find(|field| field.key.name == key)
}

fn quantity(field: &Field) -> Option<f64> {
    match &field.value {
        FieldValue::Quantity(stated) => Some(stated.base),
        _ => None,
    }
}

/// The masses of a correction, each put on or taken off.
fn masses(block: &Block) -> impl Iterator<Item = (&Field, f64)> {
    let is = |field: &Field, fact: Fact<crate::units::Mass>| field.key.name == fact.words();
    block.fields.iter().filter_map(move |field| {
        if is(field, correction::ADD) || is(field, correction::ADD_PLACE) {
            Some((field, 1.0))
        } else if is(field, correction::REMOVE) || is(field, correction::REMOVE_PLACE) {
            Some((field, -1.0))
        } else {
            None
        }
    })
}
