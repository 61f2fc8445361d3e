//! The check mass: what it must read before a kept sheet is used again.

use super::calibrate::CalibrateResults;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::bench::Bench;
use crate::book::results::bench::mode::SHOWS_NO_UNBALANCE;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Dimension, Indication, Length, Mass, Ratio, Unit};
use crate::vocabulary::{check_mass, result, setup};

/// What is computed of the check mass.
pub struct CheckMassResults<'b> {
    pub block: EffectiveBlock<'b>,
    pub plane: &'b str,
    /// As worked out from mass and radius; missing where a readout shows neither unbalance nor divisions.
    pub reading: Val<Indication>,
    /// As stated; `None` when it is left out.
    pub stated_reading: Option<Val<Indication>>,
    /// As a share of the reading or as an amount on the readout; `None` when it is left out.
    pub within: Option<Val<Ratio>>,
}

impl CheckMassResults<'_> {
    /// The accepted band as an amount on the readout, to either side of the reading.
    pub fn band(&self) -> Option<Indication> {
        let within = self.within.as_ref()?;
        Some(Indication::new(band(self.reading.get()?, within.get()?, within.unit)))
    }
}

fn band(reading: Indication, within: Ratio, unit: Unit) -> f64 {
    if unit.dimension() == Dimension::NONE { reading.value() * within.value() } else { within.value() }
}

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    bench: &Bench<'_, 'b>,
    calibrations: &[CalibrateResults<'b>],
) -> Option<CheckMassResults<'b>> {
    let block = bench.setup.inner(Kind::CheckMass).next()?;
    let named = match block.field(check_mass::PLANE).map(|field| &field.field.value) {
        Some(FieldValue::Name(plane)) => Ok(plane),
        _ => Err(WhyNot::LeftOut(check_mass::PLANE.any())),
    };
    let found = named.and_then(|plane| {
        let rotor = bench.rotor.ok_or_else(|| recorder.no_such_item(bench.setup, setup::ROTOR))?;
        Ok((plane, rotor.plane(&plane.text).ok_or("the rotor has no such plane")?))
    });
    let (plane, rotor) = match found {
        Ok(found) => found,
        Err(why) => {
            recorder.none_of(block, bench.id, why);
            return None;
        }
    };
    let spot =
        Spot::beside(block, bench.id, block.field(check_mass::RADIUS).or_else(|| block.field(check_mass::DIAMETER)));
    let mass: Val<Mass> = recorder.facts.quantity(block, check_mass::MASS);
    let radius: Val<Length> = recorder.facts.radius(block, check_mass::RADIUS, check_mass::DIAMETER);
    let spec = &result::CHECK_READING;
    let tolerance = calibrations.iter().find(|one| one.plane == &*plane.text).map(|one| &one.tolerance);
    let reading: Val<Indication> = match bench.reads(tolerance.unwrap_or(&rotor.tolerance), &rotor.radius) {
        Ok(reads) => {
            let reading = reads.reading_of(recorder, &spot, spec, (&mass, &radius));
            recorder.keep(&spot, spec, &reading);
            reading
        }
        Err(_) => {
            recorder.not_asked(&spot, &[spec], SHOWS_NO_UNBALANCE);
            Val::missing(recorder.facts.origin(block, check_mass::READING, None), Reason::NotGiven, Unit::DIVISION)
        }
    };
    let stated_reading = super::reading::stated(recorder, block, bench.readout());
    let results = |within| CheckMassResults {
        block: block.clone(),
        plane: &plane.text,
        reading: reading.clone(),
        stated_reading,
        within,
    };
    let Some(field) = block.field(check_mass::WITHIN) else {
        let specs = [&result::CHECK_LOWEST, &result::CHECK_HIGHEST];
        recorder.not_asked(&spot, &specs, WhyNot::LeftOut(check_mass::WITHIN.any()));
        return Some(results(None));
    };
    let within: Val<Ratio> = recorder.facts.quantity_in(block, check_mass::WITHIN);
    let spot = Spot::beside(block, bench.id, Some(field));
    let unit = within.unit;
    for (spec, sign) in [(&result::CHECK_LOWEST, -1.0), (&result::CHECK_HIGHEST, 1.0)] {
        recorder.work_out(&spot, spec, reading.unit, &by::CHECK_BAND, (&reading, &within), |(reading, within)| {
            Ok(Indication::new(reading.value() + sign * band(reading, within, unit)))
        });
    }
    Some(results(Some(within)))
}
