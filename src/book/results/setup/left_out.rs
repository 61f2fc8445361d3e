//! Mass or radius of a calibration, whichever is left out, from the reading that is demanded.

use super::calibrate::One;
use super::machine::ReadoutFacts;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::entry::Recorder;
use crate::mechanics::calibration as physics;
use crate::units::{Amount, Indication, Length, Mass, Unbalance, Unit};
use crate::vocabulary::{calibrate, result};

/// Mass and radius as stated; the one that is left out from the reading.
pub(in crate::book::results) fn mass_and_radius<'b>(
    one: &One<'_, 'b>,
    recorder: &mut Recorder<'b>,
    reading: Option<&Val<Indication>>,
    tolerance: &Val<Unbalance>,
) -> (Val<Mass>, Val<Length>) {
    let Some(block) = one.block else {
        return (
            one.absent(recorder, calibrate::MASS.any(), Unit::GRAM),
            one.absent(recorder, calibrate::RADIUS.any(), Unit::MILLIMETRE),
        );
    };
    let mass: Val<Mass> = recorder.facts.quantity(block, calibrate::MASS);
    let radius: Val<Length> = recorder.facts.radius(block, calibrate::RADIUS, calibrate::DIAMETER);
    match reading {
        Some(reading) if mass.is_left_out() && !radius.is_left_out() => {
            let found = mass_for(one, recorder, reading, &radius, tolerance);
            (found.unwrap_or(mass), radius)
        }
        Some(reading) if radius.is_left_out() && !mass.is_left_out() => {
            let found = radius_for(one, recorder, reading, &mass, tolerance);
            (mass, found.unwrap_or(radius))
        }
        _ => (mass, radius),
    }
}

/// The calibration mass that gives a reading; `None` on a readout that shows neither divisions, unbalance nor mass.
fn mass_for<'b>(
    one: &One<'_, 'b>,
    recorder: &mut Recorder<'b>,
    reading: &Val<Indication>,
    radius: &Val<Length>,
    tolerance: &Val<Unbalance>,
) -> Option<Val<Mass>> {
    let spot = one.beside(&[calibrate::READING.any()]);
    let (spec, unit) = (&result::CALIBRATION_MASS, Unit::GRAM);
    Some(match shows(one) {
        "div" => {
            let inputs = (reading, one.bench.reading_at_tolerance, tolerance, radius);
            let f = |(reading, at, tolerance, r)| physics::mass_for_reading(reading, r, tolerance, at);
            recorder.work_out(&spot, spec, unit, &by::MASS_FOR_READING, inputs, f)
        }
        "unbalance" => {
            let f = |(reading, r): (Indication, Length)| Ok(unbalance(reading) / r);
            recorder.work_out(&spot, spec, unit, &by::MASS_FOR_UNBALANCE, (reading, radius), f)
        }
        "mass at set radius" => {
            let at = radius_keyed_in(one, recorder);
            let f = |(reading, at, r): (Indication, Length, Length)| Ok(mass(reading) * at / r);
            recorder.work_out(&spot, spec, unit, &by::MASS_FOR_SHOWN_MASS, (reading, &at, radius), f)
        }
        _ => return None,
    })
}

/// The radius at which a mass gives a reading; `None` as for [`mass_for`].
fn radius_for<'b>(
    one: &One<'_, 'b>,
    recorder: &mut Recorder<'b>,
    reading: &Val<Indication>,
    calibration_mass: &Val<Mass>,
    tolerance: &Val<Unbalance>,
) -> Option<Val<Length>> {
    let spot = one.beside(&[calibrate::READING.any()]);
    let unit = one.plane.filter(|plane| plane.radius.is_known()).map_or(Unit::MILLIMETRE, |plane| plane.radius.unit);
    let spec = &result::CALIBRATION_RADIUS;
    Some(match shows(one) {
        "div" => {
            let inputs = (reading, one.bench.reading_at_tolerance, tolerance, calibration_mass);
            let f = |(reading, at, tolerance, m)| physics::radius_for_reading(reading, m, tolerance, at);
            recorder.work_out(&spot, spec, unit, &by::RADIUS_FOR_READING, inputs, f)
        }
        "unbalance" => {
            let f = |(reading, m): (Indication, Mass)| Ok(length(unbalance(reading), m));
            recorder.work_out(&spot, spec, unit, &by::RADIUS_FOR_UNBALANCE, (reading, calibration_mass), f)
        }
        "mass at set radius" => {
            let at = radius_keyed_in(one, recorder);
            let f = |(reading, at, m): (Indication, Length, Mass)| Ok(length(mass(reading) * at, m));
            recorder.work_out(&spot, spec, unit, &by::RADIUS_FOR_SHOWN_MASS, (reading, &at, calibration_mass), f)
        }
        _ => return None,
    })
}

/// What the readout shows; divisions where the machine does not say.
fn shows(one: &One<'_, '_>) -> &'static str {
    one.bench.readout().and_then(|readout: &ReadoutFacts<'_>| readout.shows).unwrap_or("div")
}

fn radius_keyed_in<'b>(one: &One<'_, 'b>, recorder: &Recorder<'b>) -> Val<Length> {
    match one.plane {
        Some(plane) => plane.radius.clone(),
        None => one.absent(recorder, calibrate::RADIUS.any(), Unit::MILLIMETRE),
    }
}

fn unbalance(reading: Indication) -> Unbalance {
    Unbalance::from_raw(reading.value())
}

fn mass(reading: Indication) -> Mass {
    Mass::from_raw(reading.value())
}

fn length(unbalance: Unbalance, mass: Mass) -> Length {
    Length::from_raw((unbalance / mass).raw())
}
