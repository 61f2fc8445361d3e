//! A cut as a hand makes it: to a step of its depth that is read on the tool, finer where that would cost too much.

use super::PlaneResults;
use crate::units::{Length, Mass, Typed, Unbalance, Unit};

/// A cut is made to a step that takes less than this of its plane's tolerance, all cuts together. Source: common practice, no
/// source.
const MAY_COST: f64 = 0.1;

/// Steps of a depth in millimetres: a tenth, below a millimetre half of that, and finer. Source: common practice, no source.
const MILLIMETRES: [f64; 7] = [0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001];

/// In inches: five thousandths, and finer. Source: common practice, no source.
const INCHES: [f64; 6] = [0.005, 0.002, 0.001, 0.0005, 0.0002, 0.0001];

/// A hole, flat or arc as it is made.
#[derive(Clone, Copy, Debug)]
pub struct MadeCut {
    /// To a whole number of steps.
    pub depth: Length,
    /// In the unit of the depth; `None` where its unit has no usual steps.
    pub step: Option<f64>,
    /// What it weighs; `None`, as what it takes, where a fact of the cut is missing.
    pub mass: Option<Mass>,
    /// What it takes.
    pub taken: Option<Unbalance>,
}

impl MadeCut {
    /// Whether only the point of the drill goes in.
    pub fn is_point(&self) -> bool {
        self.is_flush() && self.mass.is_some_and(|mass| mass > Mass::ZERO)
    }

    /// Whether nothing is cut that a depth tells.
    pub fn is_nothing(&self) -> bool {
        self.is_flush() && !self.is_point()
    }

    /// Less than half a step deep.
    fn is_flush(&self) -> bool {
        self.step.is_some() && self.depth <= Length::ZERO
    }
}

impl PlaneResults<'_> {
    /// A cut that is there, made deeper: what it weighs and takes is what it does more than before.
    pub fn made_deeper(&self, from: Length, depth: Length, unit: Unit, cuts: usize) -> MadeCut {
        let whole = self.made(depth, unit, cuts);
        if whole.depth <= from {
            return MadeCut { depth: Length::ZERO, mass: Some(Mass::ZERO), taken: Some(Unbalance::ZERO), ..whole };
        }
        let before = self.method.and_then(|method| self.geometry.piece(method, from));
        let mass = whole.mass.zip(before).map(|(mass, before)| mass - before.mass);
        let taken = whole.taken.zip(before).map(|(taken, before)| taken - before.unbalance);
        MadeCut { mass, taken, ..whole }
    }

    /// One of so many cuts that are made together, of which this one has to be so deep.
    pub fn made(&self, depth: Length, unit: Unit, cuts: usize) -> MadeCut {
        let taken = |depth: Length| Some(self.geometry.piece(self.method?, depth)?.unbalance);
        let stepped = |step: f64| {
            let steps = (unit.from_base(depth.base()) / step).round();
            Length::from_base(unit.to_base(steps * step))
        };
        let left = |made: Length| Some(taken(depth)? - taken(made)?);
        let may_leave = self.tolerance.get().map(|tolerance| tolerance * (MAY_COST / cuts.max(1) as f64));
        let is_fine = |step: &f64| {
            let cost = left(stepped(*step)).map(|left| Unbalance::max(left, Unbalance::ZERO - left));
            cost.zip(may_leave).is_none_or(|(cost, may_leave)| cost < may_leave)
        };
        let steps: &[f64] = match unit {
            unit if unit == Unit::MILLIMETRE && unit.from_base(depth.base()) < 1.0 => &MILLIMETRES[1..],
            unit if unit == Unit::MILLIMETRE => &MILLIMETRES,
            unit if unit == Unit::INCH => &INCHES,
            _ => &[],
        };
        let step = steps.iter().copied().find(is_fine).or(steps.last().copied());
        let made = step.map_or(depth, stepped);
        MadeCut {
            depth: made,
            step,
            mass: self.method.and_then(|method| self.geometry.mass_at_depth(method, made)),
            taken: taken(made),
        }
    }
}
