//! The verdict on a record: at the bearings by vectors, else at the planes by amounts.

pub(in crate::book::results) mod counting;
pub(in crate::book::results) mod errors;

use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::rotor::base::ToleranceRule;
use crate::book::results::runs::index::IndexResults;
use crate::book::results::runs::run::{RunResults, Runner};
use crate::book::results::runs::traverse::TraverseResults;
use crate::book::results::setup::SetupResults;
use crate::book::results::setup::binding::{Binding, JudgedBy, Untimely};
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::results::values::render::display_value;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::errors::acceptance_limits;
use crate::mechanics::planes::acting_at_bearings;
use crate::mechanics::verdict::{Verdict, judge, whole};
use crate::units::{Amount, Length, Typed, Unbalance, Vector};
use crate::vocabulary::{Bearing, Fact, Of, ResultSpec, Text, result, setup};
use counting::{DoesNotCount, NotCounted, of_run, of_setup, of_traverse, rests_on};
use errors::{ErrorShare, Place, Sources};

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

/// The verdict on a record with all it rests on.
#[derive(Clone, Debug)]
pub struct RecordVerdict {
    pub verdict: Verdict,
    /// The run that is judged.
    pub run: Option<usize>,
    pub judged: Vec<Judged>,
    /// The rotor's own unbalance in each plane, without the arbor's where runs have told it; empty without angles.
    pub residual: Vec<(String, VectorVal<Unbalance>)>,
    pub does_not_count: Vec<NotCounted>,
    pub reasons: Vec<String>,
}

impl Judged {
    /// The verdict there, were this the tolerance.
    pub fn by(&self, tolerance: &Val<Unbalance>) -> Option<Verdict> {
        verdict_on(&self.measured, tolerance, &self.combined_error)
    }
}

impl RecordVerdict {
    /// What counts for nothing for this reason, one for each run that is to blame.
    pub fn not_counted(&self, why: DoesNotCount) -> impl Iterator<Item = &NotCounted> {
        self.does_not_count.iter().filter(move |one| one.why == why)
    }
}

/// `within`, `not shown`, `over`.
pub const fn word_of(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Within => "within",
        Verdict::NotShown => "not shown",
        Verdict::Over => "over",
    }
}

pub(in crate::book::results) const NO_RUN: &str = "there is no run";
const NO_RUN_FOLLOWS: &str = "no run follows the last correction";

/// What a record has one of at each place where the rotor is judged.
pub(in crate::book::results) const AT_PLACES: [&ResultSpec; 6] = [
    &result::MEASURED,
    &result::COMBINED_ERROR,
    &result::ERRORS,
    &result::ACCEPTANCE_LIMIT,
    &result::LATER_LIMIT,
    &result::VERDICT_AT,
];

/// A record on its way to its verdict.
pub(in crate::book::results) struct Judging<'a, 'b> {
    pub runner: &'a Runner<'a, 'b>,
    pub runs: &'a [RunResults<'b>],
    /// The runs after the last correction.
    pub state: &'a [usize],
    pub has_corrections: bool,
    /// Those after the last correction.
    pub traverses: &'a [TraverseResults<'b>],
    /// From the runs of the state that is judged.
    pub index: Option<&'a IndexResults<'b>>,
    /// From runs before: the arbor is the same one.
    pub earlier_index: Option<&'a IndexResults<'b>>,
    pub revision: Option<&'a str>,
    pub binding: &'a Binding<'b>,
}

