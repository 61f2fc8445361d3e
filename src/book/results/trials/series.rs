//! Trial runs as they were made: what each put in, and which masses were on when it was read.

use std::sync::Arc;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::{Missing, Origin, Reason};
use crate::book::results::bench::Bench;
use crate::book::results::bench::angles::Angles;
use crate::book::results::bench::readings::{self as reading, ReadingResults};
use crate::book::results::plane::extra::{self, ExtraMass};
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, Produced, VectorVal};
use crate::mechanics::calibration::calibration_unbalance;
use crate::mechanics::influence as physics;
use crate::sheet::FieldValue;
use crate::units::{Angle, Indication, Length, Mass, Ratio, Speed, Unbalance, Unit, Vector};
use crate::vocabulary::trial::TrialMassAfter;
use crate::vocabulary::{ResultSpec, result, trial};

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
    /// All of them; those that are read together are the members.
    pub runs: &'a [TrialRunResults<'b>],
    /// By number: the runs of one speed.
    pub members: Vec<usize>,
    pub channels: Vec<&'b str>,
    pub planes: Vec<&'b str>,
    /// Which channel is said to read which plane.
    pub mapping: &'a [(&'b str, &'b str)],
    pub with_angles: bool,
    /// For each run, the runs whose masses were on; an error when a run does not say whether its mass stayed.
    pub states: States,
}

/// For each run, the runs whose masses were on; an error when a run does not say whether its mass stayed.
pub(in crate::book::results) type States = Result<Vec<Vec<usize>>, Arc<Missing>>;

pub(in crate::book::results) fn run<'b>(
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
pub(in crate::book::results) fn channels<'b>(
    bench: &Bench<'_, 'b>,
    runs: &[TrialRunResults<'b>],
    members: &[usize],
) -> Vec<&'b str> {
    let mut read: Vec<&'b str> = Vec::new();
    for reading in members.iter().flat_map(|run| &runs[*run].readings) {
        if !read.contains(&reading.channel) {
            read.push(reading.channel);
        }
    }
    let machine: &[&'b str] = bench.machine.map_or(&[], |machine| &machine.channels);
    read.sort_by_key(|channel| machine.iter().position(|name| name == channel).unwrap_or(usize::MAX));
    read
}

/// The planes that carried a trial mass, in the order of the rotor's planes.
fn planes<'b>(bench: &Bench<'_, 'b>, runs: &[TrialRunResults<'b>], members: &[usize]) -> Vec<&'b str> {
    let mut planes: Vec<&'b str> = Vec::new();
    for plane in members.iter().filter_map(|run| runs[*run].plane) {
        if !planes.contains(&plane) {
            planes.push(plane);
        }
    }
    let order = |plane: &&str| bench.rotor.and_then(|rotor| rotor.planes.iter().position(|own| own.name == *plane));
    planes.sort_by_key(|plane| order(plane).unwrap_or(usize::MAX));
    planes
}

/// The runs whose masses are on in each run: its own, and those left on before.
pub(in crate::book::results) fn states(runs: &[TrialRunResults<'_>]) -> States {
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

impl<'a, 'b> Series<'a, 'b> {
    pub fn of(
        bench: &'a Bench<'a, 'b>,
        runs: &'a [TrialRunResults<'b>],
        members: &[usize],
        mapping: &'a [(&'b str, &'b str)],
        states: States,
    ) -> Self {
        // What is not known yet is a hole before it is a reading without an angle.
        let mut read = members.iter().flat_map(|run| &runs[*run].readings).filter(|one| one.amount.is_known());
        Self {
            bench,
            runs,
            members: members.to_vec(),
            channels: channels(bench, runs, members),
            planes: planes(bench, runs, members),
            mapping,
            with_angles: read.all(|reading| reading.angle.is_some()),
            states,
        }
    }

    /// The first run without any trial mass on.
    pub fn as_found(&self) -> Option<usize> {
        let states = self.states.as_ref().ok()?;
        self.members.iter().copied().find(|run| states[*run].is_empty())
    }

    /// What the trials find in each plane, as it counts: without masses that are on only while balancing, and with those
    /// that are on only in service.
    pub fn counted(&self, recorder: &Recorder<'b>, found: Vec<VectorVal<Unbalance>>) -> Vec<VectorVal<Unbalance>> {
        let Some(rotor) = self.bench.rotor else { return found };
        let carriers: Vec<&EffectiveBlock<'b>> = [&rotor.block, self.bench.setup]
            .into_iter()
            .chain(self.bench.machine.map(|machine| &machine.block))
            .collect();
        let extra = extra::of(recorder, &carriers, &rotor.planes);
        let places = self.planes.iter().map(|plane| rotor.plane(plane).map(|plane| plane.at.clone()));
        let Some(at) = places.collect::<Option<Vec<_>>>().filter(|_| !extra.is_empty()) else { return found };
        let on: Vec<&ExtraMass<'b>> = extra.iter().collect();
        found.iter().enumerate().map(|(n, found)| extra::counted(recorder, &on, (&at, n), found)).collect()
    }

    /// The run of a plane's own mass.
    pub fn run_of(&self, plane: &str) -> Option<usize> {
        self.members.iter().copied().find(|run| self.runs[*run].plane == Some(plane))
    }

    /// The run that differs from this one by its own mass alone: the nearest before it, else any.
    pub fn before(&self, run: usize) -> Option<usize> {
        let states = self.states.as_ref().ok()?;
        let without: Vec<usize> = states[run].iter().copied().filter(|on| *on != run).collect();
        let same = |other: &usize| states[*other] == without;
        let (earlier, later): (Vec<usize>, Vec<usize>) =
            self.members.iter().filter(|other| **other != run).partition(|other| **other < run);
        earlier.into_iter().rev().find(same).or_else(|| later.into_iter().find(same))
    }

    /// The channel that the setup says reads this plane, by its place among the channels that were read.
    pub fn channel_of(&self, plane: &str) -> Option<usize> {
        let (channel, _) = self.mapping.iter().find(|(_, reads)| *reads == plane)?;
        self.channels.iter().position(|own| own == channel)
    }

    /// Where results of all trials together stand: beside the run as found.
    pub fn spot(&self) -> Spot {
        let whole = Spot::heading(self.bench.setup, self.bench.id);
        match self.as_found().or(self.members.first().copied()).map(|run| &self.runs[run]) {
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
        match self.runs[run].reading(self.channels[channel]).map(|reading| (reading.vector(), &reading.amount.known)) {
            Some((Some(vector), _)) => vector,
            Some((None, Err(missing))) => VectorVal::lacking(self.no_reading(run, channel), missing.clone(), Unit::ONE),
            Some((None, Ok(_))) => {
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
}
