//! The reading that a calibration mass gives, and the reading that a sheet demands.

use super::left_out::LeftOut;
use super::one::One;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::origin::Reason;
use crate::book::results::bench::machine::ReadoutFacts;
use crate::book::results::bench::mode::Reads;
use crate::book::results::bench::readings::indication;
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::not_computed::WhyNot;
use crate::sheet::FieldValue;
use crate::units::{Contributions, Indication, Length, Mass, Part, Ratio, Source, Unit};
use crate::vocabulary::readout::Shown;
use crate::vocabulary::{Choice, calibrate, result};

impl<'b> One<'_, 'b> {
    /// The reading to set, in the readout's own unit, with the error from the residual in its uncertainty.
    ///
    /// Its ± is how well the calibration itself is known: mass, radius and residual. How finely a dial can be set to that
    /// reading is no part of it: resolution belongs to the indication when it is read (GUM F.2.2.1, from memory), and
    /// enters with each reading that is written down, not with the value that is aimed at.
    pub(in crate::book::results) fn reading(
        &self,
        recorder: &mut Recorder<'b>,
        mass: &Val<Mass>,
        radius: &Val<Length>,
        reads: Result<&Reads<'_>, Shown>,
        residual_error: Option<&Val<Ratio>>,
    ) -> Val<Indication> {
        let spec = &result::READING;
        let spot = self.beside(&[calibrate::RADIUS.any(), calibrate::DIAMETER.any(), calibrate::MASS.any()]);
        let Some(block) = self.block else { return self.absent(recorder, calibrate::READING.any(), Unit::DIVISION) };
        match LeftOut::of(block) {
            LeftOut::Reading | LeftOut::Nothing => {}
            LeftOut::Mass | LeftOut::Radius | LeftOut::MassAndRadius => {
                recorder.not_asked(&spot, &[spec], WhyNot::Given(calibrate::READING.any()));
                return self.absent(recorder, calibrate::READING.any(), Unit::DIVISION);
            }
        }
        let mut value = match reads {
            Ok(reads) => reads.reading_of(recorder, &spot, spec, (mass, radius)),
            Err(shown) => {
                let why = format!(
                    "the readout shows {}: what it reads for an unbalance is found by trial runs",
                    shown.words()
                );
                return recorder.impossible(&spot, spec, why);
            }
        };
        if let (Some(error), Ok(reading)) = (residual_error.and_then(Val::get), &value.known) {
            // The error is bounded and its angle unknown: rectangular (GUM 4.3.7, from memory).
            let standard = error.value() * reading.value() / 3f64.sqrt();
            let (file, span) = self.spot.place;
            let own = Source::Written { at: file.place(span), nth: 0, part: Part::Residual };
            value.contributions.add(&Contributions::of(own, standard), 1.0);
        }
        recorder.keep(&spot, spec, &value);
        Val { origin: crate::book::results::values::entry::origin(&spot, spec), ..value }
    }

    /// The scale on which the reading stands highest without leaving it.
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
        let best = readout
            .scales
            .iter()
            .filter_map(|scale| Some((scale, scale.end()?, scale.one_mark?)))
            .filter(|(_, end, _)| reading.value() <= *end)
            .min_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((scale, _, one_mark)) = best {
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
