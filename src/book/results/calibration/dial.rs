//! What the readout was set to with a plane's calibration mass on, and what one division means since.

use super::one::One;
use crate::book::derive::Val;
use crate::book::effective::EffectiveField;
use crate::book::formulas as by;
use crate::book::origin::{Origin, Reason};
use crate::book::results::bench::readings::amount_on;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::calibration as physics;
use crate::sheet::{FieldValue, Stated, StatedReading};
use crate::units::{Contributions, Indication, Part, Ratio, Source, Unbalance, Unit};
use crate::vocabulary::{calibrate, proof, result};

/// What was set with the calibration mass on.
#[derive(Clone, Debug)]
pub struct SetTo {
    /// With what it is known to, where somebody has said it.
    pub reading: Val<Indication>,
    pub said_by: SaidBy,
}

/// Who says what was set.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SaidBy {
    /// The proof that holds, as it was read.
    Proof,
    /// The calibration states its reading.
    Calibration,
    /// Nobody: it is taken to have been what is worked out today.
    Nobody,
}

impl<'b> One<'_, 'b> {
    /// What the proof that holds says was set.
    pub(in crate::book::results) fn as_proven(&self, recorder: &Recorder<'b>) -> Option<Val<Indication>> {
        let proof = self.bench.proof?;
        let (_, field) = proof.named(proof::CALIBRATION_READING).find(|(plane, _)| *plane.text == *self.name)?;
        let name = format!("{} {}", proof::CALIBRATION_READING, self.name);
        let origin = Origin { name: name.into(), ..recorder.facts.origin_of(proof, field) };
        Some(match &field.field.value {
            FieldValue::Reading(reading) => self.read(recorder, field, reading, origin),
            _ => Val::missing(origin, Reason::Unreadable, Unit::DIVISION),
        })
    }

    /// What the calibration demands, known as well as it can be set: its digits are an order, and no reading.
    fn as_demanded(&self, recorder: &Recorder<'b>) -> Option<Val<Indication>> {
        let block = self.block?;
        let field = block.field(calibrate::READING)?;
        let FieldValue::Reading(reading) = &field.field.value else { return None };
        let amount = Stated { half_step: 0.0, ..reading.amount };
        let reading = StatedReading { amount, angle: None, scale: reading.scale.clone() };
        let origin = recorder.facts.origin(block, calibrate::READING, Some(field));
        Some(self.read(recorder, field, &reading, origin))
    }

    fn read(
        &self,
        recorder: &Recorder<'b>,
        field: EffectiveField<'b>,
        reading: &StatedReading,
        origin: Origin,
    ) -> Val<Indication> {
        amount_on(&recorder.facts, self.bench.readout(), field, (0, reading), origin)
    }

    /// What was set: as the proof says, else as the calibration states it, else as it is worked out.
    pub(in crate::book::results) fn set_to(
        &self,
        recorder: &Recorder<'b>,
        proven: Option<&Val<Indication>>,
        worked_out: &Val<Indication>,
    ) -> Option<SetTo> {
        if let Some(reading) = proven.filter(|reading| reading.is_known()) {
            return Some(SetTo { reading: reading.clone(), said_by: SaidBy::Proof });
        }
        if let Some(reading) = self.as_demanded(recorder).filter(Val::is_known) {
            return Some(SetTo { reading, said_by: SaidBy::Calibration });
        }
        let reading = Val { contributions: Contributions::none(), ..worked_out.clone() };
        worked_out.is_known().then_some(SetTo { reading, said_by: SaidBy::Nobody })
    }

    /// What one division means: the calibration unbalance by what was set. Without either, as the sheet demands it
    /// of the tolerance.
    pub(in crate::book::results) fn division(
        &self,
        recorder: &Recorder<'b>,
        unbalance: &Val<Unbalance>,
        set_to: Option<&SetTo>,
        tolerance: &Val<Unbalance>,
    ) -> Val<Unbalance> {
        let (spec, unit) = (&result::ONE_DIVISION, recorder.facts.shop.unbalance_unit);
        match set_to.filter(|_| unbalance.is_known()) {
            Some(SetTo { reading, .. }) => {
                let f = |(unbalance, reading)| physics::division_as_set(unbalance, reading);
                recorder.on_the_way(&self.spot, spec, unit, &by::DIVISION_AS_SET, (unbalance, reading), f)
            }
            None => {
                let inputs = (tolerance, self.bench.reading_at_tolerance);
                let f = |(tolerance, reading)| physics::value_of_one_division(tolerance, reading);
                recorder.on_the_way(&self.spot, spec, unit, &by::DIVISION_OF_TOLERANCE, inputs, f)
            }
        }
    }

    /// Where a value rests on what the calibration mass read, the share by which the rotor's own unbalance may have
    /// falsified that. It is bounded and its angle unknown: rectangular (GUM 4.3.7, from memory).
    pub(in crate::book::results) fn may_be_off<T: crate::units::Amount>(
        &self,
        value: &mut Val<T>,
        share: Option<&Val<Ratio>>,
    ) {
        let (Some(share), Ok(known)) = (share.and_then(Val::get), &value.known) else { return };
        let standard = share.value() * known.raw() / 3f64.sqrt();
        let (file, span) = self.spot.place;
        let own = Source::Written { at: file.place(span), nth: 0, part: Part::Residual };
        value.contributions.add(&Contributions::of(own, standard), 1.0);
    }
}
