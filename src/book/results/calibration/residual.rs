//! What the rotor's own unbalance does to a calibration, and the least that the machine can show.

use super::one::One;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::calibration::{self as physics, TakenAs};
use crate::mechanics::machine as of_machine;
use crate::units::{Dimension, Indication, Mass, Ratio, Unbalance, Unit};
use crate::vocabulary::{ResultSpec, calibrate, machine, result, setup};

impl<'b> One<'_, 'b> {
    /// The rotor's own unbalance at calibration, stated as an unbalance or as what it read.
    pub(in crate::book::results) fn residual(
        &self,
        recorder: &Recorder<'b>,
        one_division: &Val<Unbalance>,
    ) -> Val<Unbalance> {
        let Some(block) = self.block else {
            return self.absent(recorder, calibrate::RESIDUAL_AT_CALIBRATION.any(), Unit::GRAM_MILLIMETRE);
        };
        let stated: Val<Unbalance> = recorder.facts.quantity_in(block, calibrate::RESIDUAL_AT_CALIBRATION);
        if stated.is_known() && stated.unit.dimension() == Dimension::DIVISION {
            let reading: Val<Indication> = recorder.facts.quantity_in(block, calibrate::RESIDUAL_AT_CALIBRATION);
            let spec = &result::RESIDUAL_ERROR;
            let unit = one_division.unit;
            let inputs = (&reading, one_division);
            let f = |(n, one): (Indication, Unbalance)| Ok(one * n.value());
            let residual = recorder.on_the_way(&self.spot, spec, unit, &by::PRE_BALANCE, inputs, f);
            return Val { origin: reading.origin, ..residual };
        }
        stated
    }

    pub(in crate::book::results) fn residual_error(
        &self,
        recorder: &mut Recorder<'b>,
        residual: &Val<Unbalance>,
        unbalance: &Val<Unbalance>,
    ) -> Option<Val<Ratio>> {
        let block = self.block?;
        let spot = self.beside(&[calibrate::RESIDUAL_AT_CALIBRATION.any(), calibrate::TAKEN_AS.any()]);
        let how = match block.choice(calibrate::TAKEN_AS) {
            Some(calibrate::TakenAs::OnePosition) => Ok((TakenAs::OnePosition, &by::ERROR_ONE_POSITION)),
            Some(calibrate::TakenAs::MeanOfTwoOppositePositions) => {
                Ok((TakenAs::MeanOfTwoOppositePositions, &by::ERROR_MEAN_OF_TWO))
            }
            Some(calibrate::TakenAs::VectorDifference) => {
                Err("the difference of two vectors does not contain the residual".into())
            }
            None => Err(WhyNot::LeftOut(calibrate::TAKEN_AS.any())),
        };
        let how = how.and_then(|how| match residual.is_left_out() {
            true => Err(WhyNot::LeftOut(calibrate::RESIDUAL_AT_CALIBRATION.any())),
            false => Ok(how),
        });
        let (how, formula) = match how {
            Ok(how) => how,
            Err(why) => {
                recorder.not_asked(&spot, &[&result::RESIDUAL_ERROR], why);
                return None;
            }
        };
        let inputs = (residual, unbalance);
        Some(recorder.work_out(
            &spot,
            &result::RESIDUAL_ERROR,
            Unit::PERCENT,
            formula,
            inputs,
            |(residual, calibration)| physics::error_from_residual(how, residual, calibration),
        ))
    }

    /// The smallest residual of the machine in one plane, and how often it goes into the tolerance.
    pub(in crate::book::results) fn over_residual(
        &self,
        recorder: &mut Recorder<'b>,
        tolerance: &Val<Unbalance>,
    ) -> (Option<Val<Unbalance>>, Option<Val<Ratio>>) {
        const RESULTS: [&ResultSpec; 3] =
            [&result::TOLERANCE_OVER_RESIDUAL, &result::SMALLEST_RESIDUAL, &result::TRAVERSE_TEST_MASS];
        let Some(machine) = self.bench.machine else {
            recorder.not_asked(&self.spot, &RESULTS, recorder.no_such_item(self.bench.setup, setup::MACHINE));
            return (None, None);
        };
        let spec = &result::TOLERANCE_OVER_RESIDUAL;
        let per_plane: Val<Unbalance> =
            recorder.facts.quantity(&machine.block, machine::MINIMUM_ACHIEVABLE_RESIDUAL_UNBALANCE);
        if per_plane.is_known() {
            let inputs = (tolerance, &per_plane);
            let f = |(tolerance, residual)| of_machine::tolerance_over_minimum(tolerance, residual);
            let over = recorder.work_out(&self.spot, spec, Unit::ONE, &by::OVER_RESIDUAL, inputs, f);
            return (Some(per_plane), Some(over));
        }
        let specific = recorder.facts.quantity(&machine.block, machine::MINIMUM_ACHIEVABLE_RESIDUAL_SPECIFIC_UNBALANCE);
        if !specific.is_known() {
            let why = "the machine does not state the smallest residual it reaches";
            recorder.not_asked(&self.spot, &RESULTS, why);
            return (None, None);
        }
        let one_plane = self.bench.rotor.is_some_and(RotorResults::is_balanced_in_one_plane);
        let (residual_of, formula, over_it): (fn(_, _) -> _, _, _) = match one_plane {
            true => (
                of_machine::minimum_achievable_in_one_plane,
                &by::WHOLE_SPECIFIC_RESIDUAL,
                &by::OVER_WHOLE_SPECIFIC_RESIDUAL,
            ),
            false => (of_machine::minimum_achievable_per_plane, &by::SPECIFIC_RESIDUAL, &by::OVER_SPECIFIC_RESIDUAL),
        };
        let unit = recorder.facts.shop.unbalance_unit;
        let inputs = (&specific, self.bench.mass_on_machine);
        let residual = recorder.on_the_way(&self.spot, spec, unit, formula, inputs, |(e, mass)| residual_of(e, mass));
        let inputs = (tolerance, &specific, self.bench.mass_on_machine);
        let f = |(tolerance, e, mass)| of_machine::tolerance_over_minimum(tolerance, residual_of(e, mass)?);
        let over = recorder.work_out(&self.spot, spec, Unit::ONE, over_it, inputs, f);
        (Some(residual), Some(over))
    }

    /// The mass for a traverse of the plane: ten times the smallest residual that the machine reaches.
    pub(in crate::book::results) fn test_mass(&self, recorder: &mut Recorder<'b>, residual: &Val<Unbalance>) {
        let radius = match (self.plane, &residual.known) {
            (None, _) => Err("the rotor has no such plane".into()),
            (_, Err(missing)) => Err(WhyNot::Lacks(missing.clone())),
            (Some(plane), Ok(_)) => match &plane.radius.known {
                Ok(_) => Ok(&plane.radius),
                Err(missing) => Err(WhyNot::NoRadius(missing.clone())),
            },
        };
        let radius = match radius {
            Ok(radius) => radius,
            Err(why) => {
                let specs = [&result::SMALLEST_RESIDUAL, &result::TRAVERSE_TEST_MASS];
                return recorder.not_asked(&self.spot, &specs, why);
            }
        };
        recorder.keep(&self.spot, &result::SMALLEST_RESIDUAL, residual);
        let unit = self.block.map_or(Unit::GRAM, |block| {
            let mass: Val<Mass> = recorder.facts.quantity(block, calibrate::MASS);
            if mass.is_known() { mass.unit } else { Unit::GRAM }
        });
        let (spec, inputs) = (&result::TRAVERSE_TEST_MASS, (residual, radius));
        recorder.work_out(&self.spot, spec, unit, &by::TEST_MASS, inputs, |(residual, radius)| {
            of_machine::traverse_test_mass(residual, radius).map(|(_, mass)| mass)
        });
    }
}
