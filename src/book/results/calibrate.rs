//! Calibration of one plane: mass, radius and reading, any one from the other two; and what a division is worth.

use super::division;
use super::entry::{Recorder, Spot};
use super::left_out;
use super::plane::{PlaneResults, choice};
use super::rotor::RotorResults;
use super::setup::{MachineFacts, ReadoutFacts};
use crate::book::catalogue as result;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::mechanics::calibration::{self as physics, TakenAs};
use crate::mechanics::force;
use crate::mechanics::machine as of_machine;
use crate::sheet::{FieldValue, StatedReading};
use crate::syntax::Kind;
use crate::units::{
    Contributions, Dimension, Indication, Length, Mass, Ratio, Source, Speed, Unbalance, Unit, Velocity,
};

/// What every calibration of a setup needs.
pub(super) struct Bench<'a, 'b> {
    pub id: ItemId,
    pub setup: &'a EffectiveBlock<'b>,
    pub rotor: Option<&'a RotorResults<'b>>,
    pub machine: Option<&'a MachineFacts<'b>>,
    pub speed: &'a Val<Speed>,
    pub reading_at_tolerance: &'a Val<Indication>,
    pub mass_on_machine: &'a Val<Mass>,
}

impl<'a, 'b> Bench<'a, 'b> {
    pub fn readout(&self) -> Option<&'a ReadoutFacts<'b>> {
        self.machine.and_then(|machine| machine.readout.as_ref())
    }
}

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
    pub rim_speed: Val<Velocity>,
    /// As stated; `None` when it is left out.
    pub stated_reading: Option<Val<Indication>>,
    /// As worked out from mass and radius; missing when one of them is left out.
    pub reading: Val<Indication>,
    pub residual: Val<Unbalance>,
    pub residual_error: Option<Val<Ratio>>,
    pub suggested_mass: Option<Val<Mass>>,
    pub one_division: Val<Unbalance>,
    /// The least residual unbalance that the machine reaches in a plane; `None` when it does not say.
    pub smallest_residual: Option<Val<Unbalance>>,
    /// The tolerance over that.
    pub over_residual: Option<Val<Ratio>>,
}

pub(super) fn of<'b>(
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

/// One plane on its way to its results.
pub(super) struct One<'a, 'b> {
    pub bench: &'a Bench<'a, 'b>,
    name: &'b str,
    pub block: Option<&'a EffectiveBlock<'b>>,
    pub plane: Option<&'a PlaneResults<'b>>,
    spot: Spot,
}

impl<'a, 'b> One<'a, 'b> {
    fn new(bench: &'a Bench<'a, 'b>, name: &'b str) -> Self {
        let block = bench.setup.inner(Kind::Calibrate).find(|block| block.name_text() == name);
        let plane = bench.rotor.and_then(|rotor| rotor.plane(name));
        let spot = match block {
            Some(block) => Spot::heading(block, bench.id),
            None => {
                let field = bench
                    .setup
                    .named("channel")
                    .map(|(_, field)| field)
                    .find(|field| matches!(&field.field.value, FieldValue::Name(plane) if *plane.text == *name));
                let spot = Spot::beside(bench.setup, bench.id, field);
                Spot { path: bench.setup.path.then(format!("calibrate {name}")), ..spot }
            }
        };
        Self { bench, name, block, plane, spot }
    }

    pub fn beside(&self, keys: &[&str]) -> Spot {
        let field = self.block.and_then(|block| keys.iter().find_map(|key| block.field(key)));
        match (self.block, field) {
            (Some(block), Some(field)) => Spot::beside(block, self.bench.id, Some(field)),
            _ => self.spot.clone(),
        }
    }

    pub fn absent<T: crate::units::Amount>(&self, recorder: &Recorder<'b>, key: &'static str, unit: Unit) -> Val<T> {
        let origin = match self.block {
            Some(block) => recorder.facts.origin(block, key, None),
            None => crate::book::origin::Origin {
                item: self.bench.id,
                path: self.spot.path.clone(),
                name: key.into(),
                place: None,
            },
        };
        Val::missing(origin, Reason::NotGiven, unit)
    }

