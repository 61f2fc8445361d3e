//! Trial runs of a setup: what each put in, by how much it changed the readings, and what one plane hears of the other.

mod change;
pub(in crate::book::results) mod influence;
pub(in crate::book::results) mod interference;
pub(in crate::book::results) mod kept;
pub(in crate::book::results) mod series;
pub(in crate::book::results) mod sets;
mod without_phase;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::origin::Reason;
use crate::book::results::bench::Bench;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::syntax::Kind;
use crate::units::{Angle, Ratio, Speed};
use crate::vocabulary::result;
use influence::InfluenceResults;
use interference::PreBalanced;
use series::{BY_TRIALS, Series, TrialRunResults, channels, run, states};

/// What is computed of a setup's trial runs.
pub struct TrialResults<'b> {
    /// In the order in which they are written.
    pub runs: Vec<TrialRunResults<'b>>,
    /// The channels that were read, in the order of the machine's.
    pub channels: Vec<&'b str>,
    /// The planes that carried a trial mass, in the order of the rotor's.
    pub planes: Vec<&'b str>,
    /// Whether every reading has its angle; without them, amounts alone are compared.
    pub with_angles: bool,
    /// Without angles: whether the amounts as found were small enough for amounts to be compared.
    pub pre_balanced: Option<PreBalanced>,
    /// A proof or a record has kept what they told; the runs themselves are not asked.
    pub is_kept: bool,
    pub found: InfluenceResults,
    /// The runs at the balancing speed, by number: what `found` rests on.
    pub at_balancing_speed: Vec<usize>,
    /// What runs at other speeds tell, each of its own.
    pub others: Vec<sets::OtherSpeed<'b>>,
    /// Of the runs that `found` rests on; `None` where nobody says it.
    speed: Option<Speed>,
    /// Speeds that differ by no more are the same.
    within: Ratio,
}

