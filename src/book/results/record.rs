//! The record: runs, corrections, what they achieved, and the verdict.

use crate::vocabulary::setup::Status;
use crate::vocabulary::{self, YesNo, record, result, setup};
use std::sync::Arc;

use crate::book::effective::{EffectiveBlock, effective};
use crate::book::files::{Book, ItemId};
use crate::book::origin::{Missing, Reason};
use crate::book::results::computing::Computing;
use crate::book::results::plane::carried::Carried;
use crate::book::results::plane::{PlaneResults, extra};
use crate::book::results::runs::correction::{Correcting, CorrectionResults, carried};
use crate::book::results::runs::index::{self, IndexResults};
use crate::book::results::runs::like_mass::{self, ReadsLikeMass};
use crate::book::results::runs::run::{ReadRun, RunResults, Runner};
use crate::book::results::runs::seating::{self, SeatInDoubt};
use crate::book::results::runs::step::{self, StepResults};
use crate::book::results::runs::traverse::{self, TraverseResults};
use crate::book::results::runs::weights::{self, Standing};
use crate::book::results::runs::work::{self, WorkResults};
use crate::book::results::setup::SetupResults;
use crate::book::results::setup::binding::{Binding, JudgedBy};
use crate::book::results::values::entry::{Entry, Recorder, Spot};
use crate::book::results::values::not_computed::{NotComputed, WhyNot};
use crate::book::results::verdict::{self, Judging, RecordVerdict};
use crate::sheet::FieldValue;
use crate::syntax::Kind;

/// What is computed of a record, typed for what builds on it and as entries for people.
pub struct RecordResults<'b> {
    pub id: ItemId,
    pub block: EffectiveBlock<'b>,
    /// The setup as the record is judged by; `None` when the reference leads nowhere.
    pub setup: Option<Arc<SetupResults<'b>>>,
    /// What it is judged by; `None` without a setup.
    pub binding: Option<Binding<'b>>,
    /// The record of the same rotor that this one goes on with.
    pub before: Option<Box<RecordResults<'b>>>,
    pub runs: Vec<RunResults<'b>>,
    pub corrections: Vec<CorrectionResults<'b>>,
    /// One for each run that corrections lead to.
    pub steps: Vec<StepResults<'b>>,
    /// Runs that read as if the rotor sat otherwise on its arbor than they say.
    pub in_doubt: Vec<SeatInDoubt>,
    /// Runs that read as if a mass of the sheet was still on.
    pub like_mass: Vec<ReadsLikeMass<'b>>,
    pub traverses: Vec<TraverseResults<'b>>,
    /// What the last run leaves to do, one a plane.
    pub work: Vec<WorkResults<'b>>,
    pub index: Option<IndexResults<'b>>,
    /// What each plane carries now, by its name: by this record and those that it goes on with.
    pub(in crate::book::results) carried: Vec<(&'b str, Carried)>,
    /// The runs after the last correction, by number.
    pub last_state: Vec<usize>,
    pub verdict: Option<RecordVerdict>,
    pub entries: Vec<Entry>,
    /// Results that were left out, each with its reason.
    pub not_computed: Vec<NotComputed>,
}

