//! Calibration of one plane: mass, radius and reading, any one from the other two; and what a division is worth.

use super::dial::{SaidBy, SetTo};
use super::division;
use super::left_out;
use super::one::One;
use super::reading;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::bench::Bench;
use crate::book::results::bench::machine::ReadoutFacts;
use crate::book::results::values::entry::{Recorder, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::calibration as physics;
use crate::mechanics::force;
use crate::syntax::Kind;
use crate::units::{Indication, Length, Mass, Ratio, Speed, Unbalance, Unit, Velocity};
use crate::vocabulary::{calibrate, result, setup};

/// What is computed of one plane's calibration.
pub struct CalibrateResults<'b> {
    pub plane: &'b str,
    /// `None` when the plane is read but the sheet has no calibration of it.
    pub block: Option<EffectiveBlock<'b>>,
    pub mass: Val<Mass>,
    pub radius: Val<Length>,
    pub tolerance: Val<Unbalance>,
    pub unbalance: Val<Unbalance>,
    pub times_tolerance: Val<Ratio>,
    pub force: Val<crate::units::Force>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub rim_speed: Val<Velocity>,
    /// As stated; `None` when it is left out.
    pub stated_reading: Option<Val<Indication>>,
    /// As the proof that holds says it was set, else as worked out; missing where mass or radius is left out.
    pub reading: Val<Indication>,
    /// As worked out from mass, radius and the tolerance of today.
    pub should_read: Val<Indication>,
    /// What was set; `None` where it is neither said nor worked out.
    pub set_to: Option<SetTo>,
    pub residual: Val<Unbalance>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub residual_error: Option<Val<Ratio>>,
    pub suggested_mass: Option<Val<Mass>>,
    pub one_division: Val<Unbalance>,
    /// The least residual unbalance that the machine reaches in a plane; `None` when it does not say.
    pub smallest_residual: Option<Val<Unbalance>>,
    /// The tolerance over that.
    pub over_residual: Option<Val<Ratio>>,
}

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    bench: &Bench<'_, 'b>,
    channels: &[(&'b str, &'b str)],
) -> Vec<CalibrateResults<'b>> {
    let mut planes: Vec<&'b str> = channels.iter().map(|(_, plane)| *plane).collect();
    for block in bench.setup.inner(Kind::Calibrate) {
        if !planes.contains(&block.name_text()) {
            planes.push(block.name_text());
        }
    }
    if let (true, Some(rotor)) = (planes.is_empty(), bench.rotor) {
        planes.extend(rotor.planes.iter().filter(|plane| plane.shares_tolerance).map(|plane| plane.name));
    }
    planes.into_iter().map(|plane| One::new(bench, plane).work_out(recorder)).collect()
}

