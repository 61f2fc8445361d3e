//! One run of a record: unbalance in the planes and at the bearings, and what it calls for.

use std::sync::Arc;

use super::counted::{as_run, counted};
use super::seat::{in_rotor, sits_turned};
use super::weights::{self, Standing};
use super::{reach, stand, sums};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::{Missing, Reason};
use crate::book::results::bench::readings::{self as reading, ReadingResults};
use crate::book::results::measuring::{Found, Measuring, Read};
use crate::book::results::plane::PlaneResults;
use crate::book::results::plane::called_for::{mass_for, meaning_of, radius_for};
use crate::book::results::plane::carried::Carried;
use crate::book::results::plane::extra::{Elsewhere, ExtraMass, carried_to_begin_with, elsewhere};
use crate::book::results::setup::SetupResults;
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::VectorVal;
use crate::mechanics::correction::mass_at_radius;
use crate::sheet::FieldValue;
use crate::units::{Angle, Couple, Length, Mass, Ratio, Speed, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::run::CalibrationMasses;
use crate::vocabulary::{self, Bearing, Of, ResultSpec, Sense, YesNo, calibrate, result, run, trial};

/// What is computed of one run.
pub struct RunResults<'b> {
    pub name: &'b str,
    pub block: EffectiveBlock<'b>,
    pub speed: Val<Speed>,
    /// `None` when the sheet does not say.
    pub calibration_masses_on: Option<bool>,
    /// How far the rotor was turned on its arbor, where the run says so.
    pub turned: Option<Val<Angle>>,
    pub remounted: Option<bool>,
    /// Whether the rotor was corrected since the run before, and nobody wrote down how.
    pub not_recorded: bool,
    /// Where the sliding weights of its planes stood, as far as it is known.
    pub weights: Standing<'b>,
    pub readings: Vec<ReadingResults<'b>>,
    /// In the order of the setup's channels or trials.
    pub planes: Vec<PlaneRun<'b>>,
    /// What counts in the only plane and acts at another place.
    pub elsewhere: Vec<Elsewhere>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub at_bearings: Option<[VectorVal<Unbalance>; 2]>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub static_unbalance: Option<VectorVal<Unbalance>>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub couple: Option<VectorVal<Couple>>,
}

/// One plane in one run.
pub struct PlaneRun<'b> {
    pub name: &'b str,
    /// In the rotor's angles, the arbor's own unbalance with it.
    pub unbalance: Found,
    /// The rotor's own, where other runs have told what the arbor puts in.
    pub rotor: Option<VectorVal<Unbalance>>,
    pub times_tolerance: Option<Val<Ratio>>,
    /// What corrects it: what cuts weigh together, else at the plane's correction radius.
    pub correction: Option<VectorVal<Mass>>,
}

impl PlaneRun<'_> {
    /// What is to be corrected: the rotor's own unbalance where it is known apart from the arbor's.
    pub fn own(&self) -> Found {
        self.rotor.clone().map_or_else(|| self.unbalance.clone(), Found::Vector)
    }

    /// The same as a vector; `None` without an angle.
    pub fn own_vector(&self) -> Option<&VectorVal<Unbalance>> {
        self.rotor.as_ref().or_else(|| self.unbalance.vector())
    }
}

/// What a run read, before it is known what the arbor's share of it is.
pub(in crate::book::results) struct ReadRun<'b> {
    readings: Vec<ReadingResults<'b>>,
    pub turned: Option<Val<Angle>>,
    spots: Vec<Spot>,
    /// One a plane.
    pub found: Vec<Found>,
    elsewhere: Vec<Elsewhere>,
}

impl<'b> RunResults<'b> {
    pub fn plane(&self, name: &str) -> Option<&PlaneRun<'b>> {
        self.planes.iter().find(|plane| plane.name == name)
    }

    /// Whether it says that the rotor sat turned on its arbor.
    pub fn sits_turned(&self) -> bool {
        self.turned.as_ref().and_then(Val::get).is_some_and(sits_turned)
    }

    /// The vectors of all planes, the rotor's own where they are known; `None` when one has no angle or is not known.
    pub fn vectors(&self) -> Option<Vec<&VectorVal<Unbalance>>> {
        self.planes.iter().map(|plane| plane.own_vector().filter(|vector| vector.is_known())).collect()
    }
}