    fn tolerance(&self, recorder: &Recorder<'b>) -> Val<Unbalance> {
        match (self.plane, self.bench.rotor) {
            (Some(plane), _) => plane.tolerance.clone(),
            (None, Some(_)) => {
                let origin = super::entry::origin(&self.spot, &result::PLANE_TOLERANCE);
                Val::missing(origin, Reason::NoSuchPlane, recorder.facts.shop.unbalance_unit)
            }
            (None, None) => {
                let origin = recorder.facts.origin(self.bench.setup, "rotor", self.bench.setup.field("rotor"));
                Val::missing(origin, Reason::NoSuchItem, recorder.facts.shop.unbalance_unit)
            }
        }
    }

    fn work_out(self, recorder: &mut Recorder<'b>) -> CalibrateResults<'b> {
        let tolerance = self.tolerance(recorder);
        let one_division = self.one_division(recorder, &tolerance);
        let stated_reading = self.block.and_then(|block| stated(recorder, block, self.bench.readout()));
        let (mass, radius) = left_out::mass_and_radius(&self, recorder, stated_reading.as_ref(), &tolerance);
        let unbalance = self.unbalance(recorder, &mass, &radius);
        let times_tolerance = self.times_tolerance(recorder, &unbalance, &tolerance);
        let (force, rim_speed) = self.force_and_rim_speed(recorder, &mass, &radius);
        let residual = self.residual(recorder, &one_division);
        let residual_error = self.residual_error(recorder, &residual, &unbalance);
        let reading = self.reading(recorder, &mass, &radius, &tolerance, residual_error.as_ref());
        self.scale(recorder, stated_reading.as_ref().unwrap_or(&reading));
        let suggested_mass = self.suggested_mass(recorder, &radius, &tolerance);
        if let (Some(plane), Some(readout)) = (self.plane, self.bench.readout()) {
            let worth = division::Worth {
                plane,
                readout,
                spot: &self.spot,
                one_division: &one_division,
                tolerance: &tolerance,
            };
            worth.results(recorder, self.bench);
        }
        let (smallest_residual, over_residual) = self.over_residual(recorder, &tolerance);
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
            residual,
            residual_error,
            suggested_mass,
            one_division,
            smallest_residual,
            over_residual,
        }
    }

    fn one_division(&self, recorder: &mut Recorder<'b>, tolerance: &Val<Unbalance>) -> Val<Unbalance> {
        let unit = recorder.facts.shop.unbalance_unit;
        if !self.bench.readout().is_none_or(ReadoutFacts::is_in_divisions) {
            return self.absent(recorder, "one division", unit);
        }
        let inputs = (tolerance, self.bench.reading_at_tolerance);
        let f = |(tolerance, reading)| physics::value_of_one_division(tolerance, reading);
        recorder.work_out(&self.spot, &result::ONE_DIVISION, unit, &by::DIVISION_OF_TOLERANCE, inputs, f)
    }

    fn unbalance(&self, recorder: &mut Recorder<'b>, mass: &Val<Mass>, radius: &Val<Length>) -> Val<Unbalance> {
        let unit = recorder.facts.shop.unbalance_unit;
        let spot = self.beside(&["mass", "radius", "diameter"]);
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
        let spot = self.beside(&["mass", "radius", "diameter"]);
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
        let spot = self.beside(&["radius", "diameter", "mass"]);
        let force_of = |(mass, radius, speed): (Mass, Length, Speed)| force::centrifugal_force(mass * radius, speed);
        let rim_of = |(radius, speed)| force::rim_speed(radius, speed);
        let (spec, rim_spec) = (&result::CENTRIFUGAL_FORCE, &result::RIM_SPEED);
        let metres = Unit::METRE_PER_SECOND;
        if self.block.is_none() {
            let force = recorder.on_the_way(&spot, spec, Unit::NEWTON, &by::FORCE, (mass, radius, speed), force_of);
            return (force, recorder.on_the_way(&spot, rim_spec, metres, &by::RIM, (radius, speed), rim_of));
        }
        let force = recorder.work_out(&spot, spec, Unit::NEWTON, &by::FORCE, (mass, radius, speed), force_of);
        (force, recorder.work_out(&spot, rim_spec, metres, &by::RIM, (radius, speed), rim_of))
    }