impl<'b> One<'_, 'b> {
    fn tolerance(&self, recorder: &Recorder<'b>) -> Val<Unbalance> {
        match (self.plane, self.bench.rotor) {
            (Some(plane), _) => plane.tolerance.clone(),
            (None, Some(_)) => Val::missing(
                origin(&self.spot, &result::PLANE_TOLERANCE),
                Reason::NoSuchPlane,
                recorder.facts.shop.unbalance_unit,
            ),
            (None, None) => {
                let origin =
                    recorder.facts.origin(self.bench.setup, setup::ROTOR, self.bench.setup.field(setup::ROTOR));
                Val::missing(origin, Reason::NoSuchItem, recorder.facts.shop.unbalance_unit)
            }
        }
    }

    fn work_out(self, recorder: &mut Recorder<'b>) -> CalibrateResults<'b> {
        let tolerance = self.tolerance(recorder);
        let stated_reading = self.block.and_then(|block| reading::stated(recorder, block, self.bench.readout()));
        let keyed_in = match self.plane {
            Some(plane) => plane.radius.clone(),
            None => self.absent(recorder, calibrate::RADIUS.any(), Unit::MILLIMETRE),
        };
        let reads = self.bench.reads(&tolerance, &keyed_in);
        let (mass, radius) = left_out::mass_and_radius(&self, recorder, stated_reading.as_ref(), reads.as_ref().ok());
        let unbalance = self.unbalance(recorder, &mass, &radius);
        let times_tolerance = self.times_tolerance(recorder, &unbalance, &tolerance);
        let (force, rim_speed) = self.force_and_rim_speed(recorder, &mass, &radius);
        let proven = self.as_proven(recorder);
        let mut should_read = self.should_read(recorder, &mass, &radius, reads.as_ref().map_err(|shown| *shown));
        let set_to = self.set_to(recorder, proven.as_ref(), &should_read);
        let mut one_division = self.division(recorder, &unbalance, set_to.as_ref(), &tolerance);
        let residual = self.residual(recorder, &one_division);
        let residual_error = self.residual_error(recorder, &residual, &unbalance);
        self.may_be_off(&mut should_read, residual_error.as_ref());
        if unbalance.is_known() {
            self.may_be_off(&mut one_division, residual_error.as_ref());
        }
        self.keep_division(recorder, &mut one_division);
        let reading = self.reading(recorder, proven, &should_read);
        self.scale(recorder, stated_reading.as_ref().unwrap_or(&reading));
        let suggested_mass = self.suggested_mass(recorder, &radius, &tolerance);
        self.worth(recorder, &one_division, &tolerance, set_to.as_ref());
        let (smallest_residual, over_residual) = self.over_residual(recorder, &tolerance);
        if let Some(residual) = &smallest_residual {
            self.test_mass(recorder, residual);
        }
        CalibrateResults {
            plane: self.name,
            block: self.block.cloned(),
            mass,
            radius,
            tolerance,
            unbalance,
            times_tolerance,
            force,
            rim_speed,
            stated_reading,
            reading,
            should_read,
            set_to,
            residual,
            residual_error,
            suggested_mass,
            one_division,
            smallest_residual,
            over_residual,
        }
    }

    /// What a division is worth, where plane and readout are there to say it.
    fn worth(
        &self,
        recorder: &mut Recorder<'b>,
        one_division: &Val<Unbalance>,
        tolerance: &Val<Unbalance>,
        set_to: Option<&SetTo>,
    ) {
        let spot = &self.spot;
        match (self.plane, self.bench.readout()) {
            (Some(plane), Some(readout)) => {
                let is_set = set_to.is_some_and(|set_to| set_to.said_by != SaidBy::Nobody);
                let worth = division::Worth { plane, readout, spot, one_division, tolerance, is_set };
                worth.results(recorder, self.bench);
            }
            (None, _) => {
                // Without the plane its tolerance is missing, for the same reason.
                if let Err(missing) = &tolerance.known {
                    recorder.not_asked(spot, &division::RESULTS, WhyNot::Lacks(missing.clone()));
                }
            }
            (Some(_), None) => recorder.not_asked(spot, &division::RESULTS, self.bench.no_readout(recorder)),
        }
    }

    /// Keeps what a division means, where the readout shows any.
    fn keep_division(&self, recorder: &mut Recorder<'b>, one_division: &mut Val<Unbalance>) {
        let (spot, spec) = (&self.spot, &result::ONE_DIVISION);
        if self.bench.readout().is_none_or(ReadoutFacts::is_in_divisions) {
            return recorder.keep(spot, spec, one_division);
        }
        recorder.not_asked(spot, &[spec], division::NO_DIVISIONS);
        *one_division = Val::missing(origin(spot, spec), Reason::NotGiven, one_division.unit);
    }

    fn unbalance(&self, recorder: &mut Recorder<'b>, mass: &Val<Mass>, radius: &Val<Length>) -> Val<Unbalance> {
        let unit = recorder.facts.shop.unbalance_unit;
        let spot = self.beside(&[calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()]);
        let f = |(mass, radius)| physics::calibration_unbalance(mass, radius);
        if self.block.is_none() {
            return recorder.on_the_way(
                &spot,
                &result::CALIBRATION_UNBALANCE,
                unit,
                &by::MASS_TIMES_RADIUS,
                (mass, radius),
                f,
            );
        }
        recorder.work_out(&spot, &result::CALIBRATION_UNBALANCE, unit, &by::MASS_TIMES_RADIUS, (mass, radius), f)
    }

    fn times_tolerance(
        &self,
        recorder: &mut Recorder<'b>,
        unbalance: &Val<Unbalance>,
        tolerance: &Val<Unbalance>,
    ) -> Val<Ratio> {
        let spot = self.beside(&[calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()]);
        let f = |(unbalance, tolerance)| physics::times_tolerance(unbalance, tolerance);
        let (spec, formula) = (&result::TIMES_TOLERANCE, &by::OVER_TOLERANCE);
        if self.block.is_none() {
            return recorder.on_the_way(&spot, spec, Unit::ONE, formula, (unbalance, tolerance), f);
        }
        recorder.work_out(&spot, spec, Unit::ONE, formula, (unbalance, tolerance), f)
    }

    fn force_and_rim_speed(
        &self,
        recorder: &mut Recorder<'b>,
        mass: &Val<Mass>,
        radius: &Val<Length>,
    ) -> (Val<crate::units::Force>, Val<Velocity>) {
        let speed = self.bench.speed;
        let spot = self.beside(&[calibrate::RADIUS.any(), calibrate::DIAMETER.any(), calibrate::MASS.any()]);
        let force_of = |(mass, radius, speed): (Mass, Length, Speed)| force::centrifugal_force(mass * radius, speed);
        let rim_of = |(radius, speed)| force::rim_speed(radius, speed);
        let (spec, rim_spec) = (&result::CENTRIFUGAL_FORCE, &result::RIM_SPEED);
        let metres = recorder.facts.shop.shown(Unit::METRE_PER_SECOND);
        let newton = recorder.facts.shop.shown(Unit::NEWTON);
        if self.block.is_none() {
            let force = recorder.on_the_way(&spot, spec, newton, &by::FORCE, (mass, radius, speed), force_of);
            return (force, recorder.on_the_way(&spot, rim_spec, metres, &by::RIM, (radius, speed), rim_of));
        }
        let force = recorder.work_out(&spot, spec, newton, &by::FORCE, (mass, radius, speed), force_of);
        (force, recorder.work_out(&spot, rim_spec, metres, &by::RIM, (radius, speed), rim_of))
    }
}