impl<'b> RecordResults<'b> {
    /// What it was run by, where it says so; `None` where it is judged by the sheet of today.
    pub fn bound_to(&self) -> Option<JudgedBy<'b>> {
        self.binding.as_ref().map(|binding| binding.by).filter(|by| *by != JudgedBy::Today)
    }

    /// The status of its sheet where that was not released: as the record states it, else that of today, unless the record is
    /// bound to what it was run by. `None` for a sheet that was released, or of which nothing is known.
    pub fn run_before_release(&self) -> Option<Status> {
        let today = || {
            let setup = self.setup.as_deref().filter(|_| self.bound_to().is_none())?;
            Some(setup.block.choice(setup::STATUS).unwrap_or(Status::Draft))
        };
        self.block.choice(record::SHEET_STATUS).or_else(today).filter(|status| *status != Status::Released)
    }

    pub fn of(computing: &Computing<'b>, id: ItemId) -> Self {
        let book = computing.book();
        let (block, _) = effective(book, id);
        let setup = match block.field(record::SETUP).map(|field| &field.field.value) {
            Some(FieldValue::Name(name)) => book.find(Kind::Setup, &name.text).ok(),
            _ => None,
        };
        match setup.and_then(|setup| Binding::of(computing, &block, setup)) {
            Some((binding, setup)) => Self::on(computing, id, block, binding, setup),
            None => {
                let mut recorder = Recorder::new(computing.facts());
                let origin = recorder.facts.origin(&block, record::SETUP, block.field(record::SETUP));
                let missing = Arc::new(Missing { origin, reason: Reason::NoSuchItem });
                recorder.none_of(&block, id, WhyNot::Lacks(missing));
                Self {
                    id,
                    block,
                    setup: None,
                    binding: None,
                    before: None,
                    runs: Vec::new(),
                    corrections: Vec::new(),
                    steps: Vec::new(),
                    in_doubt: Vec::new(),
                    like_mass: Vec::new(),
                    traverses: Vec::new(),
                    work: Vec::new(),
                    index: None,
                    carried: Vec::new(),
                    last_state: Vec::new(),
                    verdict: None,
                    entries: Vec::new(),
                    not_computed: recorder.not_computed,
                }
            }
        }
    }

    /// The records of the whole work on the rotor, from the first one that it goes on with to itself.
    pub fn chain(&self) -> Vec<&Self> {
        let mut chain: Vec<&Self> = std::iter::successors(Some(self), |record| record.before.as_deref()).collect();
        chain.reverse();
        chain
    }

    /// Where the sliding weights of its planes are now: those of a plane that was corrected since are not known.
    fn weights_left(&self) -> Standing<'b> {
        let last = self.runs.len().checked_sub(1);
        let is_open = |plane: &str| self.corrections.iter().any(|one| one.plane == plane && one.written_after == last);
        let mut left = self.runs.last().map(|run| run.weights.clone()).unwrap_or_default();
        left.retain(|(plane, _)| !is_open(plane));
        left
    }

    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub fn run(&self, name: &str) -> Option<&RunResults<'b>> {
        self.runs.iter().find(|run| run.name == name)
    }

    fn on(
        computing: &Computing<'b>,
        id: ItemId,
        block: EffectiveBlock<'b>,
        binding: Binding<'b>,
        setup: Arc<SetupResults<'b>>,
    ) -> Self {
        let mut recorder = Recorder::new(computing.facts().with_masses(setup.masses));
        let measuring = setup.measuring();
        let sense = measuring.sheet.angles().sense(&recorder.facts);
        let rotor = setup.rotor.as_ref();
        let carriers: Vec<&EffectiveBlock<'b>> =
            rotor.map(|rotor| &rotor.block).into_iter().chain([&setup.block]).chain(setup.machine_block()).collect();
        let extra = extra::of(&recorder, &carriers, rotor.map_or(&[], |rotor| &rotor.planes));
        let before = before(computing, id, &setup);
        let carried_before = before.as_ref().map(|before| before.carried.clone()).unwrap_or_default();
        let runner = Runner { id, setup: &setup, measuring: &measuring, sense, extra, carried_before };
        let blocks: Vec<&EffectiveBlock<'b>> = block.blocks.iter().collect();
        let left_at = before.as_ref().map(|before| before.weights_left()).unwrap_or_default();
        let standing = weights::standing(&blocks, left_at);
        let states = states(&blocks, &standing);
        let of_runs: Vec<&EffectiveBlock<'b>> =
            blocks.iter().copied().filter(|block| block.kind == Kind::Run).collect();
        let is_their_rotor = block.choice(record::TRIAL_RUNS_OF_THIS_ROTOR) == Some(YesNo::Yes);
        let is_as_tried = |run: usize| is_their_rotor && before.is_none() && states[0].contains(&run);
        let read = |(run, block): (usize, &&EffectiveBlock<'b>)| runner.read(&mut recorder, block, is_as_tried(run));
        let reads: Vec<ReadRun<'b>> = of_runs.iter().enumerate().map(read).collect();
        let spot = Spot::heading(&block, id);
        recorder.words(&spot, &result::JUDGED_BY, binding.by.words());
        let mut indexes: Vec<Option<IndexResults<'b>>> =
            states.iter().map(|state| index::of(&recorder, &runner, &spot, &reads, state)).collect();
        let mut runs: Vec<RunResults<'b>> = Vec::with_capacity(of_runs.len());
        for (run, (block, read)) in of_runs.into_iter().zip(reads).enumerate() {
            let state = states.iter().position(|state| state.contains(&run)).unwrap_or(0);
            let rotor = index::rotor_alone(&recorder, &read, run, &indexes, state);
            runs.push(runner.run(&mut recorder, block, read, rotor, standing[run].clone()));
        }
        let corrections = corrections(&mut recorder, &runner, &runs, &blocks);
        let steps = step::of(&mut recorder, &runner, &runs, &corrections, &states);
        let in_doubt = seating::of(&recorder, &runner, &runs, &corrections, &indexes);
        let like_mass = like_mass::of(&recorder, &runner, &runs, &steps, &states);
        let work = work::of(&recorder, &runner, &runs, &corrections);
        let traverses: Vec<TraverseResults<'b>> = blocks
            .iter()
            .filter(|block| block.kind == Kind::Traverse)
            .map(|block| traverse::of(&mut recorder, &runner, block))
            .collect();
        let last_state = states.last().cloned().unwrap_or_default();
        // The last state that was indexed; the arbor is the same throughout.
        let index = indexes.iter_mut().rev().find_map(Option::take);
        if let Some(index) = &index {
            index::keep(&mut recorder, &runner, &spot, index);
        } else {
            let specs = [&result::ARBOR_UNBALANCE, &result::ROTOR_UNBALANCE, &result::INDEX_SCATTER];
            recorder.not_asked(&spot, &specs, "no runs with the rotor turned on its arbor tell the two apart");
        }
        let of_last = |index: &&IndexResults<'b>| index.runs.iter().all(|run| last_state.contains(run));
        let judging = Judging {
            runner: &runner,
            runs: &runs,
            state: &last_state,
            has_corrections: !corrections.is_empty(),
            steps: &steps,
            in_doubt: &in_doubt,
            traverses: &traverses[traverses_before_last_correction(&blocks)..],
            index: index.as_ref().filter(of_last),
            earlier_index: index.as_ref(),
            binding: &binding,
            revision: match block.field(record::REVISION).map(|field| &field.field.value) {
                Some(FieldValue::Text(text)) => Some(text),
                _ => None,
            },
        };
        if runs.is_empty() {
            recorder.not_asked(
                &spot,
                &[&result::VERDICT, &result::NOT_ASSESSED, &result::CHEAPEST_WAY, &result::REASONS],
                verdict::NO_RUN,
            );
            recorder.not_asked(&spot, &verdict::AT_LIMITS, verdict::NO_RUN);
        }
        let verdict = (!runs.is_empty()).then(|| judging.work_out(&mut recorder, &spot));
        let planes = rotor.map_or(&[][..], |rotor| &rotor.planes);
        let carries = |plane: &PlaneResults<'b>| (plane.name, carried(&runner, &runs, &corrections, plane.name));
        let carried = planes.iter().map(carries).collect();
        Self {
            id,
            before,
            carried,
            runs,
            corrections,
            steps,
            in_doubt,
            like_mass,
            traverses,
            work,
            index,
            last_state,
            verdict,
            entries: recorder.entries,
            not_computed: recorder.not_computed,
            setup: Some(setup.clone()),
            binding: Some(binding),
            block,
        }
    }
}

