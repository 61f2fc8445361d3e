//! A setup as it is on its machine: the facts, what follows from them before anything is calibrated, and what a
//! reading or an angle on this machine means.

pub(in crate::book::results) mod angles;
pub(in crate::book::results) mod controls;
pub(in crate::book::results) mod load;
pub(in crate::book::results) mod machine;
pub(in crate::book::results) mod mode;
pub(in crate::book::results) mod readings;
pub(in crate::book::results) mod speeds;
pub(in crate::book::results) mod supports;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::not_computed::WhyNot;
use crate::units::{Indication, Length, Mass, Ratio, Speed, Unbalance, Unit};
use crate::vocabulary::readout::Shown;
use crate::vocabulary::setup;
use angles::Angles;
use machine::{MachineFacts, ReadoutFacts};
use mode::{Mode, Reads};

/// What calibrations and trial runs of a setup need.
pub(in crate::book::results) struct Bench<'a, 'b> {
    pub id: ItemId,
    pub setup: &'a EffectiveBlock<'b>,
    pub rotor: Option<&'a RotorResults<'b>>,
    pub machine: Option<&'a MachineFacts<'b>>,
    pub speed: &'a Val<Speed>,
    /// Speeds that differ by no more are the same.
    pub same_speed_within: &'a Val<Ratio>,
    pub reading_at_tolerance: &'a Val<Indication>,
    pub mass_on_machine: &'a Val<Mass>,
    /// The proof that holds: the latest, while nothing that it rests on has changed.
    pub proof: Option<&'a EffectiveBlock<'b>>,
}

impl<'a, 'b> Bench<'a, 'b> {
    /// By how much speeds that count as the same may differ; nothing where that is not known.
    pub fn within(&self) -> Ratio {
        self.same_speed_within.get().unwrap_or(Ratio::new(0.0))
    }

    pub fn readout(&self) -> Option<&'a ReadoutFacts<'b>> {
        self.machine.and_then(|machine| machine.readout.as_ref())
    }

    /// Why there is no readout.
    pub fn no_readout(&self, recorder: &Recorder<'b>) -> WhyNot {
        match self.machine {
            Some(_) => "the machine has no `readout`".into(),
            None => recorder.no_such_item(self.setup, setup::MACHINE),
        }
    }

    /// How the readout shows a plane of this tolerance and correction radius; else what it shows instead.
    pub fn reads<'v>(&self, tolerance: &'v Val<Unbalance>, radius: &'v Val<Length>) -> Result<Reads<'v>, Shown>
    where
        'a: 'v,
    {
        let readout = self.readout();
        let unit = readout.map_or(Unit::DIVISION, |readout| readout.unit);
        let mode = match readout.and_then(|readout| readout.shows) {
            // Divisions where the machine does not say.
            None => Mode::Divisions,
            Some(shown) => Mode::of(shown).ok_or(shown)?,
        };
        Ok(Reads { mode, unit, tolerance, at_tolerance: self.reading_at_tolerance, radius })
    }

    /// What the angles of its readings mean.
    pub fn angles(&self) -> Angles<'a, 'b> {
        Angles { setup: self.setup, rotor: self.rotor.map(|rotor| &rotor.block), machine: self.machine }
    }
}
