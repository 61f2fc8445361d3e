//! The verdict on a record: at the bearings by vectors, else at the planes by amounts.

use super::entry::{Recorder, Spot};
use super::errors::{ErrorShare, Place, Sources};
use super::index::{IndexResults, without_arbor};
use super::render::display_value;
use super::run::{RunResults, Runner};
use super::setup::SetupResults;
use super::tolerance::ToleranceRule;
use crate::book::catalogue as result;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::errors::acceptance_limits;
use crate::mechanics::planes::acting_at_bearings;
use crate::mechanics::verdict::{Verdict, judge, whole};
use crate::units::{Amount, Length, Speed, Typed, Unbalance, Vector};

/// One place at which the rotor is judged.
#[derive(Clone, Debug)]
pub struct Judged {
    pub place: Place,
    /// `bearing a`, or the name of the plane.
    pub name: String,
    pub measured: Val<Unbalance>,
    pub tolerance: Val<Unbalance>,
    pub errors: Vec<ErrorShare>,
    pub combined_error: Val<Unbalance>,
    pub limit: Val<Unbalance>,
    /// `None` when something that it needs is not known.
    pub verdict: Option<Verdict>,
}

/// Why a run's readings do not count, whatever they show.
#[derive(Clone, PartialEq, Debug)]
pub enum DoesNotCount {
    NoRunAfterCorrection,
    CalibrationMassesOn,
    CalibrationMassesNotStated,
    SpeedNotStated,
    SpeedOutOfBand,
    CalibrationVoid,
    OtherRevision,
    PlanesNotRead,
    NotKnown,
}

/// The verdict on a record with all it rests on.
#[derive(Clone, Debug)]
pub struct RecordVerdict {
    pub verdict: Verdict,
    /// The run that is judged.
    pub run: Option<usize>,
    pub judged: Vec<Judged>,
    /// The rotor's own unbalance in each plane, without the arbor's where runs have told it; empty without angles.
    pub residual: Vec<(String, VectorVal<Unbalance>)>,
    pub does_not_count: Vec<DoesNotCount>,
    pub reasons: Vec<String>,
}

/// `within`, `not shown`, `over`.
pub const fn word_of(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Within => "within",
        Verdict::NotShown => "not shown",
        Verdict::Over => "over",
    }
}

/// A record on its way to its verdict.
pub(super) struct Judging<'a, 'b> {
    pub runner: &'a Runner<'a, 'b>,
    pub runs: &'a [RunResults<'b>],
    /// The runs after the last correction.
    pub state: &'a [usize],
    pub has_corrections: bool,
    /// From the runs of the state that is judged.
    pub index: Option<&'a IndexResults<'b>>,
    /// From runs before: the arbor is the same one.
    pub earlier_index: Option<&'a IndexResults<'b>>,
    pub revision: Option<&'a str>,
}

