//! What one division of the readout is worth: unbalance, mass, depth, pieces; and the table for the bench.

use super::calibrate::Bench;
use super::machine::ReadoutFacts;
use super::mode::Mode;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::entry::{Column, Outcome, Recorder, Spot};
use crate::book::results::plane::{Method, PlaneResults};
use crate::mechanics::calibration as physics;
use crate::mechanics::correction::sliding::spread_for;
use crate::sheet::FieldValue;
use crate::units::{Amount, Indication, Length, Mass, Ratio, Unbalance, Unit};
use crate::vocabulary::{calibrate, plane, result, setup};

/// The multiples of a division that a technician's table shows.
const STEPS: [f64; 5] = [1.0, 2.0, 5.0, 10.0, 20.0];

pub(in crate::book::results) struct Worth<'a, 'b> {
    pub plane: &'a PlaneResults<'b>,
    pub readout: &'a ReadoutFacts<'b>,
    pub spot: &'a Spot,
    pub one_division: &'a Val<Unbalance>,
    pub tolerance: &'a Val<Unbalance>,
}

impl<'b> Worth<'_, 'b> {
    pub fn results(&self, recorder: &mut Recorder<'b>, bench: &Bench<'_, 'b>) {
        if self.readout.is_in_divisions() {
            self.one(recorder);
            self.ends(recorder, bench);
        }
        self.limit(recorder);
        self.table(recorder);
    }

    /// What is read at the tolerance. In divisions that is a fact of the sheet; a readout that shows displacement or
    /// velocity has no reading of its own for an unbalance.
    fn limit(&self, recorder: &mut Recorder<'b>) {
        let (spot, spec, unit) = (self.spot, &result::LIMIT_TO_READ, self.readout.unit);
        match self.readout.mode() {
            Some(Mode::Unbalance) => {
                let shown = |(limit,): (Unbalance,)| Ok(Indication::showing(limit));
                recorder.work_out(spot, spec, unit, &by::LIMIT_AS_UNBALANCE, (self.tolerance,), shown);
            }
            Some(Mode::Mass) => {
                let inputs = (self.tolerance, &self.plane.radius);
                recorder.work_out(spot, spec, unit, &by::LIMIT_AS_MASS, inputs, |(limit, radius)| {
                    physics::indicated_mass(limit, radius).map(Indication::showing)
                });
            }
            Some(Mode::Divisions) | None => {}
        }
    }

    fn one(&self, recorder: &mut Recorder<'b>) {
        let one = self.one_division;
        let radius = &self.plane.radius;
        let (spot, spec) = (self.spot, &result::ONE_DIVISION_AS_MASS);
        let unit = mass_unit(recorder);
        let cut = one.is_known() && self.reachable(one);
        let by_cut = cut && self.plane.geometry.mass_for(recorder, spot, spec, unit, self.plane.method, one).is_some();
        if !by_cut && !radius.is_left_out() {
            recorder
                .work_out(spot, spec, unit, &by::MASS_AT_PLANE, (one, radius), |(u, r): (Unbalance, Length)| Ok(u / r));
        }
        let each = &self.plane.geometry.mass_each;
        if each.is_known() {
            let inputs = (one, each, radius);
            let spec = &result::ONE_DIVISION_AS_PIECES;
            recorder.work_out(spot, spec, Unit::ONE, &by::PIECES, inputs, |(u, m, r): (Unbalance, Mass, Length)| {
                Ok(u / (m * r))
            });
        }
        self.spread(recorder);
        if cut {
            let spec = &result::ONE_DIVISION_AS_DEPTH;
            self.plane.geometry.depth_for(recorder, spot, spec, self.plane.method, one);
        }
    }

    /// How far apart two sliding weights stand for one division; silent where the pair does not make that much.
    fn spread(&self, recorder: &mut Recorder<'b>) {
        let (each, radius) = (&self.plane.geometry.mass_each, &self.plane.radius);
        let weights: Val<Ratio> = recorder.facts.number(&self.plane.block, plane::WEIGHTS);
        let is_a_pair = weights.is_left_out() || weights.get() == Some(Ratio::new(2.0));
        if self.plane.method != Some(Method::SlidingWeights) || !is_a_pair {
            return;
        }
        let in_reach = || spread_for(self.one_division.get()?, each.get()?, radius.get()?).ok();
        if in_reach().is_none() {
            return;
        }
        let inputs = (self.one_division, each, radius);
        let spec = &result::ONE_DIVISION_AS_SPREAD;
        recorder.work_out(self.spot, spec, Unit::DEGREE, &by::SPREAD, inputs, |(u, m, r)| spread_for(u, m, r));
    }

    /// Less than the drill's tip takes off has no depth of its own.
    fn reachable(&self, unbalance: &Val<Unbalance>) -> bool {
        unbalance.get().is_some_and(|unbalance| self.depth_of(unbalance).is_some())
    }

    /// The depth that takes this unbalance, if the plane allows it.
    fn depth_of(&self, unbalance: Unbalance) -> Option<Length> {
        let depth = self.plane.geometry.depth(self.plane.method?, unbalance)?;
        let most = self.plane.geometry.depth.get();
        most.is_none_or(|most| depth <= most).then_some(depth)
    }

    /// The mass of the cut of this depth, whose centre of mass lies where the cut does; else the one at the plane's radius.
    fn mass_of(&self, unbalance: Unbalance, depth: Option<Length>) -> Option<Mass> {
        let geometry = &self.plane.geometry;
        let of_cut = depth.and_then(|depth| geometry.mass_at_depth(self.plane.method?, depth));
        of_cut.or_else(|| Some(unbalance / self.plane.radius.get()?))
    }

    /// One row a multiple: what is read, what it stands for, and what to take off or put on.
    fn table(&self, recorder: &mut Recorder<'b>) {
        let Some((reading_unit, step, one)) = self.step() else { return };
        let length_unit = self.plane.geometry.length_unit();
        let rows = STEPS
            .iter()
            .map(|times| {
                let unbalance = one * *times;
                let depth = self.depth_of(unbalance);
                let mass = self.mass_of(unbalance, depth).map(Amount::raw);
                vec![Some(step.value() * times), Some(unbalance.raw()), mass, depth.map(Amount::raw)]
            })
            .collect();
        let columns = vec![
            Column { name: calibrate::READING.words(), unit: reading_unit },
            Column { name: result::RUN_UNBALANCE.name, unit: recorder.facts.shop.unbalance_unit },
            Column { name: calibrate::MASS.words(), unit: mass_unit(recorder) },
            Column { name: plane::DEPTH.words(), unit: length_unit },
        ];
        recorder.push(self.spot, &result::DIVISION_TABLE, Outcome::Table { heads: Vec::new(), columns, rows }, None);
    }

    /// The reading of the table's first row with its unbalance: one division; or, where the readout shows unbalance or
    /// mass, a round amount near the tolerance. Readings in base units of the readout.
    fn step(&self) -> Option<(Unit, Indication, Unbalance)> {
        let unit = self.readout.unit;
        let near = |shown: Indication| Indication::new(unit.to_base(round(unit.from_base(shown.value()))));
        let (reading, unbalance) = match self.readout.mode()? {
            Mode::Divisions => (Indication::new(1.0), self.one_division.get()?),
            Mode::Unbalance => {
                let reading = near(Indication::showing(self.tolerance.get()?));
                (reading, reading.shown())
            }
            Mode::Mass => {
                let radius = self.plane.radius.get()?;
                let reading = near(Indication::showing(self.tolerance.get()? / radius));
                (reading, reading.shown::<Mass>() * radius)
            }
        };
        Some((unit, reading, unbalance))
    }

    fn ends(&self, recorder: &mut Recorder<'b>, bench: &Bench<'_, 'b>) {
        let unit = self.one_division.unit;
        let times = |(reading, one): (Indication, Unbalance)| Ok(one * reading.value());
        if self.readout.full_scale.is_known() {
            let inputs = (&self.readout.full_scale, self.one_division);
            recorder.work_out(self.spot, &result::FULL_SCALE_IS, unit, &by::END_OF_SCALE, inputs, times);
        }
        let Some(field) = bench.setup.field(setup::PRE_BALANCE_TO) else { return };
        let FieldValue::Reading(reading) = &field.field.value else { return };
        let Some((value, of)) = super::reading::indication(reading, Some(self.readout)) else { return };
        let reading = Val::exact(value, recorder.facts.origin(bench.setup, setup::PRE_BALANCE_TO, Some(field)), of);
        let inputs = (&reading, self.one_division);
        recorder.work_out(self.spot, &result::PRE_BALANCE_UNBALANCE, unit, &by::PRE_BALANCE, inputs, times);
    }
}

/// The unit in which the shop weighs small masses: that of the setup's set, else grams.
fn mass_unit(recorder: &Recorder<'_>) -> Unit {
    let of_the_set = recorder.facts.masses.and_then(|set| set.values.first()).map(|value| value.unit);
    of_the_set.filter(|unit| *unit != Unit::KILOGRAM).unwrap_or(Unit::GRAM)
}

/// The nearest of 1, 2, 5, 10 … below.
fn round(amount: f64) -> f64 {
    let power = 10f64.powf(amount.log10().floor());
    let leading = amount / power;
    let digit = if leading >= 5.0 {
        5.0
    } else if leading >= 2.0 {
        2.0
    } else {
        1.0
    };
    digit * power
}
