//! Runs that read like a mass of the sheet at its place: it may still have been on the rotor.

use super::run::{RunResults, Runner};
use super::step::StepResults;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::results::measuring::Found;
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::render::display_value;
use crate::book::vectors::VectorVal;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Amount, Angle, Length, Mass, Typed, Unbalance, Vector};
use crate::vocabulary::calibrate::TakenAs;
use crate::vocabulary::{calibrate, check_mass, run, trial};

/// A run that shows, in one plane, what a mass of the sheet puts in there.
pub struct ReadsLikeMass<'b> {
    /// By its number in the record.
    pub run: usize,
    pub plane: &'b str,
    /// `the calibration mass in plane hub (2.00 g at 0 deg)`
    pub mass: String,
}

impl ReadsLikeMass<'_> {
    /// Why nothing is corrected by it, and what shows whether it may be.
    pub fn words(&self, name: &str) -> String {
        format!(
            "run `{name}` reads like {}: is it still on? If it is, take it off, write `{}: on` in this run, and run again; if \
             all masses are off, run again, and what reads the same twice is the rotor's own",
            self.mass,
            run::CALIBRATION_MASSES
        )
    }
}

/// So much of what a mass puts in may be missing from what is read of it. Source: common practice, no source.
const READS_TO: f64 = 0.10;

/// What a correction leaves, up to the tolerance, is read with the mass: so much of the mass at most. Source: common
/// practice, no source.
const LEFT_BESIDE: f64 = 0.25;

/// Readings that leave more of a mass open than this do not tell one. Source: common practice, no source.
const TELLS: f64 = 1.0 / 3.0;

/// One mass at one place.
struct MassOfSheet<'b> {
    plane: &'b str,
    called: String,
    puts_in: Vector<Unbalance>,
    /// What a trial with it on showed in each plane, where it is one of the rotor as it may be now.
    shown: Option<Vec<Vector<Unbalance>>>,
}

/// For each state of the rotor and each mass the last run that reads so, until the rotor reads so twice with the masses said
/// to be off: then it is the rotor's own. On an arbor both runs sit alike.
pub(in crate::book::results) fn of<'b>(
    recorder: &Recorder<'b>,
    runner: &Runner<'_, 'b>,
    runs: &[RunResults<'b>],
    steps: &[StepResults<'b>],
    states: &[Vec<usize>],
) -> Vec<ReadsLikeMass<'b>> {
    if runner.setup.is_on_stand() || runs.is_empty() {
        return Vec::new();
    }
    let masses = masses(recorder, runner);
    let mut found = Vec::new();
    for (n, state) in states.iter().enumerate() {
        for mass in &masses {
            let reads_so = |run: &&usize| {
                let reading = Reading { runner, run: &runs[**run], number: **run, steps, is_first_state: n == 0 };
                runs[**run].calibration_masses_on != Some(true) && reading.is_like(mass)
            };
            let like: Vec<usize> = state.iter().filter(reads_so).copied().collect();
            let Some(last) = like.last().filter(|_| !is_confirmed(runs, &like)) else { continue };
            let is_told = |one: &ReadsLikeMass<'b>| one.run == *last && one.plane == mass.plane;
            if !found.iter().any(is_told) {
                found.push(ReadsLikeMass { run: *last, plane: mass.plane, mass: mass.called.clone() });
            }
        }
    }
    found
}

/// Whether two of the runs were made alike, and the later one says that all masses were off.
fn is_confirmed(runs: &[RunResults<'_>], like: &[usize]) -> bool {
    let seat = |run: usize| runs[run].turned.as_ref().and_then(Val::get).map(Angle::in_degrees);
    let pairs = like.iter().enumerate().flat_map(|(n, later)| like[..n].iter().map(move |earlier| (*earlier, *later)));
    let is_alike = |(earlier, later): (usize, usize)| seat(earlier) == seat(later);
    let says_off = |later: usize| runs[later].calibration_masses_on == Some(false);
    pairs.into_iter().any(|pair| is_alike(pair) && says_off(pair.1))
}

/// One run of a record, as it may be told by a mass.
struct Reading<'a, 'b> {
    runner: &'a Runner<'a, 'b>,
    run: &'a RunResults<'b>,
    number: usize,
    steps: &'a [StepResults<'b>],
    is_first_state: bool,
}

impl Reading<'_, '_> {
    fn is_like(&self, mass: &MassOfSheet<'_>) -> bool {
        let Some(shown) = self.run.plane(mass.plane).and_then(|plane| plane.own_vector()) else { return false };
        let Some(read) = shown.get() else { return false };
        let tolerance = self.runner.plane(mass.plane).and_then(|plane| plane.tolerance.get());
        let puts_in = mass.puts_in.amount();
        // What is within its tolerance calls for nothing.
        if tolerance.is_some_and(|tolerance| read.amount() <= tolerance) {
            return false;
        }
        let known_to = known_to(shown).max(puts_in * READS_TO);
        let is_within =
            |off: Vector<Unbalance>, known_to: Unbalance| off.amount() <= known_to && known_to <= puts_in * TELLS;
        let left = tolerance.unwrap_or(Unbalance::ZERO).min(puts_in * LEFT_BESIDE);
        let beside = if self.is_first_state { known_to } else { known_to.max(left) };
        let foretold = self.steps.iter().filter(|step| step.to == self.number).flat_map(|step| &step.foretold);
        let mut expected = foretold.filter(|one| one.plane == mass.plane).map(|one| one.expected);
        is_within(read - mass.puts_in, beside)
            || expected.any(|expected| is_within(read - expected - mass.puts_in, known_to))
            || self.is_first_state && self.is_as_tried(mass, known_to)
    }