/// The vectors as they were read; else why one of them is not known.
fn known_vectors<'r>(planes: &'r [PlaneRun<'_>]) -> Result<Vec<&'r VectorVal<Unbalance>>, WhyNot> {
    let known = |plane: &'r PlaneRun<'_>| {
        let vector = plane.unbalance.vector().ok_or("a reading has no angle")?;
        vector.known.as_ref().map(|_| vector).map_err(|missing| WhyNot::Lacks(missing.clone()))
    };
    planes.iter().map(known).collect()
}

/// What a run has one of in each plane.
const IN_PLANES: [&ResultSpec; 7] = [
    &result::RUN_UNBALANCE,
    &result::RUN_ROTOR_UNBALANCE,
    &result::RUN_TIMES_TOLERANCE,
    &result::RUN_CORRECTION,
    &result::STEPS_NEEDED,
    &result::LEFT_AFTER_STEP,
    &result::WEIGHTS_TO,
];

/// What every run of a record needs.
pub(in crate::book::results) struct Runner<'a, 'b> {
    pub id: ItemId,
    pub setup: &'a SetupResults<'b>,
    pub measuring: &'a Measuring<'a, 'b>,
    pub sense: Result<Sense, Arc<Missing>>,
    /// The extra masses of rotor and setup.
    pub extra: Vec<ExtraMass<'b>>,
    /// What the planes carry by the record that this one goes on with, each by its name.
    pub carried_before: Vec<(&'b str, Carried)>,
}

impl<'a, 'b> Runner<'a, 'b> {
    /// What a plane carries before anything was done to it here.
    pub fn to_begin_with(&self, plane: &str) -> Carried {
        let before = self.carried_before.iter().find(|(name, _)| *name == plane);
        let own = || self.plane(plane).map(|plane| carried_to_begin_with(plane, &self.extra));
        before.map(|(_, carried)| carried.clone()).or_else(own).unwrap_or_default()
    }

    pub fn plane(&self, name: &str) -> Option<&'a PlaneResults<'b>> {
        self.setup.rotor.as_ref().and_then(|rotor| rotor.plane(name))
    }

    pub fn read(&self, recorder: &mut Recorder<'b>, block: &EffectiveBlock<'b>, is_as_tried: bool) -> ReadRun<'b> {
        let angles = self.measuring.sheet.angles();
        let readings = reading::readings(recorder, &angles, block, run::READING);
        let turned =
            block.field(run::TURNED_ON_ARBOR_BY).map(|_| recorder.facts.quantity(block, run::TURNED_ON_ARBOR_BY));
        let spots: Vec<Spot> = self.measuring.planes.iter().map(|plane| self.spot(block, plane)).collect();
        let origin = recorder.facts.origin(block, run::READING, None);
        let speed = recorder.facts.quantity(block, run::SPEED).get();
        let read = Read { readings: &readings, origin, speed, is_as_tried };
        let found = match self.on_stand() {
            Some(planes) => stand::found(recorder, &spots, block, &planes),
            None => self.measuring.unbalances(recorder, &spots, &result::RUN_UNBALANCE, &read),
        };
        let found: Vec<Found> = found.into_iter().map(|found| in_rotor(recorder, block, &turned, found)).collect();
        let at: Vec<Val<Length>> = self.measuring.planes.iter().map(|plane| self.at(plane)).collect();
        let extra = as_run(block, &self.extra);
        let extra: Vec<&ExtraMass<'b>> = extra.iter().collect();
        let found = counted(recorder, &extra, &at, &found);
        let elsewhere = elsewhere(recorder, &extra, &at);
        ReadRun { readings, turned, spots, found, elsewhere }
    }

    /// What a trial showed in each plane, with its mass on.
    pub fn found_in_trial(&self, recorder: &mut Recorder<'b>, block: &EffectiveBlock<'b>) -> Vec<Found> {
        let angles = self.measuring.sheet.angles();
        let readings = reading::readings(recorder, &angles, block, trial::READING);
        let spots: Vec<Spot> = self.measuring.planes.iter().map(|plane| self.spot(block, plane)).collect();
        let origin = recorder.facts.origin(block, trial::READING, None);
        let speed = recorder.facts.quantity(block, trial::SPEED).get();
        let read = Read { readings: &readings, origin, speed, is_as_tried: false };
        self.measuring.unbalances(recorder, &spots, &result::RUN_UNBALANCE, &read)
    }

    /// The planes of a rotor on a static stand.
    fn on_stand(&self) -> Option<Vec<&'a PlaneResults<'b>>> {
        let planes: Option<Vec<_>> = self.measuring.planes.iter().map(|plane| self.plane(plane)).collect();
        planes.filter(|planes| self.setup.is_on_stand() && !planes.is_empty())
    }

    /// Whether what is found is what several planes have together.
    pub fn tells_the_sum(&self) -> bool {
        self.setup.is_on_stand() && self.measuring.planes.len() > 1
    }

    /// `rotor` has the rotor's own unbalances, one a plane, where runs have told them from the arbor's.
    pub fn run(
        &self,
        recorder: &mut Recorder<'b>,
        block: &EffectiveBlock<'b>,
        read: ReadRun<'b>,
        rotor: Option<Vec<VectorVal<Unbalance>>>,
        weights: Standing<'b>,
    ) -> RunResults<'b> {
        let ReadRun { readings, turned, spots, found, elsewhere } = read;
        if found.is_empty() {
            let why = "the rotor has no plane that the readings tell";
            recorder.not_asked(&Spot::heading(block, self.id), &IN_PLANES, why);
        }
        for (spot, found) in spots.iter().zip(&found) {
            self.keep(recorder, spot, &result::RUN_UNBALANCE, found);
        }
        let planes: Vec<PlaneRun<'b>> = (0..found.len())
            .map(|n| {
                let rotor = rotor.as_ref().and_then(|rotor| rotor.get(n)).cloned();
                self.one_plane(recorder, &spots[n], self.measuring.planes[n], found[n].clone(), rotor)
            })
            .collect();
        for (spot, run) in spots.iter().zip(&planes) {
            match self.plane(run.name) {
                Some(plane) => {
                    weights::turn(recorder, spot, plane, run.own_vector().and_then(VectorVal::get), &weights);
                }
                None => recorder.not_asked(spot, &[&result::WEIGHTS_TO], "the rotor has no such plane"),
            }
        }
        let at_bearings = self.at_bearings(recorder, block, &planes, &elsewhere);
        let (static_unbalance, couple) = self.static_and_couple(recorder, block, &planes);
        RunResults {
            name: block.name_text(),
            speed: recorder.facts.quantity(block, run::SPEED),
            calibration_masses_on: block.choice(run::CALIBRATION_MASSES).map(|masses| masses == CalibrationMasses::On),
            turned,
            weights,
            not_recorded: block.choice(run::CORRECTION_NOT_RECORDED) == Some(YesNo::Yes),
            remounted: block.choice(run::REMOUNTED).map(|remounted| remounted == YesNo::Yes),
            readings,
            planes,
            elsewhere,
            at_bearings,
            static_unbalance,
            couple,
            block: block.clone(),
        }
    }

    /// The angle about which readings counted the wrong way round would mirror what they tell of a plane: where its
    /// trial mass or calibration mass stood; else the zero of the angles.
    pub fn axis(&self, plane: &str) -> Angle {
        let setup = self.setup;
        if let Some(trials) = self.measuring.trials() {
            let run = trials.runs.iter().find(|run| run.plane == Some(plane));
            let put_on = run.and_then(|run| run.put_on.as_ref()?.get());
            return put_on.map_or(Angle::ZERO, Vector::angle);
        }
        let block = setup.calibration(plane).and_then(|calibration| calibration.block.as_ref());
        match block
            .filter(|block| block.field(calibrate::SHOWS).is_some())
            .and_then(|block| block.field(calibrate::ANGLE))
        {
            Some(field) => match &field.field.value {
                FieldValue::Quantity(stated) => Angle::from_base(stated.base),
                _ => Angle::ZERO,
            },
            None => Angle::ZERO,
        }
    }

    /// Beside the reading of the channel that reads the plane, else beside the heading.
    fn spot(&self, block: &EffectiveBlock<'b>, plane: &str) -> Spot {
        let channels = &self.setup.channels;
        let channel = channels.iter().find(|(_, reads)| *reads == plane).map(|(channel, _)| *channel);
        let field = block.named(run::READING).find(|(name, _)| channel == Some(&*name.text)).map(|(_, field)| field);
        Spot::beside(block, self.id, field).of_plane(plane)
    }

    fn keep(&self, recorder: &mut Recorder<'b>, spot: &Spot, spec: &'static ResultSpec, found: &Found) {
        match found {
            Found::Vector(vector) => recorder.keep_vector(spot, spec, vector, Meaning::HeavySpot, &self.sense),
            Found::Amount(amount) => recorder.keep(spot, spec, amount),
        }
    }

    fn one_plane(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        name: &'b str,
        unbalance: Found,
        rotor: Option<VectorVal<Unbalance>>,
    ) -> PlaneRun<'b> {
        let plane = self.plane(name);
        let amount = unbalance.amount();
        // What is missing has been said once; nothing that rests on it says so again.
        let why = match (plane, &amount.known) {
            (None, _) => Some("the rotor has no such plane".into()),
            (_, Err(missing)) => Some(WhyNot::Lacks(missing.clone())),
            (Some(_), Ok(_)) => None,
        };
        if let Some(why) = why {
            let specs = [
                &result::RUN_TIMES_TOLERANCE,
                &result::RUN_CORRECTION,
                &result::STEPS_NEEDED,
                &result::LEFT_AFTER_STEP,
            ];
            recorder.not_asked(spot, &specs, why);
        }
        let plane = plane.filter(|_| amount.is_known());
        let rotor = rotor.map(|rotor| rotor.under(origin(spot, &result::RUN_ROTOR_UNBALANCE)));
        if let Some(rotor) = &rotor {
            recorder.keep_vector(spot, &result::RUN_ROTOR_UNBALANCE, rotor, Meaning::HeavySpot, &self.sense);
        } else {
            let why = "no runs with the rotor turned on its arbor tell what the arbor puts in here";
            recorder.not_asked(spot, &[&result::RUN_ROTOR_UNBALANCE], why);
        }
        let mut run = PlaneRun { name, unbalance, rotor, times_tolerance: None, correction: None };
        let own = run.own();
        run.times_tolerance = match plane {
            Some(_) if self.tells_the_sum() => {
                recorder.not_asked(spot, &[&result::RUN_TIMES_TOLERANCE], stand::TELLS_THE_SUM);
                None
            }
            plane => plane.map(|plane| times(recorder, spot, &own.amount(), &plane.tolerance)),
        };
        run.correction = plane.and_then(|plane| self.correction(recorder, spot, plane, &own));
        if let Some(plane) = plane {
            reach::steps(recorder, self.setup, spot, plane, &own.amount());
        }
        run
    }

    fn correction(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        plane: &PlaneResults<'b>,
        unbalance: &Found,
    ) -> Option<VectorVal<Mass>> {
        let spec = &result::RUN_CORRECTION;
        match unbalance {
            Found::Vector(vector) => {
                let (meaning, mass) = match meaning_of(plane) {
                    Ok(meaning) => {
                        let radius = radius_for(recorder, plane, &self.to_begin_with(plane.name), (meaning, vector));
                        (meaning, mass_for(recorder, spot, spec, meaning, vector, &radius))
                    }
                    Err(missing) => (Meaning::ToAdd, VectorVal::lacking(origin(spot, spec), missing, Unit::GRAM)),
                };
                recorder.keep_vector(spot, spec, &mass, meaning, &self.sense);
                Some(mass)
            }
            Found::Amount(amount) => {
                let inputs = (amount, &plane.radius);
                recorder.work_out(
                    spot,
                    spec,
                    recorder.facts.shop.shown(Unit::GRAM),
                    &by::MASS_ALONE,
                    inputs,
                    |(u, r)| mass_at_radius(u, r),
                );
                None
            }
        }
    }

    /// The planes' unbalances as they act at the bearings; only where all planes that share the tolerance are read.
    fn at_bearings(
        &self,
        recorder: &mut Recorder<'b>,
        block: &EffectiveBlock<'b>,
        run: &[PlaneRun<'b>],
        elsewhere: &[Elsewhere],
    ) -> Option<[VectorVal<Unbalance>; 2]> {
        let given = || {
            let setup = &self.setup.block;
            let rotor = self.setup.rotor.as_ref();
            let rotor = rotor.ok_or_else(|| recorder.no_such_item(setup, vocabulary::setup::ROTOR))?;
            if let Err(missing) = &rotor.bearings[0].known
                && rotor.bearings[0].is_left_out()
            {
                return Err(WhyNot::Lacks(missing.clone()));
            }
            if !self.reads_every_plane() {
                return Err("not every plane that shares the tolerance is read".into());
            }
            Ok((rotor, known_vectors(run)?))
        };
        let (rotor, vectors) = match given() {
            Ok(given) => given,
            Err(why) => {
                let specs = [&result::RUN_UNBALANCE, &result::RUN_TIMES_TOLERANCE];
                for bearing in Bearing::BOTH {
                    let spot = Spot::heading(block, self.id).with(Of::Bearing(bearing));
                    recorder.not_asked(&spot, &specs, why.clone());
                }
                return None;
            }
        };
        let specs = [(&by::ACTING_AT_A, Bearing::A), (&by::ACTING_AT_B, Bearing::B)];
        let read: Vec<(&VectorVal<Unbalance>, Val<Length>)> =
            vectors.into_iter().zip(run).map(|(vector, plane)| (vector, self.at(plane.name))).collect();
        Some([0, 1].map(|n| {
            let (formula, bearing) = specs[n];
            let spot = Spot::heading(block, self.id).with(Of::Bearing(bearing));
            let acting = sums::at_bearing(recorder, &spot, formula, (&read, elsewhere, &rotor.bearings), n);
            let spec = &result::RUN_UNBALANCE;
            recorder.keep_vector(&spot, spec, &acting, Meaning::HeavySpot, &self.sense);
            match (&acting.known, &rotor.at_bearings[n].known) {
                (Ok(_), Ok(_)) => drop(times(recorder, &spot, &acting.amount(), &rotor.at_bearings[n])),
                (Err(missing), _) | (_, Err(missing)) => {
                    recorder.not_asked(&spot, &[&result::RUN_TIMES_TOLERANCE], WhyNot::Lacks(missing.clone()));
                }
            }
            acting
        }))
    }

    pub fn at(&self, plane: &str) -> Val<Length> {
        match self.plane(plane) {
            Some(plane) => plane.at.clone(),
            None => {
                let setup = self.setup;
                let spot = Spot::heading(&setup.block, setup.id);
                let why = Reason::Impossible(format!("the rotor has no plane `{plane}`").into());
                Val::missing(origin(&spot, &result::RUN_UNBALANCE), why, Unit::MILLIMETRE)
            }
        }
    }

    pub fn reads_every_plane(&self) -> bool {
        self.unread().is_none()
    }

    /// A plane that shares the tolerance and is not read.
    pub fn unread(&self) -> Option<&'b str> {
        let planes = self.setup.rotor.as_ref()?.planes.iter().filter(|plane| plane.shares_tolerance);
        planes.map(|plane| plane.name).find(|name| !self.measuring.planes.contains(name))
    }

    fn static_and_couple(
        &self,
        recorder: &mut Recorder<'b>,
        block: &EffectiveBlock<'b>,
        run: &[PlaneRun<'b>],
    ) -> (Option<VectorVal<Unbalance>>, Option<VectorVal<Couple>>) {
        let given = || {
            let rotor = self.setup.rotor.as_ref();
            let rotor = rotor.ok_or_else(|| recorder.no_such_item(&self.setup.block, vocabulary::setup::ROTOR))?;
            if run.len() < 2 {
                return Err(WhyNot::from("it takes two planes that are read"));
            }
            Ok((rotor, known_vectors(run)?))
        };
        let spot = Spot::heading(block, self.id);
        let (rotor, vectors) = match given() {
            Ok(given) => given,
            Err(why) => {
                recorder.not_asked(&spot, &[&result::STATIC_UNBALANCE, &result::COUPLE_UNBALANCE], why);
                return (None, None);
            }
        };
        let read: Vec<(&VectorVal<Unbalance>, Val<Length>)> =
            vectors.into_iter().zip(run).map(|(vector, plane)| (vector, self.at(plane.name))).collect();
        let (sum, couple) = sums::static_and_couple(recorder, &spot, &read, &rotor.mass_centre, &self.sense);
        (Some(sum), Some(couple))
    }
}

/// An unbalance as a multiple of the tolerance there.
fn times<'b>(
    recorder: &mut Recorder<'b>,
    spot: &Spot,
    amount: &Val<Unbalance>,
    tolerance: &Val<Unbalance>,
) -> Val<Ratio> {
    let spec = &result::RUN_TIMES_TOLERANCE;
    let inputs = (amount, tolerance);
    recorder.work_out(spot, spec, Unit::ONE, &by::TIMES_ITS_TOLERANCE, inputs, |(amount, tolerance)| {
        crate::mechanics::tolerance::times(amount, tolerance)
    })
}