/// The record that one goes on with, where it is of the same rotor and does not lead back.
fn before<'b>(computing: &Computing<'b>, id: ItemId, setup: &SetupResults<'b>) -> Option<Box<RecordResults<'b>>> {
    let book = computing.book();
    let before = continued(book, id)?;
    let mut seen = vec![id];
    let mut at = Some(before);
    while let Some(one) = at {
        if seen.contains(&one) {
            return None;
        }
        seen.push(one);
        at = continued(book, one);
    }
    let before = computing.record(before)?;
    let rotor = |setup: &SetupResults<'b>| setup.rotor.as_ref().map(|rotor| rotor.id);
    let is_same = before.setup.as_deref().and_then(rotor) == rotor(setup);
    is_same.then(|| Box::new(before))
}

/// The record that one names under `continues`.
pub fn continued(book: &Book, record: ItemId) -> Option<ItemId> {
    let FieldValue::Name(name) = &book.item(record).field(record::CONTINUES)?.value else { return None };
    book.find(Kind::Record, &name.text).ok()
}

/// The runs between corrections, by number: one list for each state of the rotor, the last for the state it was left in.
fn states(blocks: &[&EffectiveBlock<'_>], standing: &[Standing<'_>]) -> Vec<Vec<usize>> {
    let mut states = vec![Vec::new()];
    let mut run = 0;
    let mut corrected = false;
    for block in blocks {
        match block.kind {
            Kind::Correction => corrected = true,
            Kind::Run => {
                let not_recorded = block.choice(vocabulary::run::CORRECTION_NOT_RECORDED) == Some(YesNo::Yes);
                let turned = run > 0 && weights::were_turned(&standing[run - 1], &standing[run]);
                if std::mem::take(&mut corrected) || turned || not_recorded && run > 0 {
                    states.push(Vec::new());
                }
                if let Some(state) = states.last_mut() {
                    state.push(run);
                }
                run += 1;
            }
            _ => {}
        }
    }
    if corrected {
        states.push(Vec::new());
    }
    states
}

