//! A sheet with its calibrations and trials: what its readings stand for, before it is known whether it is proven.

use crate::book::derive::{Val, derive};
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::origin::{Origin, Reason};
use crate::book::results::bench::angles::{Angles, Shown};
use crate::book::results::bench::machine::MachineFacts;
use crate::book::results::bench::mode::{Mode, Worth};
use crate::book::results::calibration::calibrate::CalibrateResults;
use crate::book::results::plane::PlaneResults;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::trials::TrialResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::units::{Amount, Angle, Indication, Unit};
use crate::vocabulary::machine::Supports;
use crate::vocabulary::setup::Indicates;
use crate::vocabulary::{calibrate, machine, result, setup};

/// What of a setup its readings are judged by.
#[derive(Clone, Copy)]
pub(in crate::book::results) struct Sheet<'a, 'b> {
    pub id: ItemId,
    pub block: &'a EffectiveBlock<'b>,
    pub rotor: Option<&'a RotorResults<'b>>,
    pub machine: Option<&'a MachineFacts<'b>>,
    /// Channel and plane, in the order in which they are written.
    pub channels: &'a [(&'b str, &'b str)],
    /// What the readout shows at the tolerance of a plane.
    pub reading_at_tolerance: &'a Val<Indication>,
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

    /// The reading that the calibration of a plane was set to, with what it is known to.
    pub fn set_reading(&self, plane: &str) -> Option<Val<Indication>> {
        let calibration = self.calibration(plane)?;
        calibration.block.as_ref()?;
        let reading = calibration.reading.clone();
        (reading.is_known() && reading.get().is_some_and(|reading| reading.value() > 0.0)).then_some(reading)
    }

    /// What one unit of the readout stands for in a plane.
    pub fn worth(&self, plane: &str, unit: Unit) -> Worth {
        match self.mode() {
            Some(Mode::Unbalance) => Worth::Itself,
            Some(Mode::Mass) => {
                let radius = self.plane(plane).map(|plane| plane.radius.clone());
                Worth::AtRadius(radius.unwrap_or_else(|| self.no_plane(unit)))
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

    /// What has to be added to the angle that a channel shows, to come to the heavy spot.
    ///
    /// Where the calibration says at which angle its mass stood and what was then shown, these two decide; else what the
    /// setup indicates.
    pub fn turn(&self, recorder: &Recorder<'b>, spot: &Spot, plane: &str) -> Val<Angle> {
        let (facts, angles) = (&recorder.facts, self.angles());
        let here = || Origin { name: calibrate::ANGLE.words().into(), ..origin(spot, &result::RUN_UNBALANCE) };
        let block = self.calibration(plane).and_then(|calibration| calibration.block.as_ref());
        if let Some(block) = block
            && let (Some(_), Some(field)) = (block.field(calibrate::ANGLE), block.field(calibrate::SHOWS))
        {
            let shows = facts.origin(block, calibrate::SHOWS, Some(field));
            let mass_at: Val<Angle> = facts.quantity(block, calibrate::ANGLE);
            let shown = match Shown::of(&field.field.value) {
                Some(shown) => angles.shown(facts, field, shown, shows),
                None => Val::missing(shows, Reason::Unreadable, Unit::DEGREE),
            };
            return derive(here(), Unit::DEGREE, None, (&mass_at, &shown), |(mass, shown): (Angle, Angle)| {
                Ok(mass - shown)
            });
        }
        let pointer = angles.at_pointer(facts);
        match self.block.stated_choice(setup::INDICATES) {
            Ok(indicates) => {
                let half = match indicates {
                    Indicates::LightSpot => Angle::degrees(180.0),
                    Indicates::HeavySpot => Angle::ZERO,
                };
                derive(here(), Unit::DEGREE, None, (&pointer,), |(pointer,): (Angle,)| Ok(pointer + half))
            }
            Err(missing) => Val { known: Err(missing), ..pointer },
        }
    }
}
