//! What one division of the readout is worth: unbalance, mass, depth, pieces; and the table for the bench.

use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::bench::Bench;
use crate::book::results::bench::machine::ReadoutFacts;
use crate::book::results::bench::mode::Mode;
use crate::book::results::bench::readings::indication;
use crate::book::results::plane::PlaneResults;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::calibration as physics;
use crate::mechanics::correction::sliding::spread_for;
use crate::sheet::FieldValue;
use crate::units::{Indication, Length, Mass, Ratio, Unbalance, Unit};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{ResultSpec, plane, result, setup};

pub(in crate::book::results) const NO_DIVISIONS: &str = "the machine's readout does not show divisions";

/// What only a readout in divisions has.
const OF_DIVISIONS: [&ResultSpec; 6] = [
    &result::ONE_DIVISION_AS_MASS,
    &result::ONE_DIVISION_AS_DEPTH,
    &result::ONE_DIVISION_AS_PIECES,
    &result::ONE_DIVISION_AS_SPREAD,
    &result::FULL_SCALE_IS,
    &result::PRE_BALANCE_UNBALANCE,
];

/// All that needs plane and readout.
pub(in crate::book::results) const RESULTS: [&ResultSpec; 8] = [
    OF_DIVISIONS[0],
    OF_DIVISIONS[1],
    OF_DIVISIONS[2],
    OF_DIVISIONS[3],
    OF_DIVISIONS[4],
    OF_DIVISIONS[5],
    &result::READING_AT_TOLERANCE,
    &result::DIVISION_TABLE,
];

pub(in crate::book::results) struct Worth<'a, 'b> {
    pub plane: &'a PlaneResults<'b>,
    pub readout: &'a ReadoutFacts<'b>,
    pub spot: &'a Spot,
    pub one_division: &'a Val<Unbalance>,
    pub tolerance: &'a Val<Unbalance>,
    /// Somebody has said what was set, so that the tolerance may read otherwise than is demanded of it.
    pub is_set: bool,
}

