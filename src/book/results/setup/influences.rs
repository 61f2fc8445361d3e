//! What the channels of a setup read for an unbalance in each plane, as a record keeps it.

use super::SetupResults;
use crate::book::derive::{Val, derive};
use crate::book::readers::Facts;
use crate::book::results::measuring::Measuring;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::{Gathered, VectorVal};
use crate::mechanics::influence::coefficient_of;
use crate::units::{Amount, Angle, Indication, Sensitivity, Unbalance, Unit, Vector};
use crate::vocabulary::result;

/// What one channel reads for an unbalance in each plane.
#[derive(Clone, Debug)]
pub struct KeptInfluence<'b> {
    pub channel: &'b str,
    /// The unit of its readings.
    pub unit: Unit,
    /// Without them only amounts are known, of one plane.
    pub with_angles: bool,
    pub in_planes: Vec<(&'b str, VectorVal<Sensitivity>)>,
}

impl<'b> SetupResults<'b> {
    /// By its trial runs, else by its calibrations; empty where neither tells all of it.
    pub fn influences(&self, facts: Facts<'b>) -> Vec<KeptInfluence<'b>> {
        let recorder = Recorder::new(facts.with_masses(self.masses));
        let measuring = self.measuring();
        let Some(unit) = self.machine.as_ref().and_then(|machine| Some(machine.readout.as_ref()?.unit)) else {
            return Vec::new();
        };
        let found: Vec<KeptInfluence<'b>> = match measuring.trials() {
            Some(trials) => {
                let rows = trials.channels.iter().zip(&trials.found.coefficients);
                let kept = |(channel, row): (&&'b str, &Vec<VectorVal<Sensitivity>>)| {
                    let in_planes = trials.planes.iter().copied().zip(row.iter().cloned()).collect();
                    KeptInfluence { channel, unit, with_angles: true, in_planes }
                };
                rows.map(kept).collect()
            }
            None if measuring.resting_on().is_some() => self.amount_by_trials(&measuring, unit).into_iter().collect(),
            None => self.calibrated_influences(&recorder, &measuring, unit),
        };
        let is_known = |one: &KeptInfluence<'b>| one.in_planes.iter().all(|(_, answer)| answer.is_known());
        if found.iter().all(is_known) { found } else { Vec::new() }
    }

    /// What trial runs without angles tell of their one plane.
    fn amount_by_trials(&self, measuring: &Measuring<'_, 'b>, unit: Unit) -> Option<KeptInfluence<'b>> {
        let trials = measuring.resting_on()?;
        let plane = *trials.planes.first()?;
        let mapped = self.channels.iter().find(|(_, reads)| *reads == plane).map(|(channel, _)| *channel);
        let channel = mapped.or_else(|| trials.channels.first().copied())?;
        let worth = trials.found.worth_of_amount.as_ref()?;
        let here = worth.origin.clone();
        let amount =
            derive(here.clone(), Unit::ONE, None, (worth,), |(worth,)| coefficient_of(Indication::new(1.0), worth));
        let along = Val::exact(Angle::ZERO, here, Unit::DEGREE);
        let in_planes = vec![(plane, VectorVal::from_polar(&amount, &along))];
        Some(KeptInfluence { channel, unit, with_angles: false, in_planes })
    }

    fn calibrated_influences(
        &self,
        recorder: &Recorder<'b>,
        measuring: &Measuring<'_, 'b>,
        unit: Unit,
    ) -> Vec<KeptInfluence<'b>> {
        if !self.channels.iter().all(|(_, plane)| self.sheet().is_calibrated(plane)) {
            return Vec::new();
        }
        let one = |(channel, plane): &(&'b str, &'b str)| KeptInfluence {
            channel,
            unit,
            with_angles: true,
            in_planes: vec![(*plane, self.as_calibrated(recorder, measuring, plane))],
        };
        self.channels.iter().map(one).collect()
    }

    /// What a channel reads of its own plane: one unit for what that means, and turned back to the heavy spot.
    fn as_calibrated(
        &self,
        recorder: &Recorder<'b>,
        measuring: &Measuring<'_, 'b>,
        plane: &str,
    ) -> VectorVal<Sensitivity> {
        let spot = Spot::heading(&self.block, self.id).of_plane(plane);
        let mut gathered = Gathered::new();
        let worth = measuring.sheet.worth(plane, recorder.facts.shop.unbalance_unit).gather(&mut gathered);
        let turn: Val<Angle> = measuring.sheet.turn(recorder, &spot, plane);
        let turn = gathered.value(&turn);
        let outputs = gathered.work_out(None, |numbers| {
            let one: Unbalance = worth.unbalance(numbers, Indication::new(1.0));
            let answer = Vector { x: Sensitivity::from_raw(1.0 / one.raw()), y: Sensitivity::default() };
            Ok(crate::book::vectors::components([answer.rotate(-numbers.value::<Angle>(turn))]))
        });
        outputs.vector(0, origin(&spot, &result::INFLUENCE), Unit::ONE)
    }
}
