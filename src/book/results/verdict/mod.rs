//! The verdict on a record: every limit that stands, each with a budget of what may put the measured unbalance wrong.

mod apart;
pub(in crate::book::results) mod budget;
mod cheapest;
pub(in crate::book::results) mod counting;
mod judged;
mod keep;
mod rows;
mod self_proof;
mod state;
pub(in crate::book::results) mod to_read;
mod vibration;

use std::cell::OnceCell;

use crate::book::results::rotor::limits::Limit;
use crate::book::results::runs::arbor_stated::not_turned;
use crate::book::results::runs::index::IndexResults;
use crate::book::results::runs::run::{RunResults, Runner};
use crate::book::results::runs::seating::SeatInDoubt;
use crate::book::results::runs::step::StepResults;
use crate::book::results::runs::traverse::TraverseResults;
use crate::book::results::setup::SetupResults;
use crate::book::results::setup::binding::{Binding, JudgedBy, Untimely};
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::vectors::VectorVal;
use crate::mechanics::verdict::{Verdict, judge, whole};
use crate::units::Unbalance;
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, Fact, Text, result, setup};
pub use apart::RunApart;
use budget::{Indexing, Sources};
use counting::{DoesNotCount, NotCounted, of_run, of_setup, of_traverse, rests_on};
use keep::{keep_row, say_row};
use rows::JudgedRow;
use self_proof::SelfProof;
use state::State;

pub use judged::{Judged, word_of, word_of_row};
pub(in crate::book::results) use keep::AT_LIMITS;

/// The verdict on a record with all it rests on.
#[derive(Clone, Debug)]
pub struct RecordVerdict {
    pub verdict: Verdict,
    /// The last run that is judged.
    pub run: Option<usize>,
    pub judged: Vec<Judged>,
    /// The rotor's own unbalance in each plane, without the arbor's where runs have told it; empty without angles.
    pub residual: Vec<(String, VectorVal<Unbalance>)>,
    pub does_not_count: Vec<NotCounted>,
    /// Runs of one state that lie farther apart than their readings are known to.
    pub apart: Vec<RunApart>,
    pub reasons: Vec<String>,
}

impl RecordVerdict {
    /// Of the reasons the one that withholds the word: what does not count, else the worst row, where it is not within.
    pub fn withheld_by(&self) -> Option<&str> {
        let not_counted = self.does_not_count.iter().filter(|one| one.why != DoesNotCount::NotKnown).count();
        let word = |one: &Judged| one.verdict.unwrap_or(Verdict::NotShown);
        let rows = self.judged.iter().map(word).enumerate().rev();
        let worst = rows.max_by_key(|(_, word)| *word).filter(|(_, word)| !word.is_good()).map(|(n, _)| n);
        let n = if not_counted > 0 { 0 } else { worst.unwrap_or(self.judged.len()) };
        self.reasons.get(n).map(String::as_str)
    }

    /// What counts for nothing for this reason, one for each run that is to blame.
    pub fn not_counted(&self, why: DoesNotCount) -> impl Iterator<Item = &NotCounted> {
        self.does_not_count.iter().filter(move |one| one.why == why)
    }
}

pub(in crate::book::results) const NO_RUN: &str = "there is no run";
const NO_RUN_FOLLOWS: &str = "no run follows the last correction";