impl<'b> Worth<'_, 'b> {
    pub fn results(&self, recorder: &mut Recorder<'b>, bench: &Bench<'_, 'b>) {
        if self.readout.is_in_divisions() {
            self.one(recorder);
            self.ends(recorder, bench);
        } else {
            recorder.not_asked(self.spot, &OF_DIVISIONS, NO_DIVISIONS);
        }
        self.limit(recorder);
        if !recorder.facts.only_judged {
            self.table(recorder);
        }
    }

    /// What is read at the tolerance. In divisions that is a fact of the sheet; a readout that shows displacement or
    /// velocity has no reading of its own for an unbalance.
    fn limit(&self, recorder: &mut Recorder<'b>) {
        let (spot, spec, unit) = (self.spot, &result::READING_AT_TOLERANCE, self.readout.unit);
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
            Some(Mode::Divisions) if self.is_set => {
                let f = |(limit, one): (Unbalance, Unbalance)| Ok(Indication::new((limit / one).value()));
                recorder.work_out(spot, spec, unit, &by::LIMIT_IN_DIVISIONS, (self.tolerance, self.one_division), f);
            }
            Some(Mode::Divisions) => {
                let why = "the readout shows divisions: `tolerance reads` says what is read at the tolerance";
                recorder.not_asked(spot, &[spec], why);
            }
            None => {
                let why = "the machine's readout shows neither unbalance nor mass at a set radius";
                recorder.not_asked(spot, &[spec], why);
            }
        }
    }

    fn one(&self, recorder: &mut Recorder<'b>) {
        let one = self.one_division;
        let radius = &self.plane.radius;
        let (spot, spec) = (self.spot, &result::ONE_DIVISION_AS_MASS);
        let unit = mass_unit(recorder);
        let cut = one.is_known() && self.reachable(one);
        let by_cut = cut && self.plane.geometry.mass_for(recorder, spot, spec, unit, self.plane.method, one).is_some();
        match &radius.known {
            _ if by_cut => {}
            Err(missing) if radius.is_left_out() => {
                recorder.not_asked(spot, &[spec], WhyNot::NoRadius(missing.clone()));
            }
            _ => {
                let f = |(u, r): (Unbalance, Length)| Ok(u / r);
                recorder.work_out(spot, spec, unit, &by::MASS_AT_PLANE, (one, radius), f);
            }
        }
        let each = &self.plane.geometry.mass_each;
        let spec = &result::ONE_DIVISION_AS_PIECES;
        if let Err(missing) = &each.known {
            recorder.not_asked(spot, &[spec], WhyNot::Lacks(missing.clone()));
        } else {
            let inputs = (one, each, radius);
            recorder.work_out(spot, spec, Unit::ONE, &by::PIECES, inputs, |(u, m, r): (Unbalance, Mass, Length)| {
                Ok(u / (m * r))
            });
        }
        self.spread(recorder);
        let spec = &result::ONE_DIVISION_AS_DEPTH;
        match &one.known {
            _ if cut => drop(self.plane.geometry.depth_for(recorder, spot, spec, self.plane.method, one)),
            Err(missing) => recorder.not_asked(spot, &[spec], WhyNot::Lacks(missing.clone())),
            Ok(_) => recorder.not_asked(spot, &[spec], self.plane.why_no_depth()),
        }
    }

    /// How far apart two sliding weights stand for one division; silent where the pair does not make that much.
    fn spread(&self, recorder: &mut Recorder<'b>) {
        let (each, radius) = (&self.plane.geometry.mass_each, &self.plane.radius);
        let weights: Val<Ratio> = recorder.facts.number(&self.plane.block, plane::WEIGHTS);
        let is_a_pair = weights.is_left_out() || weights.get() == Some(Ratio::new(2.0));
        let spec = &result::ONE_DIVISION_AS_SPREAD;
        if self.plane.method != Some(Method::SlidingWeights) || !is_a_pair {
            return recorder.not_asked(self.spot, &[spec], "the plane has no pair of sliding weights");
        }
        let known = || Ok((self.one_division.known.clone()?, each.known.clone()?, radius.known.clone()?));
        let why = match known() {
            Ok((one, each, radius)) => match spread_for(one, each, radius) {
                Ok(_) => None,
                Err(_) => Some("one division is more than the pair makes".into()),
            },
            Err(missing) => Some(WhyNot::Lacks(missing)),
        };
        if let Some(why) = why {
            return recorder.not_asked(self.spot, &[spec], why);
        }
        let inputs = (self.one_division, each, radius);
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

    fn ends(&self, recorder: &mut Recorder<'b>, bench: &Bench<'_, 'b>) {
        let unit = self.one_division.unit;
        let times = |(reading, one): (Indication, Unbalance)| Ok(one * reading.value());
        let spec = &result::FULL_SCALE_IS;
        if let Err(missing) = &self.readout.full_scale.known {
            recorder.not_asked(self.spot, &[spec], WhyNot::Lacks(missing.clone()));
        } else {
            let inputs = (&self.readout.full_scale, self.one_division);
            recorder.work_out(self.spot, spec, unit, &by::END_OF_SCALE, inputs, times);
        }
        let spec = &result::PRE_BALANCE_UNBALANCE;
        let Some(field) = bench.setup.field(setup::PRE_BALANCE_TO) else {
            return recorder.not_asked(self.spot, &[spec], WhyNot::LeftOut(setup::PRE_BALANCE_TO.any()));
        };
        let read = match &field.field.value {
            FieldValue::Reading(reading) => indication(reading, Some(self.readout)),
            _ => None,
        };
        let Some((value, of)) = read else {
            let why = "`pre-balance to` is not a reading of this readout";
            return recorder.not_asked(self.spot, &[spec], why);
        };
        let reading = Val::exact(value, recorder.facts.origin(bench.setup, setup::PRE_BALANCE_TO, Some(field)), of);
        let inputs = (&reading, self.one_division);
        recorder.work_out(self.spot, spec, unit, &by::PRE_BALANCE, inputs, times);
    }
}

/// The unit in which the shop weighs small masses: that of the setup's set, else grams.
pub(super) fn mass_unit(recorder: &Recorder<'_>) -> Unit {
    let stated = recorder.facts.shop.shown(Unit::GRAM);
    if stated != Unit::GRAM {
        return stated;
    }
    let of_the_set = recorder.facts.masses.and_then(|set| set.values.first()).map(|value| value.unit);
    of_the_set.filter(|unit| *unit != Unit::KILOGRAM).unwrap_or(Unit::GRAM)
}
