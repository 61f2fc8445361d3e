//! How the rotor of a setup is run and read.

use super::SetupResults;
use crate::book::effective::EffectiveBlock;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::machine::Supports;
use crate::vocabulary::readout::AngleDisplay;
use crate::vocabulary::trial::TrialMassAfter;
use crate::vocabulary::{machine, readout, setup, trial};

impl<'b> SetupResults<'b> {
    /// Whether it has a `calibrate` block, so that its masses may still be on.
    pub fn has_calibration_masses(&self) -> bool {
        self.block.inner(Kind::Calibrate).next().is_some()
    }

    /// Whether a trial mass is said to stay on, so that it may be on in the run of a record.
    pub fn leaves_trial_masses_on(&self) -> bool {
        let left_on = |trial: &EffectiveBlock<'_>| trial.choice(trial::TRIAL_MASS) == Some(TrialMassAfter::LeftOn);
        self.block.inner(Kind::Trial).any(left_on)
    }

    /// Whether trial runs put masses on, which come off before the first run of a record.
    pub fn has_trial_masses(&self) -> bool {
        self.block.inner(Kind::Trial).any(|trial| trial.field(trial::MASS_IN).is_some())
    }

    /// What carries the rotor, where the machine says so.
    pub fn supports(&self) -> Option<Supports> {
        self.machine.as_ref()?.block.choice(machine::SUPPORTS)
    }

    /// Whether the rotor rolls to rest on a static stand, and nothing is read at a speed.
    pub fn is_on_stand(&self) -> bool {
        self.supports().is_some_and(Supports::is_stand)
    }

    /// Whether its readings have angles.
    pub fn reads_angles(&self) -> bool {
        let readout = self.machine.as_ref().and_then(|machine| machine.readout.as_ref());
        let angles = readout.and_then(|readout| readout.block.choice(readout::ANGLES));
        !matches!(angles, Some(AngleDisplay::NotShown) | None) && !self.is_by_amounts()
    }

    /// Trial runs without an angle are compared by their amounts, and so are the runs that go by them.
    fn is_by_amounts(&self) -> bool {
        let trials: Vec<&EffectiveBlock<'_>> = self.block.inner(Kind::Trial).collect();
        let has_angle = |block: &&EffectiveBlock<'_>| {
            let readings = block.named(trial::READING).map(|(_, field)| &field.field.value);
            let mut angles = readings.filter_map(|value| match value {
                FieldValue::Reading(reading) => reading.angle.as_ref(),
                _ => None,
            });
            angles.next().is_some() || block.named(trial::SHOWS).next().is_some()
        };
        let is_read = |block: &&EffectiveBlock<'_>| {
            block.named(trial::READING).any(|(_, field)| matches!(field.field.value, FieldValue::Reading(_)))
        };
        trials.iter().any(is_read) && !trials.iter().any(has_angle)
    }

    /// Whether the rotor runs on an arbor and its angles are read: its own unbalance is then half the vector sum of two
    /// runs, between which it is turned half a turn on the arbor.
    pub fn is_told_by_half_sums(&self) -> bool {
        self.arbor.is_some() && !self.is_on_stand() && self.reads_angles()
    }

    pub(in crate::book::results) fn machine_block(&self) -> Option<&EffectiveBlock<'b>> {
        self.machine.as_ref().map(|machine| &machine.block)
    }

    /// Whether technicians may use it.
    pub fn is_released(&self) -> bool {
        self.block.choice(setup::STATUS) == Some(setup::Status::Released)
    }
}
