//! The reading that a calibration mass gives, and the reading that a sheet demands.

use super::left_out::LeftOut;
use super::one::One;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::bench::machine::ReadoutFacts;
use crate::book::results::bench::mode::Reads;
use crate::book::results::bench::readings::indication;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::sheet::FieldValue;
use crate::units::{Indication, Length, Mass, Unit};
use crate::vocabulary::readout::Shown;
use crate::vocabulary::{Choice, calibrate, result};

impl<'b> One<'_, 'b> {
    /// What the calibration mass should read with the tolerance of today, in the readout's own unit.
    ///
    /// Its ± is how well the calibration itself is known: mass and radius, and the residual, which is added to it. How
    /// finely a dial can be set to that reading is no part of it: resolution belongs to the indication when it is read
    /// (GUM F.2.2.1, from memory), and enters with each reading that is written down, not with the value that is aimed at.
    pub(in crate::book::results) fn should_read(
        &self,
        recorder: &Recorder<'b>,
        mass: &Val<Mass>,
        radius: &Val<Length>,
        reads: Result<&Reads<'_>, Shown>,
    ) -> Val<Indication> {
        let (spot, spec) = (self.beside_reading(), &result::READING);
        if self.why_no_reading().is_some() {
            return self.absent(recorder, calibrate::READING.any(), Unit::DIVISION);
        }
        let value = match reads {
            Ok(reads) => reads.reading_of(recorder, &spot, spec, (mass, radius)),
            Err(shown) => {
                let why = format!(
                    "the readout shows {}: what it reads for an unbalance is found by trial runs",
                    shown.words()
                );
                Val::missing(origin(&spot, spec), Reason::Impossible(why.into()), Unit::ONE)
            }
        };
        Val { origin: origin(&spot, spec), ..value }
    }

    fn beside_reading(&self) -> Spot {
        self.beside(&[calibrate::RADIUS.any(), calibrate::DIAMETER.any(), calibrate::MASS.any()])
    }

    /// Why no reading is worked out here.
    fn why_no_reading(&self) -> Option<WhyNot> {
        match LeftOut::of(self.block?) {
            LeftOut::Reading | LeftOut::Nothing => None,
            LeftOut::Mass | LeftOut::Radius | LeftOut::MassAndRadius => Some(WhyNot::Given(calibrate::READING.any())),
        }
    }

    /// The reading of the calibration: as the proof that holds says it was set, else as it should be.
    pub(in crate::book::results) fn reading(
        &self,
        recorder: &mut Recorder<'b>,
        proven: Option<Val<Indication>>,
        should_read: &Val<Indication>,
    ) -> Val<Indication> {
        let (spot, spec) = (self.beside_reading(), &result::READING);
        if self.block.is_none() {
            return should_read.clone();
        }
        if let Some(why) = self.why_no_reading() {
            recorder.not_asked(&spot, &[spec], why);
            return should_read.clone();
        }
        match proven.filter(Val::is_known) {
            Some(set) => recorder.work_out(&spot, spec, set.unit, &by::AS_SET, (&set,), |(set,)| Ok(set)),
            None => {
                recorder.keep(&spot, spec, should_read);
                should_read.clone()
            }
        }
    }

    /// The scale on which the reading is set, and its marks.
    pub(in crate::book::results) fn scale(&self, recorder: &mut Recorder<'b>, reading: &Val<Indication>) {
        let spot = self.beside(&[calibrate::READING.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()]);
        let spec = &result::SCALE;
        let Some(readout) = self.bench.readout() else {
            return recorder.not_asked(&spot, &[spec], self.bench.no_readout(recorder));
        };
        let reading = match &reading.known {
            Ok(reading) => *reading,
            Err(missing) => return recorder.not_asked(&spot, &[spec], WhyNot::Lacks(missing.clone())),
        };
        if let Some((scale, one_mark)) = readout.scale_for(reading).and_then(|scale| Some((scale, scale.one_mark?))) {
            let marks = crate::units::quantity(reading.value() / one_mark, &Unit::MARK.to_string(), None);
            recorder.words(&spot, spec, format!("{marks} on {}", scale.name));
        } else {
            recorder.not_asked(&spot, &[spec], "no scale of the readout shows the reading");
        }
    }
}

/// The reading that a block demands, as the readout shows it; `None` when the block states none.
pub(in crate::book::results) fn stated<'b>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    readout: Option<&ReadoutFacts<'b>>,
) -> Option<Val<Indication>> {
    let field = block.field(calibrate::READING)?;
    let origin = recorder.facts.origin(block, calibrate::READING, Some(field));
    let FieldValue::Reading(reading) = &field.field.value else {
        return Some(Val::missing(origin, Reason::Unreadable, Unit::DIVISION));
    };
    Some(match indication(reading, readout) {
        Some((value, unit)) => Val::exact(value, origin, unit),
        None => Val::missing(origin, Reason::Unreadable, Unit::DIVISION),
    })
}
