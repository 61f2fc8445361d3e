//! The reading that a calibration mass gives, and the reading that a sheet demands.

use super::calibrate::One;
use super::machine::ReadoutFacts;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::entry::Recorder;
use crate::mechanics::calibration as physics;
use crate::sheet::{FieldValue, StatedReading};
use crate::units::{Contributions, Dimension, Indication, Length, Mass, Part, Ratio, Source, Unbalance, Unit};
use crate::vocabulary::{calibrate, result};

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
        tolerance: &Val<Unbalance>,
        residual_error: Option<&Val<Ratio>>,
    ) -> Val<Indication> {
        let spec = &result::READING;
        let spot = self.beside(&[calibrate::RADIUS.any(), calibrate::DIAMETER.any(), calibrate::MASS.any()]);
        let Some(block) = self.block else { return self.absent(recorder, calibrate::READING.any(), Unit::DIVISION) };
        if block.field(calibrate::READING).is_some()
            && (block.field(calibrate::MASS).is_none() || radius_is_left_out(block))
        {
            return self.absent(recorder, calibrate::READING.any(), Unit::DIVISION);
        }
        let readout = self.bench.readout();
        let mut value = match readout.and_then(|readout| readout.shows) {
            None | Some("div") => {
                let inputs = (mass, radius, tolerance, self.bench.reading_at_tolerance);
                let f = |(m, r, tolerance, at): (Mass, Length, _, _)| physics::reading_to_set(m * r, tolerance, at);
                recorder.on_the_way(&spot, spec, Unit::DIVISION, &by::READING_TO_SET, inputs, f)
            }
            Some("unbalance") => {
                let unit = readout.map_or(Unit::GRAM_MILLIMETRE, |readout| readout.unit);
                recorder.on_the_way(
                    &spot,
                    spec,
                    unit,
                    &by::READING_AS_UNBALANCE,
                    (mass, radius),
                    |(m, r): (Mass, Length)| Ok(Indication::new(crate::units::Amount::raw(m * r))),
                )
            }
            Some("mass at set radius") => {
                let unit = readout.map_or(Unit::GRAM, |readout| readout.unit);
                let at = match self.plane {
                    Some(plane) => plane.radius.clone(),
                    None => self.absent(recorder, calibrate::RADIUS.any(), Unit::MILLIMETRE),
                };
                recorder.on_the_way(
                    &spot,
                    spec,
                    unit,
                    &by::READING_AS_MASS,
                    (mass, radius, &at),
                    |(m, r, at): (Mass, Length, _)| {
                        physics::indicated_mass(m * r, at).map(|mass| Indication::new(crate::units::Amount::raw(mass)))
                    },
                )
            }
            Some(shows) => {
                let why = format!("the readout shows {shows}: what it reads for an unbalance is found by trial runs");
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
        Val { origin: crate::book::results::entry::origin(&spot, spec), ..value }
    }

    /// The scale on which the reading stands highest without leaving it.
    pub(in crate::book::results) fn scale(&self, recorder: &mut Recorder<'b>, reading: &Val<Indication>) {
        let Some(readout) = self.bench.readout() else { return };
        let Some(reading) = reading.get() else { return };
        let best = readout
            .scales
            .iter()
            .filter_map(|scale| Some((scale, scale.end()?, scale.one_mark?)))
            .filter(|(_, end, _)| reading.value() <= *end)
            .min_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((scale, _, one_mark)) = best {
            let marks = crate::units::quantity(reading.value() / one_mark, "mark", None);
            recorder.words(
                &self.beside(&[calibrate::READING.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()]),
                &result::SCALE,
                format!("{marks} on {}", scale.name),
            );
        }
    }
}

fn radius_is_left_out(block: &EffectiveBlock<'_>) -> bool {
    block.field(calibrate::RADIUS).is_none() && block.field(calibrate::DIAMETER).is_none()
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

/// A stated reading as the readout shows it, with the unit of the readout; marks on a scale become what they stand for.
/// `None` when the readout cannot show it: another dimension, or no such scale.
pub fn indication(reading: &StatedReading, readout: Option<&ReadoutFacts<'_>>) -> Option<(Indication, Unit)> {
    let dimension = reading.amount.dimension();
    if dimension != Dimension::MARK {
        let suits = readout.is_none_or(|readout| readout.unit.dimension() == dimension);
        return suits.then_some((Indication::new(reading.amount.base), reading.amount.unit));
    }
    let readout = readout?;
    let scale = match &reading.scale {
        Some(name) => readout.scales.iter().find(|scale| *scale.name == *name.text)?,
        None => match &readout.scales[..] {
            [only] => only,
            _ => return None,
        },
    };
    Some((Indication::new(reading.amount.base * scale.one_mark?), readout.unit))
}
