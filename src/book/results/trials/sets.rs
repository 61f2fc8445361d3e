//! Trials by their speeds: those at the balancing speed are one set, and those at each other speed a set of their own.

use super::influence::InfluenceResults;
use super::series::{Series, TrialRunResults};
use crate::book::derive::Val;
use crate::book::results::bench::Bench;
use crate::book::results::values::entry::{Entry, Recorder, Spot};
use crate::mechanics::drive::band_of_equal_speed;
use crate::units::{Ratio, Speed};
use crate::vocabulary::{ResultSpec, result};

/// What trials at another speed than the balancing speed tell, beside their run as found.
pub(in crate::book::results) const OF_OTHER_SPEED: [&ResultSpec; 3] =
    [&result::SET_INFLUENCE, &result::SET_FOUND, &result::SET_CORRECTION];

/// Trials at another speed.
pub struct OtherSpeed<'b> {
    pub speed: Val<Speed>,
    within: Ratio,
    /// The runs, by number.
    pub runs: Vec<usize>,
    pub channels: Vec<&'b str>,
    pub planes: Vec<&'b str>,
    pub found: InfluenceResults,
}

impl<'b> OtherSpeed<'b> {
    pub(super) fn of(series: &Series<'_, 'b>, within: Ratio, found: InfluenceResults) -> Self {
        let runs = series.members.clone();
        let speed = series.runs[runs[0]].speed.clone();
        Self { speed, within, runs, channels: series.channels.clone(), planes: series.planes.clone(), found }
    }

    pub fn is_at(&self, speed: Option<Speed>) -> bool {
        self.speed.get().zip(speed).is_some_and(|(own, speed)| is_same(own, speed, self.within))
    }

    /// Whether its runs tell what its channels read of its planes.
    pub fn is_whole(&self) -> bool {
        let known = self.found.coefficients.iter().flatten().all(|one| one.is_known());
        !self.found.coefficients.is_empty() && known || self.found.worth_of_amount.is_some()
    }
}

/// The runs by number, in sets of one speed.
pub(super) struct Sets {
    pub at_balancing_speed: Vec<usize>,
    pub at_other_speeds: Vec<Vec<usize>>,
    pub within: Ratio,
}

/// Runs of which no speed is known go with the balancing speed. Where that is not known itself, with the first run.
pub(super) fn by_speed<'b>(bench: &Bench<'_, 'b>, runs: &[TrialRunResults<'b>]) -> Sets {
    let within = bench.within();
    let speed = |run: usize| runs[run].speed.get();
    let main = bench.speed.get().or_else(|| (0..runs.len()).find_map(speed));
    let at = |run: usize, of: Option<Speed>| speed(run).zip(of).is_none_or(|(own, of)| is_same(of, own, within));
    let (at_balancing_speed, others): (Vec<usize>, Vec<usize>) = (0..runs.len()).partition(|run| at(*run, main));
    let mut at_other_speeds: Vec<Vec<usize>> = Vec::new();
    for run in others {
        match at_other_speeds.iter_mut().find(|set| at(run, speed(set[0]))) {
            Some(set) => set.push(run),
            None => at_other_speeds.push(vec![run]),
        }
    }
    Sets { at_balancing_speed, at_other_speeds, within }
}

pub(super) fn is_same(speed: Speed, other: Speed, within: Ratio) -> bool {
    band_of_equal_speed(speed, within).is_ok_and(|[low, high]| (low..=high).contains(&other))
}

/// What trials at another speed tell, kept beside their run as found under names of their own.
pub(super) fn found<'b>(
    recorder: &mut Recorder<'b>,
    series: &Series<'_, 'b>,
    find: impl Fn(&mut Recorder<'b>, &Series<'_, 'b>) -> InfluenceResults,
) -> InfluenceResults {
    let mut aside = Recorder::new(recorder.facts);
    let found = find(&mut aside, series);
    let stands = series.as_found().unwrap_or(series.members[0]);
    let spot = Spot::heading(&series.runs[stands].block, series.bench.id);
    let renamed = [&result::INFLUENCE, &result::UNBALANCE_FOUND, &result::CALLED_FOR].into_iter().zip(OF_OTHER_SPEED);
    for (spec, own) in renamed {
        let entries = aside.entries.iter().filter(|entry| entry.is(spec));
        let under = |entry: &Entry| Entry { spec: own, path: spot.path.clone(), place: spot.place, ..entry.clone() };
        recorder.entries.extend(entries.map(under));
        if !aside.entries.iter().any(|entry| entry.is(spec)) {
            recorder.not_asked(&spot, &[own], "the trials at this speed do not tell it");
        }
    }
    for run in series.members.iter().filter(|run| **run != stands) {
        let spot = Spot::heading(&series.runs[*run].block, series.bench.id);
        recorder.not_asked(&spot, &OF_OTHER_SPEED, "it is said beside the run as found of this speed");
    }
    found
}
