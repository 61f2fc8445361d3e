//! Trial runs of a setup: what each put in, by how much it changed the readings, and what one plane hears of the other.

pub(in crate::book::results) mod agreement;
pub(in crate::book::results) mod influence;
pub(in crate::book::results) mod without_phase;

use std::sync::Arc;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::{Missing, Origin, Reason};
use crate::book::results::angles::Angles;
use crate::book::results::entry::{Meaning, Recorder, Spot, origin};
use crate::book::results::not_computed::WhyNot;
use crate::book::results::record::readings::{self as reading, ReadingResults};
use crate::book::results::setup::calibrate::Bench;
use crate::book::vectors::{Gathered, Produced, VectorVal};
use crate::mechanics::calibration::calibration_unbalance;
use crate::mechanics::influence as physics;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Angle, Indication, Length, Mass, Ratio, Speed, Unbalance, Unit, Vector};
use crate::vocabulary::trial::TrialMassAfter;
use crate::vocabulary::{ResultSpec, result, setup, trial};
use influence::InfluenceResults;

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
    pub found: InfluenceResults,
}

/// How an amount as found stands to what amounts may be compared at.
#[derive(Clone, Debug)]
pub struct PreBalanced {
    pub holds: bool,
    /// The largest amount of the run as found, and what it must not exceed.
    pub as_found: Val<Indication>,
    pub limit: Indication,
}

/// One trial run.
pub struct TrialRunResults<'b> {
    pub name: &'b str,
    pub block: EffectiveBlock<'b>,
    /// The plane that carries the trial mass; `None` for the run as found.
    pub plane: Option<&'b str>,
    /// What this run's own mass puts in; `None` for the run as found.
    pub put_on: Option<VectorVal<Unbalance>>,
    /// Whether the mass stays on for the runs that follow; `None` when the sheet does not say.
    pub stays_on: Option<bool>,
    pub speed: Val<Speed>,
    pub readings: Vec<ReadingResults<'b>>,
    pub change_of_amount: Option<Val<Ratio>>,
    pub change_of_angle: Option<Val<Angle>>,
    /// Correction plane interference ratio: what another plane shows for the mass in this one.
    pub interference: Option<Val<Ratio>>,
}

impl<'b> TrialRunResults<'b> {
    pub fn reading(&self, channel: &str) -> Option<&ReadingResults<'b>> {
        self.readings.iter().find(|reading| reading.channel == channel)
    }

    /// Whether the trial changed a reading enough to be trusted; `None` when that is not known.
    pub fn changed_enough(&self) -> Option<bool> {
        let amount = self.change_of_amount.as_ref()?.get()?;
        Some(physics::is_enough(amount, self.change_of_angle.as_ref().and_then(Val::get)))
    }
}

/// What trial runs together tell of a setup.
pub(in crate::book::results) const BY_TRIALS: [&ResultSpec; 9] = [
    &result::INFLUENCE,
    &result::MISFIT,
    &result::CONDITION,
    &result::LIKENESS,
    &result::SEPARATION_ADVICE,
    &result::LEFT_IN_CHANNEL,
    &result::DISAGREEMENT,
    &result::UNBALANCE_FOUND,
    &result::CALLED_FOR,
];

/// Trials on their way to results.
pub(in crate::book::results) struct Series<'a, 'b> {
    pub bench: &'a Bench<'a, 'b>,
    pub runs: &'a [TrialRunResults<'b>],
    pub channels: &'a [&'b str],
    pub planes: &'a [&'b str],
    /// Which channel is said to read which plane.
    pub mapping: &'a [(&'b str, &'b str)],
    pub with_angles: bool,
    /// For each run, the runs whose masses were on; an error when a run does not say whether its mass stayed.
    pub states: Result<Vec<Vec<usize>>, Arc<Missing>>,
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
    Some(TrialResults { runs, channels, planes, with_angles, pre_balanced, found })
}

