//! Trial runs of a setup: what each put in, by how much it changed the readings, and what one plane hears of the other.

mod change;
pub(in crate::book::results) mod influence;
pub(in crate::book::results) mod interference;
pub(in crate::book::results) mod kept;
pub(in crate::book::results) mod series;
mod without_phase;

use crate::book::effective::EffectiveBlock;
use crate::book::results::bench::Bench;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::syntax::Kind;
use crate::vocabulary::result;
use influence::InfluenceResults;
use interference::PreBalanced;
use series::{BY_TRIALS, Series, TrialRunResults, channels, planes, run, states};

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
    let channels = channels(bench, &runs);
    // Trials that nobody has read yet say nothing.
    if channels.is_empty() {
        let why = "no trial run has a reading";
        recorder.not_asked(&whole, &BY_TRIALS, why);
        for run in &runs {
            let specs = [&result::CHANGE_OF_AMOUNT, &result::CHANGE_OF_ANGLE, &result::INTERFERENCE];
            recorder.not_asked(&Spot::heading(&run.block, bench.id), &specs, why);
        }
        return None;
    }
    let planes = planes(bench, &runs);
    let with_angles = runs.iter().flat_map(|run| &run.readings).all(|reading| reading.angle.is_some());
    let states = states(&runs);
    let series = Series { bench, runs: &runs, channels: &channels, planes: &planes, mapping, with_angles, states };
    let changes: Vec<_> = (0..runs.len()).map(|run| series.change(recorder, run)).collect();
    let without_phase = !with_angles && planes.len() == 1;
    let found = match without_phase {
        true => without_phase::of(recorder, &series),
        false => influence::of(recorder, &series),
    };
    let pre_balanced = (!with_angles).then(|| series.pre_balanced(recorder)).flatten();
    let interference: Vec<_> =
        (0..runs.len()).map(|run| series.interference(recorder, run, &found, pre_balanced.as_ref())).collect();
    for (run, ((amount, angle), interference)) in runs.iter_mut().zip(changes.into_iter().zip(interference)) {
        run.change_of_amount = amount;
        run.change_of_angle = angle;
        run.interference = interference;
    }
    Some(TrialResults { runs, channels, planes, with_angles, pre_balanced, is_kept: false, found })
}