impl<'b> TrialResults<'b> {
    /// The runs that readings at the balancing speed are judged by.
    pub fn of_balancing_speed(&self) -> impl Iterator<Item = &TrialRunResults<'b>> {
        self.at_balancing_speed.iter().map(|run| &self.runs[*run])
    }

    /// Whether readings are still open that the influences wait for.
    pub fn has_readings_to_come(&self) -> bool {
        let is_open = |run: &TrialRunResults<'b>| run.readings.iter().any(|reading| !reading.amount.is_known());
        self.found.coefficients.iter().flatten().any(|one| !one.is_known()) && self.of_balancing_speed().any(is_open)
    }

    /// Which two unbalances explain amounts without angles, where another trial is needed to tell which.
    pub fn two_answers(&self) -> Option<&str> {
        match &self.found.found.first()?.known.as_ref().err()?.reason {
            Reason::Ambiguous(why) => Some(why),
            _ => None,
        }
    }

    /// What trials at the speed of a run tell, where that is another than the balancing speed.
    pub fn at_other_speed(&self, speed: Option<Speed>) -> Option<&sets::OtherSpeed<'b>> {
        let is_own = speed.is_some() && self.speed.is_some() && self.tells_at(speed);
        self.others.iter().find(|set| set.is_at(speed)).filter(|_| !is_own)
    }

    /// Whether `found` holds at the speed of a run, as far as speeds are said.
    pub fn tells_at(&self, speed: Option<Speed>) -> bool {
        self.speed.zip(speed).is_none_or(|(own, speed)| sets::is_same(own, speed, self.within))
    }
}

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    bench: &Bench<'_, 'b>,
    mapping: &[(&'b str, &'b str)],
) -> Option<TrialResults<'b>> {
    let angles = bench.angles();
    let blocks: Vec<&EffectiveBlock<'b>> = bench.setup.inner(Kind::Trial).collect();
    let whole = Spot::heading(bench.setup, bench.id);
    if blocks.is_empty() {
        recorder.not_asked(&whole, &BY_TRIALS, "the sheet has no trial runs");
        return None;
    }
    let mut runs: Vec<TrialRunResults<'b>> =
        blocks.into_iter().map(|block| run(recorder, &angles, bench, block)).collect();
    // Trials that nobody has read yet say nothing.
    if channels(bench, &runs, &all(&runs)).is_empty() {
        let why = "no trial run has a reading";
        recorder.not_asked(&whole, &BY_TRIALS, why);
        for run in &runs {
            let specs = [&result::CHANGE_OF_AMOUNT, &result::CHANGE_OF_ANGLE, &result::INTERFERENCE];
            recorder.not_asked(&Spot::heading(&run.block, bench.id), &specs, why);
            recorder.not_asked(&Spot::heading(&run.block, bench.id), &sets::OF_OTHER_SPEED, why);
        }
        return None;
    }
    let states = states(&runs);
    let sets = sets::by_speed(bench, &runs);
    let series = |members: &[usize]| Series::of(bench, &runs, members, mapping, states.clone());
    let main = series(&sets.at_balancing_speed);
    let changes = told_by_runs(recorder, &main);
    let (found, pre_balanced) = found(recorder, &main);
    let with_interference = interference(recorder, &main, &found, pre_balanced.as_ref());
    let (channels, planes, with_angles) = (main.channels.clone(), main.planes.clone(), main.with_angles);
    let mut told: Vec<Told> = std::iter::zip(changes, with_interference).collect();
    let mut others = Vec::new();
    let mut order = sets.at_balancing_speed.clone();
    for members in &sets.at_other_speeds {
        let of_set = series(members);
        let changes = told_by_runs(recorder, &of_set);
        let found = sets::found(recorder, &of_set, found_quietly);
        let with_interference = interference(recorder, &of_set, &found, None);
        told.extend(std::iter::zip(changes, with_interference));
        order.extend(members);
        others.push(sets::OtherSpeed::of(&of_set, sets.within, found));
    }
    for run in &sets.at_balancing_speed {
        let spot = Spot::heading(&runs[*run].block, bench.id);
        recorder.not_asked(&spot, &sets::OF_OTHER_SPEED, "the trial was made at the balancing speed");
    }
    for (run, ((amount, angle), interference)) in order.into_iter().zip(told) {
        runs[run].change_of_amount = amount;
        runs[run].change_of_angle = angle;
        runs[run].interference = interference;
    }
    let at_balancing_speed = sets.at_balancing_speed;
    let speed = at_balancing_speed.iter().find_map(|run| runs[*run].speed.get());
    Some(TrialResults {
        runs,
        channels,
        planes,
        with_angles,
        pre_balanced,
        is_kept: false,
        found,
        at_balancing_speed,
        others,
        speed,
        within: sets.within,
    })
}

/// By how much a run changed amount and angle.
type Changed = (Option<Val<Ratio>>, Option<Val<Angle>>);

/// The same, and what the run shows in another plane.
type Told = (Changed, Option<Val<Ratio>>);

fn all(runs: &[TrialRunResults<'_>]) -> Vec<usize> {
    (0..runs.len()).collect()
}

fn told_by_runs<'b>(recorder: &mut Recorder<'b>, series: &Series<'_, 'b>) -> Vec<Changed> {
    series.members.iter().map(|run| series.change(recorder, *run)).collect()
}

fn interference<'b>(
    recorder: &mut Recorder<'b>,
    series: &Series<'_, 'b>,
    found: &InfluenceResults,
    pre_balanced: Option<&PreBalanced>,
) -> Vec<Option<Val<Ratio>>> {
    series.members.iter().map(|run| series.interference(recorder, *run, found, pre_balanced)).collect()
}

fn found<'b>(recorder: &mut Recorder<'b>, series: &Series<'_, 'b>) -> (InfluenceResults, Option<PreBalanced>) {
    let found = found_quietly(recorder, series);
    let pre_balanced = (!series.with_angles).then(|| series.pre_balanced(recorder)).flatten();
    (found, pre_balanced)
}

fn found_quietly<'b>(recorder: &mut Recorder<'b>, series: &Series<'_, 'b>) -> InfluenceResults {
    let without_phase = !series.with_angles && series.planes.len() == 1;
    match without_phase {
        true => without_phase::of(recorder, series),
        false => influence::of(recorder, series),
    }
}