fn run<'b>(
    recorder: &mut Recorder<'b>,
    angles: &Angles<'_, 'b>,
    bench: &Bench<'_, 'b>,
    block: &EffectiveBlock<'b>,
) -> TrialRunResults<'b> {
    let plane: Option<&'b str> = match block.field(trial::MASS_IN).map(|field| &field.field.value) {
        Some(FieldValue::Name(name)) => Some(&name.text),
        _ => None,
    };
    if block.field(trial::MASS_IN).is_none() {
        let why = WhyNot::LeftOut(trial::MASS_IN.any());
        recorder.not_asked(&Spot::heading(block, bench.id), &[&result::TRIAL_UNBALANCE], why);
    }
    let put_on = block.field(trial::MASS_IN).map(|_| {
        let put_on = put_on(recorder, bench, block);
        let spot = Spot::beside(block, bench.id, block.field(trial::MASS).or_else(|| block.field(trial::MASS_IN)));
        let sense = angles.sense(&recorder.facts);
        recorder.keep_vector(&spot, &result::TRIAL_UNBALANCE, &put_on, Meaning::PutOn, &sense);
        put_on
    });
    TrialRunResults {
        name: block.name_text(),
        plane,
        put_on,
        stays_on: block.choice(trial::TRIAL_MASS).map(|after| after == TrialMassAfter::LeftOn),
        speed: recorder.facts.quantity(block, trial::SPEED),
        readings: reading::readings(recorder, angles, block, trial::READING),
        change_of_amount: None,
        change_of_angle: None,
        interference: None,
        block: block.clone(),
    }
}

/// What a mass at a radius and an angle puts in.
fn put_on<'b>(recorder: &Recorder<'b>, bench: &Bench<'_, 'b>, block: &EffectiveBlock<'b>) -> VectorVal<Unbalance> {
    let spot = Spot::heading(block, bench.id);
    let mass: Val<Mass> = recorder.facts.quantity(block, trial::MASS);
    let radius: Val<Length> = recorder.facts.radius(block, trial::RADIUS, trial::DIAMETER);
    let angle: Val<Angle> = recorder.facts.quantity(block, trial::ANGLE);
    let mut gathered = Gathered::new();
    let (m, r, at) = (gathered.value(&mass), gathered.value(&radius), gathered.value(&angle));
    let outputs = gathered.work_out(recorder.explained(&by::TRIAL_PUT), |numbers| {
        let unbalance = calibration_unbalance(numbers.value(m), numbers.value(r))?;
        Ok(Produced::vector(Vector::from_polar(unbalance, numbers.value(at))))
    });
    outputs.vector(0, origin(&spot, &result::TRIAL_UNBALANCE), recorder.facts.shop.unbalance_unit)
}

/// The channels that any run reads: the machine's first, in their order, then others as they come.
fn channels<'b>(bench: &Bench<'_, 'b>, runs: &[TrialRunResults<'b>]) -> Vec<&'b str> {
    let mut read: Vec<&'b str> = Vec::new();
    for reading in runs.iter().flat_map(|run| &run.readings) {
        if !read.contains(&reading.channel) {
            read.push(reading.channel);
        }
    }
    let machine: &[&'b str] = bench.machine.map_or(&[], |machine| &machine.channels);
    read.sort_by_key(|channel| machine.iter().position(|name| name == channel).unwrap_or(usize::MAX));
    read
}

/// The planes that carried a trial mass, in the order of the rotor's planes.
fn planes<'b>(bench: &Bench<'_, 'b>, runs: &[TrialRunResults<'b>]) -> Vec<&'b str> {
    let mut planes: Vec<&'b str> = Vec::new();
    for plane in runs.iter().filter_map(|run| run.plane) {
        if !planes.contains(&plane) {
            planes.push(plane);
        }
    }
    let order = |plane: &&str| bench.rotor.and_then(|rotor| rotor.planes.iter().position(|own| own.name == *plane));
    planes.sort_by_key(|plane| order(plane).unwrap_or(usize::MAX));
    planes
}