/// A record on its way to its verdict.
pub(in crate::book::results) struct Judging<'a, 'b> {
    pub runner: &'a Runner<'a, 'b>,
    pub runs: &'a [RunResults<'b>],
    /// The runs after the last correction.
    pub state: &'a [usize],
    pub has_corrections: bool,
    pub steps: &'a [StepResults<'b>],
    pub in_doubt: &'a [SeatInDoubt],
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
        let mut does_not_count = self.does_not_count(recorder, run);
        let (mut judged, mut residual, mut apart) = (Vec::new(), Vec::new(), Vec::new());
        if let Some(run) = run {
            let state = State::of(recorder, self.runner, spot, self.runs, (self.counting(run), self.index));
            residual = residuals(&state);
            if self.index.is_none() {
                apart = apart::of(recorder, spot, self.runs, &state.runs);
            }
            judged = self.judge(recorder, spot, &state);
            apart.extend(apart::of_mountings(self.runs, &judged));
            let counting: Vec<&RunResults<'b>> = state.runs.iter().map(|run| &self.runs[*run]).collect();
            judged.extend(vibration::judge_channels(recorder, spot, self.setup(), &counting));
        }
        if let Some(plane) = run.and_then(|_| self.runner.unread()) {
            let words = format!("plane {plane} shares the tolerance, and was not read");
            does_not_count.push(NotCounted::new(DoesNotCount::PlanesNotRead, None, words));
        }
        let mut reasons: Vec<String> = does_not_count.iter().map(|one| one.words.clone()).collect();
        reasons.extend(judged.iter().map(|one| say_row(recorder, one, word_of_row(one, &does_not_count))));
        reasons.extend(self.steps.iter().filter_map(|step| contradicted(step, self.runs)));
        if judged.iter().any(|one| one.verdict.is_none()) {
            does_not_count.push(NotCounted::new(DoesNotCount::NotKnown, None, ""));
        }
        if judged.is_empty() {
            let nowhere = "the rotor has no limit";
            recorder.not_asked(spot, &AT_LIMITS, if run.is_some() { nowhere } else { NO_RUN_FOLLOWS });
        }
        let not_assessed = not_assessed(&judged);
        let verdict = self.word(recorder, &judged, &does_not_count);
        recorder.words(spot, &result::VERDICT, word_of(verdict));
        match &not_assessed[..] {
            [] => recorder.not_asked(
                spot,
                &[&result::NOT_ASSESSED],
                "every line of the budget is known, or nothing is judged",
            ),
            names => recorder.words(spot, &result::NOT_ASSESSED, names.join(", ")),
        }
        let way = cheapest::way(&judged, verdict).filter(|_| does_not_count.is_empty());
        match way {
            Some(way) => recorder.words(spot, &result::CHEAPEST_WAY, way),
            None => recorder.not_asked(spot, &[&result::CHEAPEST_WAY], "the word is a clean one, or nothing counts"),
        }
        match &reasons[..] {
            [] => recorder.not_asked(spot, &[&result::REASONS], "nothing is judged"),
            reasons => recorder.words(spot, &result::REASONS, reasons.join("; ")),
        }
        RecordVerdict { verdict, run, judged, residual, does_not_count, apart, reasons }
    }

    /// Over if one row is, as read where a line of its budget is not known; else not shown if one is not, or the readings do
    /// not count; else within, as read where a line of a budget is not known. What the shop needs and nobody knows leaves it not shown.
    fn word(&self, recorder: &Recorder<'b>, judged: &[Judged], does_not_count: &[NotCounted]) -> Verdict {
        let mut against = does_not_count.iter().filter(|one| one.why != DoesNotCount::NotKnown).peekable();
        if against.peek().is_some() {
            // A needle on its stop shows that there is at least so much.
            let is_over = |one: &Judged| one.verdict.filter(|word| *word >= Verdict::OverAsRead);
            let over = judged.iter().filter_map(is_over).max();
            let at_least = against.all(|one| one.why == DoesNotCount::ReadingAtEndOfScale);
            return over.filter(|_| at_least).unwrap_or(Verdict::NotShown);
        }
        let rows = whole(judged.iter().map(|one| one.verdict.unwrap_or(Verdict::NotShown)));
        let needs = &recorder.facts.shop.verdict_needs;
        let needed = |line: &str| needs.iter().any(|need| **need == *line);
        // An error that the shop wants stated, and nobody states.
        let is_there = |need: &str, one: &Judged| one.budget.lines.iter().any(|line| *line.name == *need);
        let unsaid = |need: &str| BudgetLine::of(need).is_none() && judged.iter().any(|one| !is_there(need, one));
        let lacking =
            judged.iter().any(|one| one.budget.not_assessed().any(needed)) || needs.iter().any(|need| unsaid(need));
        if rows < Verdict::NotShown && lacking { Verdict::NotShown } else { rows }
    }

    fn judge(&self, recorder: &mut Recorder<'b>, spot: &Spot, state: &State<'b>) -> Vec<Judged> {
        let limits = self.setup().rotor.as_ref().map_or(&[][..], |rotor| &rotor.limits);
        let earlier =
            self.earlier_index.filter(|_| self.state.last().is_some_and(|run| self.runs[*run].turned.is_some()));
        let index = self.index.map(Indexing::Told).or(earlier.map(Indexing::Earlier));
        let by_record = SelfProof::of(self.steps);
        let sources = Sources {
            runner: self.runner,
            runs: self.runs,
            state,
            index,
            by_record: &by_record,
            before_proof: matches!(self.binding.untimely, Some(Untimely::BeforeProof { .. })),
            day: self.binding.day,
            proven: OnceCell::new(),
        };
        limits.iter().map(|limit| self.judge_one(recorder, spot, &sources, limit)).collect()
    }

    fn judge_one(&self, recorder: &mut Recorder<'b>, spot: &Spot, sources: &Sources<'_, 'b>, limit: &Limit) -> Judged {
        let row = JudgedRow::of(recorder, spot, sources.state, limit, self.runner.unread());
        let budget = sources.budget(recorder, &row);
        let verdict = || judge([row.best?, row.measured.get()?], limit.amount.get()?, budget.uncertainty?).ok();
        let verdict = verdict().map(|word| judged::as_read(word, &budget));
        // What is at least so much may be over, and is never shown to be within.
        let verdict = match verdict {
            Some(Verdict::Within | Verdict::WithinAsRead) if row.is_at_least => Some(Verdict::NotShown),
            verdict => verdict,
        };
        keep_row(recorder, spot, row, budget, verdict)
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
        let of_arbor = self.index.or(self.earlier_index);
        let not_turned = of_arbor.and_then(|index| not_turned(self.setup(), self.runs, index));
        found.extend(not_turned.map(|words| NotCounted::new(DoesNotCount::NotTurned, None, words)));
        if let Some(untimely @ Untimely::AfterService { .. }) = self.binding.untimely {
            found.push(NotCounted::new(DoesNotCount::CalibrationVoid, None, untimely.words()));
        }
        if let (Some(ran), Some(now)) = (self.revision, text_of(self.setup(), setup::REVISION))
            && ran != now
            && self.binding.by == JudgedBy::Today
        {
            let words = format!("it was run to revision {ran}, the sheet is at revision {now}");
            found.push(NotCounted::new(DoesNotCount::OtherRevision, None, words));
        }
        found
    }

    fn of_run(&self, run: usize) -> Vec<NotCounted> {
        let mut found = of_run(self.setup(), self.runs, run, self.index.or(self.earlier_index).is_some());
        let doubt = self.in_doubt.iter().filter(|doubt| doubt.run == run && self.index.is_none());
        let words = doubt.map(|doubt| doubt.words(self.runs[run].name));
        found.extend(words.map(|words| NotCounted::new(DoesNotCount::SeatInDoubt, Some(run), words)));
        found
    }

    fn counts_but_for_its_seat(&self, run: usize) -> bool {
        let of_seat = [DoesNotCount::SeatNotStated, DoesNotCount::SeatInDoubt];
        self.of_run(run).iter().all(|one| of_seat.contains(&one.why))
    }

    /// The runs of the state that count each for itself; the last of them where none does.
    fn counting(&self, last: usize) -> Vec<usize> {
        let counting: Vec<usize> = self.state.iter().copied().filter(|run| self.of_run(*run).is_empty()).collect();
        if counting.is_empty() { vec![last] } else { counting }
    }
}