impl<'b> Judging<'_, 'b> {
    fn setup(&self) -> &SetupResults<'b> {
        self.runner.measuring.setup
    }

    pub fn work_out(&self, recorder: &mut Recorder<'b>, spot: &Spot) -> RecordVerdict {
        let run = self.state.last().copied();
        let mut judged = Vec::new();
        let mut residual = Vec::new();
        let mut reasons = Vec::new();
        let mut does_not_count = self.does_not_count(run, &mut reasons);
        if let Some(run) = run {
            let rotor = self.rotor_alone(recorder, run);
            let planes = self.runner.measuring.planes.iter().map(|plane| (*plane).to_owned());
            residual = planes.zip(rotor.clone().unwrap_or_default()).collect();
            judged = self.at_bearings(recorder, spot, rotor.as_deref());
            if judged.is_empty() {
                judged = self.at_planes(recorder, spot, run, rotor.as_deref());
            }
            if !self.runner.reads_every_plane() {
                does_not_count.push(DoesNotCount::PlanesNotRead);
                reasons.push("not every plane that shares the tolerance was read".to_owned());
            }
            self.say(&judged, run, &mut reasons, recorder);
        }
        if judged.iter().any(|one| one.verdict.is_none()) {
            does_not_count.push(DoesNotCount::NotKnown);
        }
        let parts = judged.iter().filter_map(|one| one.verdict);
        let verdict = if does_not_count.is_empty() { whole(parts) } else { Verdict::NotShown };
        recorder.words(spot, &result::VERDICT, word_of(verdict));
        if !reasons.is_empty() {
            recorder.words(spot, &result::REASONS, reasons.join("; "));
        }
        RecordVerdict { verdict, run, judged, residual, does_not_count, reasons }
    }

    /// What makes the last run's readings count for nothing.
    fn does_not_count(&self, run: Option<usize>, reasons: &mut Vec<String>) -> Vec<DoesNotCount> {
        let mut why = Vec::new();
        let mut say = |what: DoesNotCount, words: String| {
            why.push(what);
            reasons.push(words);
        };
        let Some(run) = run.map(|run| &self.runs[run]) else {
            let words = if self.has_corrections { "no run follows the last correction" } else { "there is no run" };
            say(DoesNotCount::NoRunAfterCorrection, words.to_owned());
            return why;
        };
        let name = run.name;
        match run.calibration_masses_on {
            Some(false) => {}
            Some(true) => {
                say(DoesNotCount::CalibrationMassesOn, format!("calibration masses were on in run `{name}`"));
            }
            None => say(
                DoesNotCount::CalibrationMassesNotStated,
                format!("run `{name}` does not say whether calibration masses were off"),
            ),
        }
        match (run.speed.get(), in_band(self.setup(), &run.speed)) {
            (None, _) => say(DoesNotCount::SpeedNotStated, format!("run `{name}` does not say its speed")),
            (Some(_), Some(false)) => say(DoesNotCount::SpeedOutOfBand, out_of_band(self.setup(), run)),
            _ => {}
        }
        for cause in &self.setup().void_causes {
            say(DoesNotCount::CalibrationVoid, format!("the calibration is void: {}", cause.what));
        }
        if let (Some(ran), Some(now)) = (self.revision, text_of(self.setup(), "revision"))
            && ran != now
        {
            say(DoesNotCount::OtherRevision, format!("it ran by revision {ran}, the sheet is at revision {now}"));
        }
        why
    }

    /// The rotor's own unbalance in each plane, without the arbor's where runs have told it.
    fn rotor_alone(&self, recorder: &Recorder<'b>, run: usize) -> Option<Vec<VectorVal<Unbalance>>> {
        if let Some(index) = self.index {
            return Some(index.planes.iter().map(|plane| plane.rotor.clone()).collect());
        }
        let run = &self.runs[run];
        let vectors = run.planes.iter().map(|plane| plane.unbalance.vector());
        match (self.earlier_index, &run.turned) {
            (Some(index), Some(turned)) => vectors
                .zip(&index.planes)
                .map(|(vector, plane)| Some(without_arbor(recorder, vector?, turned, &plane.arbor)))
                .collect(),
            _ => vectors.map(|vector| vector.cloned()).collect(),
        }
    }

    fn sources(&self) -> Sources<'_, 'b> {
        Sources {
            runner: self.runner,
            runs: self.runs,
            state: self.state,
            index: self.index.or(self
                .earlier_index
                .filter(|_| self.state.last().is_some_and(|run| self.runs[*run].turned.is_some()))),
        }
    }

    /// By vectors at both bearings; empty when they cannot be had, or the tolerance is one of the planes alone.
    fn at_bearings(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        planes: Option<&[VectorVal<Unbalance>]>,
    ) -> Vec<Judged> {
        let (Some(rotor), Some(planes)) = (&self.setup().rotor, planes) else { return Vec::new() };
        let by_planes = rotor.governing == Some(ToleranceRule::Planes);
        let known = rotor.bearings.iter().all(Val::is_known) && rotor.at_bearings.iter().all(Val::is_known);
        if by_planes || !known || !self.runner.reads_every_plane() || planes.iter().any(|plane| !plane.is_known()) {
            return Vec::new();
        }
        let names = ["bearing a", "bearing b"];
        let judged = [0, 1].map(|n| {
            let spot = spot.of(names[n]);
            let mut gathered = Gathered::new();
            let read: Vec<(usize, usize)> = planes
                .iter()
                .zip(&self.runner.measuring.planes)
                .map(|(vector, name)| (gathered.vector(vector), gathered.value(&self.runner.at(name))))
                .collect();
            let bearings = rotor.bearings.each_ref().map(|at| gathered.value(at));
            let formula = if n == 0 { &by::ACTING_AT_A } else { &by::ACTING_AT_B };
            let outputs = gathered.work_out(recorder.explained(formula), |numbers| {
                let unbalances: Vec<(Vector<Unbalance>, Length)> =
                    read.iter().map(|(vector, at)| (numbers.vector(*vector), numbers.value(*at))).collect();
                let bearings = bearings.map(|at| numbers.value(at));
                Ok(components([acting_at_bearings(&unbalances, bearings)?[n]]))
            });
            let origin = super::entry::origin(&spot, &result::MEASURED);
            let acting: VectorVal<Unbalance> = outputs.vector(0, origin, recorder.facts.shop.unbalance_unit);
            self.judged(recorder, &spot, Place::Bearing(n), acting.amount(), rotor.at_bearings[n].clone())
        });
        judged.into_iter().collect()
    }

    /// By amounts in each plane that shares the tolerance.
    fn at_planes(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        run: usize,
        alone: Option<&[VectorVal<Unbalance>]>,
    ) -> Vec<Judged> {
        let run = &self.runs[run];
        let planes = run.planes.iter().enumerate().filter_map(|(n, plane)| {
            let results = self.runner.plane(plane.name).filter(|plane| plane.shares_tolerance)?;
            let measured = match alone.and_then(|alone| alone.get(n)) {
                Some(vector) => vector.amount(),
                None => plane.unbalance.amount(),
            };
            Some((n, plane.name, measured, results.tolerance.clone()))
        });
        planes
            .map(|(n, name, measured, tolerance)| {
                self.judged(recorder, &spot.of(name), Place::Plane(n), measured, tolerance)
            })
            .collect()
    }

    fn judged(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        place: Place,
        measured: Val<Unbalance>,
        tolerance: Val<Unbalance>,
    ) -> Judged {
        recorder.keep(spot, &result::MEASURED, &measured);
        let (errors, combined_error) = self.sources().at(recorder, spot, place);
        let unit = recorder.facts.shop.unbalance_unit;
        let inputs = (&tolerance, &combined_error);
        let limit =
            recorder.work_out(spot, &result::ACCEPTANCE_LIMIT, unit, &by::LIMIT, inputs, |(tolerance, error)| {
                acceptance_limits(tolerance, error).map(|limits| limits.at_the_balancing_machine)
            });
        recorder.work_out(spot, &result::LATER_LIMIT, unit, &by::LATER, inputs, |(tolerance, error)| {
            acceptance_limits(tolerance, error).map(|limits| limits.at_a_later_check)
        });
        let known = measured.get().zip(tolerance.get()).zip(combined_error.get());
        let verdict = known.and_then(|((measured_amount, tolerance), error)| {
            let uncertainty = Unbalance::from_base(measured.expanded_uncertainty());
            judge(measured_amount, uncertainty, tolerance, error).ok()
        });
        if let Some(verdict) = verdict {
            recorder.words(spot, &result::VERDICT_AT, word_of(verdict));
        }
        let name = spot.of.as_deref().unwrap_or_default().to_owned();
        Judged { place, name, measured, tolerance, errors, combined_error, limit, verdict }
    }

    /// What was judged where, and what a plane's limit would say.
    fn say(&self, judged: &[Judged], run: usize, reasons: &mut Vec<String>, recorder: &Recorder<'b>) {
        for one in judged {
            let measured = match &one.measured.known {
                Ok(known) => display_value(known.raw(), one.measured.unit, one.measured.standard_uncertainty()),
                Err(missing) => {
                    let why = match missing.reason {
                        Reason::NotGiven => format!("`{}` is missing", missing.origin.name),
                        _ => super::render::why(recorder.facts.book, missing),
                    };
                    reasons.push(format!("{}: not known, {why}", one.name));
                    continue;
                }
            };
            let limit = one.limit.get().map(|limit| display_value(limit.raw(), one.limit.unit, 0.0));
            let words = one.verdict.map_or("not known", word_of);
            let limit = limit.unwrap_or_else(|| "a limit that is not known".to_owned());
            reasons.push(format!("{}: {measured} of {limit}, {words}", one.name));
        }
        let at_bearings = judged.iter().any(|one| matches!(one.place, Place::Bearing(_)));
        let inside = at_bearings && judged.iter().all(|one| one.verdict == Some(Verdict::Within));
        if !inside {
            return;
        }
        for plane in &self.runs[run].planes {
            let Some(tolerance) = self.runner.plane(plane.name).and_then(|plane| plane.tolerance.get()) else {
                continue;
            };
            let amount = plane.unbalance.amount();
            if amount.get().is_some_and(|amount| amount > tolerance) && self.index.is_none() {
                let amount = display_value(amount.get().map_or(0.0, Amount::raw), amount.unit, 0.0);
                reasons.push(format!(
                    "plane {} with {amount} is over its own limit, but both bearings are inside theirs",
                    plane.name
                ));
            }
        }
    }
}

/// Whether a run's speed counts as the balancing speed; `None` when that is not known.
pub fn in_band(setup: &SetupResults<'_>, speed: &Val<Speed>) -> Option<bool> {
    let [low, high] = setup.same_speed.as_ref()?;
    let speed = speed.get()?;
    Some(speed >= low.get()? && speed <= high.get()?)
}

fn out_of_band(setup: &SetupResults<'_>, run: &RunResults<'_>) -> String {
    let shown =
        |speed: &Val<Speed>| speed.get().map_or_else(String::new, |known| display_value(known.base(), speed.unit, 0.0));
    let band = setup.same_speed.as_ref().map(|[low, high]| format!("{} to {}", shown(low), shown(high)));
    format!("run `{}` at {} is outside the band of {}", run.name, shown(&run.speed), band.unwrap_or_default())
}

fn text_of<'a>(setup: &'a SetupResults<'_>, key: &str) -> Option<&'a str> {
    match &setup.block.field(key)?.field.value {
        crate::sheet::FieldValue::Text(text) => Some(text),
        _ => None,
    }
}