/// The runs whose masses are on in each run: its own, and those left on before.
fn states(runs: &[TrialRunResults<'_>]) -> Result<Vec<Vec<usize>>, Arc<Missing>> {
    let mut left_on: Vec<usize> = Vec::new();
    let mut states = Vec::with_capacity(runs.len());
    for (n, run) in runs.iter().enumerate() {
        let mut state = left_on.clone();
        if run.put_on.is_some() {
            state.push(n);
            let last = n + 1 == runs.len();
            match run.stays_on {
                Some(true) => left_on.push(n),
                Some(false) => {}
                None if last => {}
                None => {
                    let field = run.block.field(trial::TRIAL_MASS);
                    let reason = if field.is_some() { Reason::Unreadable } else { Reason::NotGiven };
                    let origin = Origin {
                        item: run.block.item,
                        path: run.block.path.clone(),
                        name: trial::TRIAL_MASS.words().into(),
                        place: None,
                    };
                    return Err(Arc::new(Missing { origin, reason }));
                }
            }
        }
        states.push(state);
    }
    Ok(states)
}

impl<'b> Series<'_, 'b> {
    /// The first run without any trial mass on.
    pub fn as_found(&self) -> Option<usize> {
        self.states.as_ref().ok()?.iter().position(Vec::is_empty)
    }

    /// The run that differs from this one by its own mass alone: the nearest before it, else any.
    pub fn before(&self, run: usize) -> Option<usize> {
        let states = self.states.as_ref().ok()?;
        let without: Vec<usize> = states[run].iter().copied().filter(|on| *on != run).collect();
        let same = |other: &usize| states[*other] == without;
        (0..run).rev().find(same).or_else(|| (run + 1..states.len()).find(same))
    }

    /// The channel that the setup says reads this plane, by its place among the channels that were read.
    pub fn channel_of(&self, plane: &str) -> Option<usize> {
        let (channel, _) = self.mapping.iter().find(|(_, reads)| *reads == plane)?;
        self.channels.iter().position(|own| own == channel)
    }

    /// Where results of all trials together stand: beside the run as found.
    pub fn spot(&self) -> Spot {
        let whole = Spot::heading(self.bench.setup, self.bench.id);
        match self.runs.get(self.as_found().unwrap_or(0)) {
            Some(run) => Spot { place: Spot::heading(&run.block, self.bench.id).place, ..whole },
            None => whole,
        }
    }

    /// A reading of a run; missing when the run does not read the channel.
    pub fn amount(&self, run: usize, channel: usize) -> Val<Indication> {
        match self.runs[run].reading(self.channels[channel]) {
            Some(reading) => reading.amount.clone(),
            None => Val::missing(self.no_reading(run, channel), Reason::NotGiven, Unit::ONE),
        }
    }

    pub fn vector(&self, run: usize, channel: usize) -> VectorVal<Indication> {
        match self.runs[run].reading(self.channels[channel]).map(ReadingResults::vector) {
            Some(Some(vector)) => vector,
            Some(None) => {
                let why = Reason::Impossible("a reading of the trials has no angle".into());
                VectorVal::missing(self.no_reading(run, channel), why, Unit::ONE)
            }
            None => VectorVal::missing(self.no_reading(run, channel), Reason::NotGiven, Unit::ONE),
        }
    }

    fn no_reading(&self, run: usize, channel: usize) -> Origin {
        let block = &self.runs[run].block;
        let name = format!("reading {}", self.channels[channel]).into();
        Origin { item: block.item, path: block.path.clone(), name, place: None }
    }

    /// By how much a trial changed amount and angle, in the channel that reads its plane, else in the one it changed most.
    fn change(&self, recorder: &mut Recorder<'b>, run: usize) -> (Option<Val<Ratio>>, Option<Val<Angle>>) {
        let block = &self.runs[run].block;
        let compared = || {
            let plane = self.runs[run].plane.ok_or_else(|| WhyNot::LeftOut(trial::MASS_IN.any()))?;
            let before = self.before(run).ok_or("no run differs from this one by its mass alone")?;
            let own = self.channel_of(plane).or_else(|| self.most_changed(before, run));
            let channel = own.ok_or("no channel was read in both runs")?;
            for run in [before, run] {
                if let Err(missing) = self.amount(run, channel).known {
                    return Err(WhyNot::Lacks(missing));
                }
            }
            Ok((before, channel))
        };
        let (before, channel) = match compared() {
            Ok(compared) => compared,
            Err(why) => {
                let specs = [&result::CHANGE_OF_AMOUNT, &result::CHANGE_OF_ANGLE];
                recorder.not_asked(&Spot::heading(block, self.bench.id), &specs, why);
                return (None, None);
            }
        };
        let field = block.named(trial::READING).find(|(name, _)| *name.text == *self.channels[channel]);
        let spot = Spot::beside(block, self.bench.id, field.map(|(_, field)| field));
        let (first, second) = (self.amount(before, channel), self.amount(run, channel));
        // By sign first: what hardly changed is known no better for lying near zero.
        let (spec, unit) = (&result::CHANGE_OF_AMOUNT, Unit::PERCENT);
        let inputs = (&first, &second);
        let amount: Val<Ratio> =
            recorder.on_the_way(&spot, spec, unit, &by::CHANGE_AMOUNT, inputs, |(before, with_trial)| {
                physics::change_of_amount(before, with_trial)
            });
        let amount = Val { known: amount.known.map(Ratio::abs), ..amount };
        recorder.keep(&spot, spec, &amount);
        if !self.with_angles {
            recorder.not_asked(&spot, &[&result::CHANGE_OF_ANGLE], "a reading of the trials has no angle");
            return (Some(amount), None);
        }
        let mut gathered = Gathered::new();
        let v0 = gathered.vector(&self.vector(before, channel));
        let v1 = gathered.vector(&self.vector(run, channel));
        let outputs = gathered.work_out(recorder.explained(&by::CHANGE_ANGLE), |numbers| {
            Ok(Produced::vector(physics::change_of_vector(numbers.vector(v0), numbers.vector(v1))?))
        });
        let spec = &result::CHANGE_OF_ANGLE;
        let became: VectorVal<Ratio> = outputs.vector(0, origin(&spot, spec), Unit::ONE);
        let angle = became.angle();
        let angle = Val { known: angle.known.map(physics::short_way), ..angle };
        recorder.keep(&spot, spec, &angle);
        (Some(amount), Some(angle))
    }

    fn most_changed(&self, before: usize, run: usize) -> Option<usize> {
        let changed = |channel: &usize| -> Option<f64> {
            if self.with_angles {
                let difference = self.vector(run, *channel).get()? - self.vector(before, *channel).get()?;
                return Some(difference.amount().value());
            }
            let (first, second) = (self.amount(before, *channel).get()?, self.amount(run, *channel).get()?);
            Some((second.value() - first.value()).abs())
        };
        let channels = (0..self.channels.len()).filter_map(|channel| Some((channel, changed(&channel)?)));
        channels.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(channel, _)| channel)
    }

    /// Whether the amounts as found were small enough: below `pre-balance to`, else below a tenth of what the trials
    /// read in the channel of their plane (common practice, no source).
    fn pre_balanced(&self, recorder: &Recorder<'b>) -> Option<PreBalanced> {
        let as_found = self.as_found()?;
        let amounts = (0..self.channels.len()).map(|channel| self.amount(as_found, channel));
        let largest = amounts.filter(Val::is_known).max_by(|a, b| {
            let value = |amount: &Val<Indication>| amount.get().map_or(0.0, Indication::value);
            value(a).total_cmp(&value(b))
        })?;
        let limit = self.stated_limit(recorder).or_else(|| self.tenth_of_trials())?;
        Some(PreBalanced { holds: largest.get()? <= limit, as_found: largest, limit })
    }

    fn stated_limit(&self, _recorder: &Recorder<'b>) -> Option<Indication> {
        let FieldValue::Reading(reading) = &self.bench.setup.field(setup::PRE_BALANCE_TO)?.field.value else {
            return None;
        };
        crate::book::results::setup::reading::indication(reading, self.bench.readout()).map(|(limit, _)| limit)
    }

    fn tenth_of_trials(&self) -> Option<Indication> {
        let own = self.runs.iter().enumerate().filter_map(|(n, run)| {
            let channel = self.channel_of(run.plane?)?;
            self.amount(n, channel).get()
        });
        own.min_by(|a, b| a.value().total_cmp(&b.value())).map(|least| least * 0.1)
    }

    /// What another plane shows for the mass in this one; the largest where there are several others.
    fn interference(
        &self,
        recorder: &mut Recorder<'b>,
        run: usize,
        found: &InfluenceResults,
        pre_balanced: Option<&PreBalanced>,
    ) -> Option<Val<Ratio>> {
        let spot = Spot::heading(&self.runs[run].block, self.bench.id);
        let Some(plane) = self.runs[run].plane else {
            recorder.not_asked(&spot, &[&result::INTERFERENCE], WhyNot::LeftOut(trial::MASS_IN.any()));
            return None;
        };
        let others = self.planes.iter().enumerate().filter(|(_, other)| **other != plane);
        let all: Vec<Val<Ratio>> = others
            .map(|(other, name)| match self.channel_of(name) {
                None => {
                    let why = format!("no channel is said to read plane `{name}`");
                    let origin = origin(&spot, &result::INTERFERENCE);
                    Val::missing(origin, Reason::Impossible(why.into()), Unit::PERCENT)
                }
                Some(channel) => {
                    let own = self.planes.iter().position(|own| *own == plane).unwrap_or(0);
                    match self.with_angles {
                        true => found.interference(recorder, &spot, channel, other, own),
                        false => self.interference_of_amounts(recorder, &spot, channel, (run, other), pre_balanced),
                    }
                }
            })
            .collect();
        let largest = all.into_iter().reduce(|a, b| match (a.get(), b.get()) {
            (None, _) => a,
            (_, None) => b,
            (Some(x), Some(y)) => {
                if y > x {
                    b
                } else {
                    a
                }
            }
        });
        let Some(largest) = largest else {
            recorder.not_asked(&spot, &[&result::INTERFERENCE], "another plane with a trial of its own is missing");
            return None;
        };
        recorder.keep(&spot, &result::INTERFERENCE, &largest);
        Some(largest)
    }

    /// What a channel reads of the mass of a run, as far as amounts tell.
    fn effect_of_amounts(&self, run: usize, channel: usize) -> Val<Indication> {
        let amount = self.amount(run, channel);
        let start = self.as_found().and_then(|as_found| self.amount(as_found, channel).get());
        match (start, self.runs[run].reading(self.channels[channel])) {
            (Some(start), Some(reading)) => reading.without_start(start),
            _ => amount,
        }
    }

    /// Of amounts alone, which is honest only when the rotor was pre-balanced.
    fn interference_of_amounts(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        channel: usize,
        (run, other): (usize, usize),
        pre_balanced: Option<&PreBalanced>,
    ) -> Val<Ratio> {
        let spec = &result::INTERFERENCE;
        let impossible = |why: String| Val::missing(origin(spot, spec), Reason::Impossible(why.into()), Unit::PERCENT);
        match pre_balanced {
            Some(PreBalanced { holds: true, .. }) => {}
            Some(PreBalanced { as_found, limit, .. }) => {
                let amount =
                    |value: Indication| crate::book::results::render::display_value(value.value(), as_found.unit, 0.0);
                let found = as_found.get().map_or_else(String::new, amount);
                return impossible(format!(
                    "amounts are compared only when the rotor was pre-balanced: it read {found} as found, more than {}",
                    amount(*limit)
                ));
            }
            None => return impossible("there is no run as found to show that the rotor was pre-balanced".to_owned()),
        }
        let own_run = self.runs.iter().position(|run| run.plane == Some(self.planes[other]));
        let Some(own_run) = own_run else { return impossible("the other plane has no trial".to_owned()) };
        let put = |run: usize| self.runs[run].put_on.as_ref().map(VectorVal::amount);
        let (Some(put_here), Some(put_there)) = (put(run), put(own_run)) else {
            return impossible("a trial mass is missing".to_owned());
        };
        let (shown, own) = (self.effect_of_amounts(run, channel), self.effect_of_amounts(own_run, channel));
        recorder.on_the_way(
            spot,
            spec,
            Unit::PERCENT,
            &by::INTERFERENCE_OF_AMOUNTS,
            (&shown, &put_here, &own, &put_there),
            |(shown, put_here, own, put_there): (Indication, Unbalance, Indication, Unbalance)| {
                let scaled = Indication::new(shown.value() * (put_there / put_here).value());
                crate::mechanics::machine::interference_ratio(scaled, own)
            },
        )
    }
}
