//! The check mass: what it must read before a kept sheet is used again.

use super::calibrate::{Bench, CalibrateResults};
use super::entry::{Recorder, Spot};
use crate::book::catalogue as result;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::mechanics::calibration;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Amount, Dimension, Indication, Length, Mass, Ratio, Unit};

pub(super) fn of<'b>(recorder: &mut Recorder<'b>, bench: &Bench<'_, 'b>, calibrations: &[CalibrateResults<'b>]) {
    let Some(block) = bench.setup.inner(Kind::CheckMass).next() else { return };
    let Some(FieldValue::Name(plane)) = block.field("plane").map(|field| &field.field.value) else { return };
    let Some(rotor) = bench.rotor.and_then(|rotor| rotor.plane(&plane.text)) else { return };
    let spot = Spot::beside(block, bench.id, block.field("radius").or_else(|| block.field("diameter")));
    let mass: Val<Mass> = recorder.facts.quantity(block, "mass");
    let radius: Val<Length> = recorder.facts.radius(block, "radius", "diameter");
    let spec = &result::CHECK_READING;
    let readout = bench.readout();
    let reading: Val<Indication> = match readout.and_then(|readout| readout.shows) {
        None | Some("div") => {
            let tolerance = calibrations.iter().find(|one| one.plane == &*plane.text).map(|one| &one.tolerance);
            let tolerance = tolerance.unwrap_or(&rotor.tolerance);
            let inputs = (&mass, &radius, tolerance, bench.reading_at_tolerance);
            let f = |(m, r, tolerance, at): (Mass, Length, _, _)| calibration::reading_to_set(m * r, tolerance, at);
            recorder.work_out(&spot, spec, Unit::DIVISION, &by::READING_TO_SET, inputs, f)
        }
        Some("unbalance") => {
            let unit = readout.map_or(Unit::GRAM_MILLIMETRE, |readout| readout.unit);
            recorder.work_out(
                &spot,
                spec,
                unit,
                &by::READING_AS_UNBALANCE,
                (&mass, &radius),
                |(m, r): (Mass, Length)| Ok(Indication::from_raw((m * r).raw())),
            )
        }
        Some("mass at set radius") => {
            let unit = readout.map_or(Unit::GRAM, |readout| readout.unit);
            let inputs = (&mass, &radius, &rotor.radius);
            recorder.work_out(&spot, spec, unit, &by::READING_AS_MASS, inputs, |(m, r, at): (Mass, Length, _)| {
                calibration::indicated_mass(m * r, at).map(|mass| Indication::from_raw(mass.raw()))
            })
        }
        Some(_) => return,
    };
    let Some(field) = block.field("within") else { return };
    let within: Val<Ratio> = recorder.facts.quantity(block, "within");
    let share = within.unit.dimension() == Dimension::NONE;
    let spot = Spot::beside(block, bench.id, Some(field));
    for (spec, sign) in [(&result::CHECK_LOWEST, -1.0), (&result::CHECK_HIGHEST, 1.0)] {
        recorder.work_out(&spot, spec, reading.unit, &by::CHECK_BAND, (&reading, &within), |(reading, within)| {
            let band = if share { reading.value() * within.value() } else { within.value() };
            Ok(Indication::new(reading.value() + sign * band))
        });
    }
}