    /// Whether each plane shows what it did in the trial with the mass on.
    fn is_as_tried(&self, mass: &MassOfSheet<'_>, known_to: Unbalance) -> bool {
        let Some((shown, read)) = mass.shown.as_ref().zip(self.run.vectors()) else { return false };
        let is_near = |(shown, read): (&Vector<Unbalance>, &VectorVal<Unbalance>)| {
            read.get().is_some_and(|read| (read - *shown).amount() <= known_to)
        };
        known_to <= mass.puts_in.amount() * TELLS && shown.len() == read.len() && shown.iter().zip(read).all(is_near)
    }
}

/// How far the tip of a vector may lie off by what is read, k = 2.
fn known_to(shown: &VectorVal<Unbalance>) -> Unbalance {
    let amount = shown.amount();
    let across = amount.get().map_or(0.0, |amount| amount.base()) * 2.0 * shown.angle().standard_uncertainty();
    Unbalance::from_base(amount.expanded_uncertainty().hypot(across))
}

/// The calibration masses, the trial masses and the check mass, each where it is put on.
fn masses<'b>(recorder: &Recorder<'b>, runner: &Runner<'_, 'b>) -> Vec<MassOfSheet<'b>> {
    let setup = runner.setup;
    let mut all = Vec::new();
    for one in &setup.calibrations {
        let Some(block) = &one.block else { continue };
        let angle: Val<Angle> = recorder.facts.quantity(block, calibrate::ANGLE);
        let at = Place { plane: one.plane, mass: &one.mass, radius: &one.radius, angle: &angle };
        let called = format!("the calibration mass in plane {}", one.plane);
        all.extend(at.mass(&called, 0.0));
        if block.choice(calibrate::TAKEN_AS) == Some(TakenAs::MeanOfTwoOppositePositions) {
            all.extend(at.mass(&called, 180.0));
        }
    }
    for block in setup.block.inner(Kind::Trial) {
        let Some(FieldValue::Name(plane)) = block.field(trial::MASS_IN).map(|field| &field.field.value) else {
            continue;
        };
        let mass: Val<Mass> = recorder.facts.quantity(block, trial::MASS);
        let radius: Val<Length> = recorder.facts.radius(block, trial::RADIUS, trial::DIAMETER);
        let angle: Val<Angle> = recorder.facts.quantity(block, trial::ANGLE);
        let at = Place { plane: &plane.text, mass: &mass, radius: &radius, angle: &angle };
        let called = format!("the trial mass in plane {}", plane.text);
        let shown = shown_by_trial(recorder, runner, block);
        all.extend(at.mass(&called, 0.0).map(|mass| MassOfSheet { shown, ..mass }));
    }
    if let Some(check) = &setup.check_mass {
        let radius: Val<Length> = recorder.facts.radius(&check.block, check_mass::RADIUS, check_mass::DIAMETER);
        let angle: Val<Angle> = recorder.facts.quantity(&check.block, check_mass::ANGLE);
        let at = Place { plane: check.plane, mass: &check.mass, radius: &radius, angle: &angle };
        all.extend(at.mass(&format!("the check mass in plane {}", check.plane), 0.0));
    }
    all
}

struct Place<'a, 'b> {
    plane: &'b str,
    mass: &'a Val<Mass>,
    radius: &'a Val<Length>,
    angle: &'a Val<Angle>,
}

impl<'b> Place<'_, 'b> {
    fn mass(&self, called: &str, further: f64) -> Option<MassOfSheet<'b>> {
        let (mass, angle) = (self.mass.get()?, self.angle.get()? + Angle::degrees(further));
        let puts_in = mass * self.radius.get()?;
        let shown = display_value(mass.raw(), self.mass.unit, 0.0);
        let at = display_value(angle.raw(), self.angle.unit, 0.0);
        Some(MassOfSheet {
            plane: self.plane,
            called: format!("{called} ({shown} at {at})"),
            puts_in: Vector::from_polar(puts_in, angle),
            shown: None,
        })
    }
}

/// What a trial shows in each plane, its mass with it; `None` where it does not tell all of them.
fn shown_by_trial<'b>(
    recorder: &Recorder<'b>,
    runner: &Runner<'_, 'b>,
    block: &EffectiveBlock<'b>,
) -> Option<Vec<Vector<Unbalance>>> {
    let found = runner.found_in_trial(&mut Recorder::new(recorder.facts), block);
    let vectors = found.iter().map(|found: &Found| found.vector()?.get());
    vectors.collect::<Option<Vec<_>>>().filter(|vectors| !vectors.is_empty())
}
