//! A sheet with its calibrations and trials: what its readings stand for, before it is known whether it is proven.

use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::files::ItemId;
use crate::book::origin::{Origin, Reason};
use crate::book::results::bench::angles::Angles;
use crate::book::results::bench::machine::MachineFacts;
use crate::book::results::bench::mode::{Gain, Mode, Worth};
use crate::book::results::bench::readings::{indication, step_of};
use crate::book::results::calibration::calibrate::CalibrateResults;
use crate::book::results::plane::PlaneResults;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::trials::TrialResults;
use crate::sheet::FieldValue;
use crate::units::{Amount, Indication, Unit};
use crate::vocabulary::machine::Supports;
use crate::vocabulary::{machine, setup};

/// What of a setup its readings are judged by.
#[derive(Clone, Copy)]
pub(in crate::book::results) struct Sheet<'a, 'b> {
    pub id: ItemId,
    pub block: &'a EffectiveBlock<'b>,
    pub rotor: Option<&'a RotorResults<'b>>,
    pub machine: Option<&'a MachineFacts<'b>>,
    /// Channel and plane, in the order in which they are written.
    pub channels: &'a [(&'b str, &'b str)],
    /// One a plane that is read or calibrated.
    pub calibrations: &'a [CalibrateResults<'b>],
    pub trials: Option<&'a TrialResults<'b>>,
}

impl<'a, 'b> Sheet<'a, 'b> {
    pub fn calibration(&self, plane: &str) -> Option<&'a CalibrateResults<'b>> {
        self.calibrations.iter().find(|calibration| calibration.plane == plane)
    }

    /// Whether a calibration mass, known in amount and radius, was set up in the plane.
    pub fn is_calibrated(&self, plane: &str) -> bool {
        let calibration = self.calibration(plane).filter(|calibration| calibration.block.is_some());
        calibration.is_some_and(|calibration| calibration.unbalance.is_known())
    }

    /// What the angles of its readings mean.
    pub fn angles(&self) -> Angles<'a, 'b> {
        Angles { setup: self.block, rotor: self.rotor.map(|rotor| &rotor.block), machine: self.machine }
    }

    /// How its readings show unbalances without any trial; `None` where they do not.
    pub fn mode(&self) -> Option<Mode> {
        self.machine?.readout.as_ref()?.mode()
    }

    pub fn plane(&self, name: &str) -> Option<&'a PlaneResults<'b>> {
        self.rotor.and_then(|rotor| rotor.plane(name))
    }

    pub fn is_on_hard_supports(&self) -> bool {
        self.machine.is_some_and(|machine| machine.block.choice(machine::SUPPORTS) == Some(Supports::Hard))
            && self.block.field(setup::SUPPORTS_AT).is_some()
    }

    /// What the calibration mass of a plane should read on a readout in unbalance or mass, and what was set with it.
    fn gain(&self, plane: &str) -> Option<Box<Gain>> {
        let calibration = self.calibration(plane).filter(|one| one.block.is_some())?;
        let set = calibration.set_to.as_ref()?.reading.clone();
        let is_above_zero = |reading: &Val<Indication>| reading.get().is_some_and(|reading| reading.value() > 0.0);
        let should = calibration.should_read.clone();
        (is_above_zero(&should) && is_above_zero(&set)).then(|| Box::new(Gain { should, set }))
    }

    /// The step in which a reading of the sheet was set: of its scale, of the readout, or of its last digit, the largest.
    pub fn step_of(&self, field: EffectiveField<'_>) -> Option<Indication> {
        let FieldValue::Reading(reading) = &field.field.value else { return None };
        let readout = self.machine?.readout.as_ref();
        let (shown, _) = indication(reading, readout)?;
        let one = shown.value() / reading.amount.base;
        let step = step_of(readout, reading).max(2.0 * reading.amount.half_step);
        Some(Indication::new(step * one)).filter(|step| step.value().is_finite())
    }

    /// The finest step in which the readout can show a reading.
    pub fn finest_step(&self, reading: Indication) -> Option<Indication> {
        self.machine?.readout.as_ref()?.step_for(reading)
    }

    /// What one unit of the readout means in a plane.
    pub fn worth(&self, plane: &str, unit: Unit) -> Worth {
        match self.mode() {
            Some(Mode::Unbalance) => Worth::Itself(self.gain(plane)),
            Some(Mode::Mass) => {
                let radius = self.plane(plane).map(|plane| plane.radius.clone());
                Worth::AtRadius(radius.unwrap_or_else(|| self.no_plane(unit)), self.gain(plane))
            }
            Some(Mode::Divisions) | None => {
                let calibration = self.calibration(plane);
                Worth::Of(calibration.map_or_else(|| self.no_plane(unit), |one| one.one_division.clone()))
            }
        }
    }

    pub fn no_plane<T: Amount>(&self, unit: Unit) -> Val<T> {
        let field = self.block.field(setup::ROTOR);
        let place = field.map(|field| (field.item.file, field.field.value_span));
        let origin = Origin { item: self.id, path: self.block.path.clone(), name: setup::ROTOR.words().into(), place };
        Val::missing(origin, Reason::NoSuchItem, unit)
    }
}