fn traverses_before_last_correction(blocks: &[&EffectiveBlock<'_>]) -> usize {
    let last = blocks.iter().rposition(|block| block.kind == Kind::Correction).unwrap_or(0);
    blocks[..last].iter().filter(|block| block.kind == Kind::Traverse).count()
}

fn corrections<'b>(
    recorder: &mut Recorder<'b>,
    runner: &Runner<'_, 'b>,
    runs: &[RunResults<'b>],
    blocks: &[&EffectiveBlock<'b>],
) -> Vec<CorrectionResults<'b>> {
    let mut before: Vec<(&EffectiveBlock<'b>, Option<usize>)> = Vec::new();
    let mut count = 0_usize;
    for block in blocks {
        match block.kind {
            Kind::Run => count += 1,
            Kind::Correction => before.push((block, count.checked_sub(1))),
            _ => {}
        }
    }
    let after = |(block, last): &(&EffectiveBlock<'b>, Option<usize>)| {
        let named = block.field(vocabulary::correction::AFTER).map(|field| &field.field.value);
        match named {
            Some(FieldValue::Name(name)) => runs.iter().position(|run| run.name == &*name.text),
            Some(_) => None,
            None => *last,
        }
    };
    let mut results: Vec<CorrectionResults<'b>> = Vec::new();
    for (n, (block, last_run)) in before.iter().enumerate() {
        let same = |other: &(&EffectiveBlock<'b>, Option<usize>)| {
            other.0.name_text() == block.name_text() && after(other) == after(&before[n])
        };
        let correcting = Correcting {
            runner,
            block,
            runs,
            earlier: &results,
            last_run: *last_run,
            more_to_come: before[n + 1..].iter().any(same),
        };
        let result = correcting.work_out(recorder);
        results.push(result);
    }
    results
}