/// The last run is a measurement, and is judged as one; that what was recorded as done before it does not fit it is said beside it.
fn contradicted(step: &StepResults<'_>, runs: &[RunResults<'_>]) -> Option<String> {
    let planes: Vec<&str> = step.contradicted().collect();
    let run = runs[step.to].name;
    (!planes.is_empty()).then(|| {
        let planes = planes.join(" and ");
        format!(
            "the corrections recorded before run \"{run}\" do not fit what it shows in plane {planes}: the verdict rests on \
             its readings alone"
        )
    })
}

/// The planes' own vectors, where all are known.
fn residuals(state: &State<'_>) -> Vec<(String, VectorVal<Unbalance>)> {
    let named = state.planes.iter().map(|plane| Some((plane.name.to_owned(), plane.found.vector()?.clone())));
    named.collect::<Option<_>>().unwrap_or_default()
}

/// The lines that nothing is known of, each once.
fn not_assessed(judged: &[Judged]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for name in judged.iter().flat_map(|one| one.budget.not_assessed()) {
        if !names.iter().any(|known| known == name) {
            names.push(name.to_owned());
        }
    }
    names.sort();
    names
}

fn text_of<'a>(setup: &'a SetupResults<'_>, key: Fact<Text>) -> Option<&'a str> {
    match &setup.block.field(key)?.field.value {
        crate::sheet::FieldValue::Text(text) => Some(text),
        _ => None,
    }
}