impl<'b> Judging<'_, 'b> {
    fn setup(&self) -> &SetupResults<'b> {
        self.runner.setup
    }

    pub fn work_out(&self, recorder: &mut Recorder<'b>, spot: &Spot) -> RecordVerdict {
        let run = self.state.last().copied();
        let mut judged = Vec::new();
        let mut residual = Vec::new();
        let mut reasons = Vec::new();
        let mut does_not_count = self.does_not_count(recorder, run);
        if let Some(run) = run {
            let rotor = self.rotor_alone(run);
            let planes = self.runner.measuring.planes.iter().map(|plane| (*plane).to_owned());
            residual = planes.zip(rotor.clone().unwrap_or_default()).collect();
            let counting = self.counting(run);
            judged = self.judge(recorder, spot, run, rotor.as_deref(), &counting);
            does_not_count.extend(self.disagreeing(recorder, spot, run, &judged, &counting));
            if !self.runner.reads_every_plane() {
                let words = "not every plane that shares the tolerance was read";
                does_not_count.push(NotCounted::new(DoesNotCount::PlanesNotRead, None, words));
            }
            reasons.extend(does_not_count.iter().map(|one| one.words.clone()));
            self.say(&judged, run, &mut reasons, recorder);
        } else {
            reasons.extend(does_not_count.iter().map(|one| one.words.clone()));
        }
        if judged.iter().any(|one| one.verdict.is_none()) {
            does_not_count.push(NotCounted::new(DoesNotCount::NotKnown, None, ""));
        }
        if judged.is_empty() {
            let nowhere = "no plane that is read shares the tolerance of the rotor";
            recorder.not_asked(spot, &AT_PLACES, if run.is_some() { nowhere } else { NO_RUN_FOLLOWS });
        }
        let parts = judged.iter().filter_map(|one| one.verdict);
        let verdict = if does_not_count.is_empty() { whole(parts) } else { Verdict::NotShown };
        recorder.words(spot, &result::VERDICT, word_of(verdict));
        match &reasons[..] {
            [] => recorder.not_asked(spot, &[&result::REASONS], "nothing is judged"),
            reasons => recorder.words(spot, &result::REASONS, reasons.join("; ")),
        }
        RecordVerdict { verdict, run, judged, residual, does_not_count, reasons }
    }

    /// What makes the readings that the verdict would rest on count for nothing.
    fn does_not_count(&self, recorder: &Recorder<'b>, last: Option<usize>) -> Vec<NotCounted> {
        let Some(last) = last else {
            let words = if self.has_corrections { NO_RUN_FOLLOWS } else { NO_RUN };
            return vec![NotCounted::new(DoesNotCount::NoRunAfterCorrection, None, words)];
        };
        let rests_on = rests_on(last, self.runs, self.index, self.earlier_index);
        let mut found: Vec<NotCounted> = rests_on.iter().flat_map(|run| self.of_run(*run)).collect();
        // A run beside them says nothing of its own, unless how it sat is all that it lacks.
        for run in self.state.iter().filter(|run| !rests_on.contains(run)) {
            let of_run = self.of_run(*run);
            found.extend(of_run.into_iter().filter(|_| self.counts_but_for_its_seat(*run)));
        }
        found.extend(self.traverses.iter().filter_map(|traverse| of_traverse(traverse, &self.runs[last])));
        found.extend(of_setup(self.setup(), self.runner.measuring, recorder.facts.shop));
        if let Some(untimely @ Untimely::AfterService { .. }) = self.binding.untimely {
            found.push(NotCounted::new(DoesNotCount::CalibrationVoid, None, untimely.words()));
        }
        if let (Some(ran), Some(now)) = (self.revision, text_of(self.setup(), setup::REVISION))
            && ran != now
            && self.binding.by == JudgedBy::Today
        {
            let words = format!("it ran by revision {ran}, the sheet is at revision {now}");
            found.push(NotCounted::new(DoesNotCount::OtherRevision, None, words));
        }
        found
    }

    fn of_run(&self, run: usize) -> Vec<NotCounted> {
        of_run(self.setup(), self.runs, run, self.index.or(self.earlier_index).is_some())
    }

    fn counts_but_for_its_seat(&self, run: usize) -> bool {
        self.of_run(run).iter().all(|one| one.why == DoesNotCount::SeatNotStated)
    }

    /// The runs of the state that count each for itself; the last of them in any case.
    fn counting(&self, last: usize) -> Vec<usize> {
        let counts = |run: &usize| *run == last || self.of_run(*run).is_empty();
        self.state.iter().copied().filter(counts).collect()
    }

    /// At the bearings, else at the planes.
    fn judge(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        run: usize,
        rotor: Option<&[VectorVal<Unbalance>]>,
        counting: &[usize],
    ) -> Vec<Judged> {
        let at_bearings = [0, 1].map(|n| Some((n, self.acting(recorder, spot, rotor, n)?)));
        if let [Some(a), Some(b)] = at_bearings {
            return [a, b].map(|(n, acting)| self.at_bearing(recorder, spot, n, &acting, counting)).into();
        }
        self.at_planes(recorder, spot, run, rotor, counting)
    }

    /// Other runs of the rotor as it is now, each for itself, that say another thing of its tolerance than the last.
    fn disagreeing(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        last: usize,
        judged: &[Judged],
        counting: &[usize],
    ) -> Vec<NotCounted> {
        if self.index.is_some() {
            return Vec::new();
        }
        let mut found = Vec::new();
        for run in counting.iter().copied().filter(|run| *run != last) {
            let rotor = self.rotor_alone(run);
            let other = judged.iter().find_map(|one| {
                let measured = self.measured_at(recorder, spot, run, rotor.as_deref(), one.place)?;
                let verdict = verdict_on(&measured, &one.tolerance, &one.combined_error)?;
                (one.verdict? != verdict).then_some((one, measured, verdict))
            });
            let Some((one, measured, verdict)) = other else { continue };
            let shown = |value: &Val<Unbalance>| {
                value.get().map_or_else(String::new, |known| {
                    display_value(known.raw(), value.unit, value.standard_uncertainty())
                })
            };
            let words = format!(
                "runs `{}` and `{}` of one state disagree: {}, {}, and {} at {}",
                self.runs[run].name,
                self.runs[last].name,
                shown(&measured),
                word_of(verdict),
                shown(&one.measured),
                one.name
            );
            found.push(NotCounted::new(DoesNotCount::RunsDisagree, Some(run), words));
        }
        found
    }

    /// What a run shows at a place.
    fn measured_at(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        run: usize,
        rotor: Option<&[VectorVal<Unbalance>]>,
        place: Place,
    ) -> Option<Val<Unbalance>> {
        match place {
            Place::Bearing(n) => Some(self.acting(recorder, spot, rotor, n)?.amount()),
            Place::Plane(n) => Some(match rotor.and_then(|rotor| rotor.get(n)) {
                Some(vector) => vector.amount(),
                None => self.runs[run].planes.get(n)?.unbalance.amount(),
            }),
        }
    }

    /// The rotor's own unbalance in each plane, without the arbor's where runs have told it.
    fn rotor_alone(&self, run: usize) -> Option<Vec<VectorVal<Unbalance>>> {
        self.runs[run].planes.iter().map(|plane| plane.own_vector().cloned()).collect()
    }

    fn sources<'s>(&'s self, counting: &'s [usize]) -> Sources<'s, 'b> {
        Sources {
            runner: self.runner,
            runs: self.runs,
            state: counting,
            index: self.index.or(self
                .earlier_index
                .filter(|_| self.state.last().is_some_and(|run| self.runs[*run].turned.is_some()))),
        }
    }

    /// What acts at a bearing; nothing when vectors cannot be had, or the tolerance is one of the planes alone.
    fn acting(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        planes: Option<&[VectorVal<Unbalance>]>,
        n: usize,
    ) -> Option<VectorVal<Unbalance>> {
        let (rotor, planes) = (self.setup().rotor.as_ref()?, planes?);
        let by_planes = rotor.governing == Some(ToleranceRule::Planes);
        let known = rotor.bearings.iter().all(Val::is_known) && rotor.at_bearings.iter().all(Val::is_known);
        if by_planes || !known || !self.runner.reads_every_plane() || planes.iter().any(|plane| !plane.is_known()) {
            return None;
        }
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
        let origin =
            crate::book::results::values::entry::origin(&spot.with(Of::Bearing(Bearing::BOTH[n])), &result::MEASURED);
        Some(outputs.vector(0, origin, recorder.facts.shop.unbalance_unit))
    }

    fn at_bearing(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        n: usize,
        acting: &VectorVal<Unbalance>,
        counting: &[usize],
    ) -> Judged {
        let tolerance = self.setup().rotor.as_ref().map(|rotor| rotor.at_bearings[n].clone());
        let tolerance = tolerance.expect("what acts at a bearing is known of a rotor alone");
        let spot = spot.with(Of::Bearing(Bearing::BOTH[n]));
        self.judged(recorder, &spot, Place::Bearing(n), acting.amount(), tolerance, counting)
    }

    /// By amounts in each plane that shares the tolerance.
    fn at_planes(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        run: usize,
        alone: Option<&[VectorVal<Unbalance>]>,
        counting: &[usize],
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
                self.judged(recorder, &spot.of_plane(name), Place::Plane(n), measured, tolerance, counting)
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
        counting: &[usize],
    ) -> Judged {
        recorder.keep(spot, &result::MEASURED, &measured);
        let (errors, combined_error) = self.sources(counting).at(recorder, spot, place);
        let unit = recorder.facts.shop.unbalance_unit;
        let inputs = (&tolerance, &combined_error);
        let limit =
            recorder.work_out(spot, &result::ACCEPTANCE_LIMIT, unit, &by::LIMIT, inputs, |(tolerance, error)| {
                acceptance_limits(tolerance, error).map(|limits| limits.at_the_balancing_machine)
            });
        recorder.work_out(spot, &result::LATER_LIMIT, unit, &by::LATER, inputs, |(tolerance, error)| {
            acceptance_limits(tolerance, error).map(|limits| limits.at_a_later_check)
        });
        let verdict = verdict_on(&measured, &tolerance, &combined_error);
        let values = [&measured, &tolerance, &combined_error];
        match (verdict, values.into_iter().find_map(|value| value.known.as_ref().err())) {
            (Some(verdict), _) => recorder.words(spot, &result::VERDICT_AT, word_of(verdict)),
            (None, Some(missing)) => {
                recorder.not_asked(spot, &[&result::VERDICT_AT], WhyNot::Lacks(missing.clone()));
            }
            (None, None) => {
                recorder.not_asked(spot, &[&result::VERDICT_AT], "the errors leave nothing of the tolerance")
            }
        }
        let name = spot.of.as_ref().map(Of::to_string).unwrap_or_default();
        Judged { place, name, measured, tolerance, errors, combined_error, limit, verdict }
    }

    /// What was judged where, and what a plane's limit would say.
    fn say(&self, judged: &[Judged], run: usize, reasons: &mut Vec<String>, recorder: &Recorder<'b>) {
        for one in judged {
            let shown = |value: &Val<Unbalance>| {
                value.get().map(|known| display_value(known.raw(), value.unit, value.standard_uncertainty()))
            };
            let (measured, limit) = (shown(&one.measured), one.limit.get());
            let limit = limit.map(|limit| display_value(limit.raw(), one.limit.unit, 0.0));
            let lacking = [&one.measured, &one.tolerance, &one.combined_error, &one.limit];
            let lacking = lacking.into_iter().find_map(|value| value.known.as_ref().err());
            reasons.push(match (one.verdict, measured, limit, lacking) {
                (Some(verdict), Some(measured), Some(limit), _) => {
                    format!("{}: {measured} of {limit}, {}", one.name, word_of(verdict))
                }
                (.., Some(missing)) => {
                    format!(
                        "{}: not known, as {}",
                        one.name,
                        crate::book::results::values::missing::why(recorder.facts.book, missing)
                    )
                }
                _ => format!("{}: not known", one.name),
            });
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

/// The verdict on what was measured; `None` when something that it needs is not known.
fn verdict_on(
    measured: &Val<Unbalance>,
    tolerance: &Val<Unbalance>,
    combined_error: &Val<Unbalance>,
) -> Option<Verdict> {
    let uncertainty = Unbalance::from_base(measured.expanded_uncertainty());
    judge(measured.get()?, uncertainty, tolerance.get()?, combined_error.get()?).ok()
}

fn text_of<'a>(setup: &'a SetupResults<'_>, key: Fact<Text>) -> Option<&'a str> {
    match &setup.block.field(key)?.field.value {
        crate::sheet::FieldValue::Text(text) => Some(text),
        _ => None,
    }
}