    /// The rotor's own unbalance at calibration, stated as an unbalance or as what it read.
    fn residual(&self, recorder: &Recorder<'b>, one_division: &Val<Unbalance>) -> Val<Unbalance> {
        let Some(block) = self.block else {
            return self.absent(recorder, "residual at calibration", Unit::GRAM_MILLIMETRE);
        };
        let stated: Val<Unbalance> = recorder.facts.quantity(block, "residual at calibration");
        if stated.is_known() && stated.unit.dimension() == Dimension::DIVISION {
            let reading: Val<Indication> = recorder.facts.quantity(block, "residual at calibration");
            let spec = &result::RESIDUAL_ERROR;
            let unit = one_division.unit;
            return recorder.on_the_way(
                &self.spot,
                spec,
                unit,
                &by::PRE_BALANCE,
                (&reading, one_division),
                |(n, one)| Ok(one * n.value()),
            );
        }
        stated
    }

    fn residual_error(
        &self,
        recorder: &mut Recorder<'b>,
        residual: &Val<Unbalance>,
        unbalance: &Val<Unbalance>,
    ) -> Option<Val<Ratio>> {
        let block = self.block?;
        let taken = choice(block, "taken as")?;
        if residual.is_left_out() && taken != "vector difference" {
            return None;
        }
        let (how, formula) = match taken {
            "one position" => (TakenAs::OnePosition, &by::ERROR_ONE_POSITION),
            "mean of two opposite positions" => (TakenAs::MeanOfTwoOppositePositions, &by::ERROR_MEAN_OF_TWO),
            _ => return None,
        };
        let spot = self.beside(&["residual at calibration", "taken as"]);
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

    /// The reading to set, in the readout's own unit, with the error from the residual in its uncertainty.
    ///
    /// Its ± is how well the calibration itself is known: mass, radius and residual. How finely a dial or a display can
    /// be set to that reading is no part of it: resolution belongs to the indication when it is read (GUM F.2.2.1, from
    /// memory), and enters with each reading that is written down, not with the value that is aimed at.
    fn reading(
        &self,
        recorder: &mut Recorder<'b>,
        mass: &Val<Mass>,
        radius: &Val<Length>,
        tolerance: &Val<Unbalance>,
        residual_error: Option<&Val<Ratio>>,
    ) -> Val<Indication> {
        let spec = &result::READING;
        let spot = self.beside(&["radius", "diameter", "mass"]);
        let Some(block) = self.block else { return self.absent(recorder, "reading", Unit::DIVISION) };
        if block.field("reading").is_some() && (block.field("mass").is_none() || radius_is_left_out(block)) {
            return self.absent(recorder, "reading", Unit::DIVISION);
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
                    None => self.absent(recorder, "radius", Unit::MILLIMETRE),
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
            let own = u64::from(self.spot.place.1.start) << 32 | u64::from(self.spot.place.0.0) | 1 << 63;
            value.contributions.add(&Contributions::of(Source(own), standard), 1.0);
        }
        recorder.keep(&spot, spec, &value);
        Val { origin: super::entry::origin(&spot, spec), ..value }
    }

    /// The scale on which the reading stands highest without leaving it.
    fn scale(&self, recorder: &mut Recorder<'b>, reading: &Val<Indication>) {
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
                &self.beside(&["reading", "radius", "diameter"]),
                &result::SCALE,
                format!("{marks} on {}", scale.name),
            );
        }
    }

    /// The mass of the set that comes nearest to ten times the tolerance, within the shop's range and the readout.
    fn suggested_mass(
        &self,
        recorder: &mut Recorder<'b>,
        radius: &Val<Length>,
        tolerance: &Val<Unbalance>,
    ) -> Option<Val<Mass>> {
        self.block?;
        let set = recorder.facts.masses?;
        let radius = match self.plane {
            Some(plane) if radius.is_left_out() => plane.radius.clone(),
            _ => radius.clone(),
        };
        let (low, high) = recorder.facts.shop.calibration_unbalance;
        let limit = self.bench.readout().and_then(ReadoutFacts::end).zip(self.bench.reading_at_tolerance.get());
        let values: Vec<Mass> = set.values.iter().map(|value| crate::units::Amount::from_raw(value.base)).collect();
        let unit = set.values.first().map_or(Unit::GRAM, |value| value.unit);
        let pick = move |(tolerance, radius): (Unbalance, Length)| {
            let times = |mass: &Mass| ((*mass * radius) / tolerance).value();
            let fits = |mass: &&Mass| {
                let times = times(mass);
                (low.value()..=high.value()).contains(&times) && limit.is_none_or(|(end, at)| times * at.value() <= end)
            };
            let nearest = values.iter().filter(fits).min_by(|a, b| {
                let away = |mass: &Mass| (times(mass) / 10.0).ln().abs();
                away(a).total_cmp(&away(b))
            });
            nearest.copied().ok_or(crate::mechanics::DomainError {
                what: crate::mechanics::Input::CalibrationMass,
                must: crate::mechanics::Requirement::BeWithinRange,
            })
        };
        let spot = self.beside(&["mass", "radius", "diameter"]);
        let value =
            recorder.on_the_way(&spot, &result::SUGGESTED_MASS, unit, &by::SET_MASS, (tolerance, &radius), pick);
        let value = Val { contributions: Contributions::none(), ..value };
        if value.is_known() {
            recorder.keep(&spot, &result::SUGGESTED_MASS, &value);
        }
        Some(value)
    }

    /// The smallest residual of the machine in one plane, and how often it goes into the tolerance.
    fn over_residual(
        &self,
        recorder: &mut Recorder<'b>,
        tolerance: &Val<Unbalance>,
    ) -> (Option<Val<Unbalance>>, Option<Val<Ratio>>) {
        let Some(machine) = self.bench.machine else { return (None, None) };
        let spec = &result::TOLERANCE_OVER_RESIDUAL;
        let per_plane: Val<Unbalance> =
            recorder.facts.quantity(&machine.block, "minimum achievable residual unbalance");
        if per_plane.is_known() {
            let inputs = (tolerance, &per_plane);
            let f = |(tolerance, residual)| of_machine::tolerance_over_minimum(tolerance, residual);
            let over = recorder.work_out(&self.spot, spec, Unit::ONE, &by::OVER_RESIDUAL, inputs, f);
            return (Some(per_plane), Some(over));
        }
        let specific = recorder.facts.quantity(&machine.block, "smallest specific residual");
        if !specific.is_known() {
            return (None, None);
        }
        let (residual_of, formula) = match self.bench.rotor.is_some_and(RotorResults::is_balanced_in_one_plane) {
            true => (of_machine::minimum_achievable_in_one_plane as fn(_, _) -> _, &by::OVER_WHOLE_SPECIFIC_RESIDUAL),
            false => (of_machine::minimum_achievable_per_plane as fn(_, _) -> _, &by::OVER_SPECIFIC_RESIDUAL),
        };
        let unit = recorder.facts.shop.unbalance_unit;
        let inputs = (&specific, self.bench.mass_on_machine);
        let residual = recorder.on_the_way(&self.spot, spec, unit, formula, inputs, |(e, mass)| residual_of(e, mass));
        let inputs = (tolerance, &specific, self.bench.mass_on_machine);
        let f = |(tolerance, e, mass)| of_machine::tolerance_over_minimum(tolerance, residual_of(e, mass)?);
        let over = recorder.work_out(&self.spot, spec, Unit::ONE, formula, inputs, f);
        (Some(residual), Some(over))
    }
}

fn radius_is_left_out(block: &EffectiveBlock<'_>) -> bool {
    block.field("radius").is_none() && block.field("diameter").is_none()
}

/// The reading that a block demands, as the readout shows it; `None` when the block states none.
pub(super) fn stated<'b>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    readout: Option<&ReadoutFacts<'b>>,
) -> Option<Val<Indication>> {
    let field = block.field("reading")?;
    let origin = recorder.facts.origin(block, "reading", Some(field));
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
