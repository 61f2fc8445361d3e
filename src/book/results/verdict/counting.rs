//! Which runs a verdict rests on, and why the readings of a run may count for nothing.

use crate::book::derive::Val;
use crate::book::effective::EffectiveField;
use crate::book::results::bench::readings::indication;
use crate::book::results::measuring::Measuring;
use crate::book::results::runs::index::IndexResults;
use crate::book::results::runs::run::RunResults;
use crate::book::results::runs::traverse::TraverseResults;
use crate::book::results::setup::SetupResults;
use crate::book::results::setup::proof_fails::failures;
use crate::book::results::values::render::display_value;
use crate::book::shop::ShopRules;
use crate::sheet::FieldValue;
use crate::units::{Amount, Speed, Typed, Unbalance};
use crate::vocabulary;

/// Why readings do not count, whatever they show.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum DoesNotCount {
    NoRunAfterCorrection,
    CalibrationMassesOn,
    CalibrationMassesNotStated,
    SpeedNotStated,
    SpeedOutOfBand,
    /// A needle on its stop shows no amount.
    ReadingAtEndOfScale,
    /// The rotor was turned on its arbor in other runs, and this one does not say how it sat.
    SeatNotStated,
    /// What was read speaks for another position on the arbor than the run says.
    SeatInDoubt,
    /// Index runs read alike, and the arbor has no such unbalance.
    NotTurned,
    /// Nobody knows the limits of a rotor that is not known.
    RotorNotKnown,
    /// The sheet does not say at which speed readings count.
    BalancingSpeedNotKnown,
    TrialSpeedNotStated,
    TrialSpeedOutOfBand,
    TraverseContradicts,
    ProofFails,
    CalibrationVoid,
    /// Nothing but a demand says what a division of the readout means.
    NotCalibrated,
    TrialsContradictCalibration,
    OtherRevision,
    PlanesNotRead,
    NotKnown,
}

/// One reason for which something counts for nothing, in words, with the run that it is about.
#[derive(Clone, Debug)]
pub struct NotCounted {
    pub why: DoesNotCount,
    /// By its number in the record; `None` where no single run is to blame.
    pub run: Option<usize>,
    pub words: String,
}

impl NotCounted {
    pub(in crate::book::results) fn new(why: DoesNotCount, run: Option<usize>, words: impl Into<String>) -> Self {
        Self { why, run, words: words.into() }
    }
}

/// The runs from which the judged number is worked out: those of the index when it tells the rotor's unbalance, else
/// the last one, with the runs that told the arbor's share which is taken off it.
pub(in crate::book::results) fn rests_on(
    last: usize,
    runs: &[RunResults<'_>],
    index: Option<&IndexResults<'_>>,
    earlier_index: Option<&IndexResults<'_>>,
) -> Vec<usize> {
    let mut rests_on = match (index, earlier_index) {
        (Some(index), _) => index.runs.clone(),
        (None, Some(earlier)) if runs[last].turned.is_some() => earlier.runs.clone(),
        _ => Vec::new(),
    };
    if !rests_on.contains(&last) {
        rests_on.push(last);
    }
    rests_on
}

/// What makes the readings of one run count for nothing.
pub(in crate::book::results) fn of_run(
    setup: &SetupResults<'_>,
    runs: &[RunResults<'_>],
    number: usize,
    indexed: bool,
) -> Vec<NotCounted> {
    let run = &runs[number];
    let name = run.name;
    let mut found = Vec::new();
    let mut say = |why: DoesNotCount, words: String| found.push(NotCounted::new(why, Some(number), words));
    match run.calibration_masses_on {
        Some(false) => {}
        Some(true) => say(DoesNotCount::CalibrationMassesOn, format!("calibration masses were on in run `{name}`")),
        None if !setup.has_calibration_masses() => {}
        None => say(
            DoesNotCount::CalibrationMassesNotStated,
            format!("run `{name}` does not say whether calibration masses were off"),
        ),
    }
    match (run.speed.get(), in_band(setup, &run.speed)) {
        // On a stand the rotor rolls to rest.
        _ if setup.is_on_stand() => {}
        (None, _) => say(DoesNotCount::SpeedNotStated, format!("run `{name}` does not say its speed")),
        (Some(_), Some(false)) => say(DoesNotCount::SpeedOutOfBand, out_of_band(setup, ("run", name), &run.speed)),
        _ => {}
    }
    if let Some(channel) = at_the_end(setup, run).next() {
        let words =
            format!("channel {channel} of run `{name}` reads to the end of its scale, or beyond: it may be more");
        say(DoesNotCount::ReadingAtEndOfScale, words);
    }
    if indexed && run.turned.is_none() {
        let words = format!(
            "run `{name}` does not say how far the rotor was turned on its arbor, so its reading includes the arbor's own unbalance"
        );
        say(DoesNotCount::SeatNotStated, words);
    }
    found
}

/// The channels of a run that read all that their scales show.
pub(in crate::book::results) fn at_the_end<'r, 'b>(
    setup: &'r SetupResults<'b>,
    run: &'r RunResults<'b>,
) -> impl Iterator<Item = &'b str> + use<'r, 'b> {
    let readout = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref());
    let is_at_the_end = move |field: &EffectiveField<'_>| {
        let (Some(readout), FieldValue::Reading(reading)) = (readout, &field.field.value) else { return false };
        let value = indication(reading, Some(readout)).map(|(value, _)| value.value());
        value.zip(readout.end_for(reading)).is_some_and(|(value, end)| value >= end * (1.0 - 1e-9))
    };
    let readings = run.block.named(vocabulary::run::READING);
    readings.filter(move |(_, field)| is_at_the_end(field)).map(|(channel, _)| &*channel.text)
}

/// What makes all readings of a setup count for nothing.
pub(in crate::book::results) fn of_setup(
    setup: &SetupResults<'_>,
    measuring: &Measuring<'_, '_>,
    shop: &ShopRules,
) -> Vec<NotCounted> {
    let mut found = Vec::new();
    let mut say = |why: DoesNotCount, words: String| found.push(NotCounted::new(why, None, words));
    if setup.rotor.is_none() {
        say(DoesNotCount::RotorNotKnown, "the rotor of the setup is not known, and so its limits are not".to_owned());
    }
    let band = setup.same_speed.as_ref();
    if !setup.is_on_stand() && band.is_none_or(|ends| ends.iter().any(|end| !end.is_known())) {
        let words = "the balancing speed of the sheet is not known, so no run is shown to be at it";
        say(DoesNotCount::BalancingSpeedNotKnown, words.to_owned());
    }
    // Where no trial was made at the balancing speed, each says so.
    let is_open = measuring.is_unknown() || !measuring.not_calibrated().is_empty();
    let of_no_use = setup.trials.iter().filter(|_| is_open).flat_map(|trials| &trials.runs);
    let trials = measuring.resting_on().into_iter().flat_map(|trials| trials.of_balancing_speed());
    for trial in trials.chain(of_no_use) {
        let name = trial.name;
        match (trial.speed.get(), in_band(setup, &trial.speed)) {
            (None, _) => say(
                DoesNotCount::TrialSpeedNotStated,
                format!("trial `{name}`, by which the readings are judged, does not say its speed"),
            ),
            (Some(_), Some(false)) => {
                say(DoesNotCount::TrialSpeedOutOfBand, out_of_band(setup, ("trial", name), &trial.speed));
            }
            _ => {}
        }
    }
    for cause in &setup.void_causes {
        say(DoesNotCount::CalibrationVoid, format!("the calibration is void: {}", cause.what));
    }
    for what in setup.proof.iter().flat_map(|proof| failures(proof, measuring, shop)) {
        say(DoesNotCount::ProofFails, format!("the proof fails: {what}"));
    }
    for plane in measuring.not_calibrated() {
        let words = format!("nothing shows what a division means in plane {plane}: no calibration mass, no trial run");
        say(DoesNotCount::NotCalibrated, words);
    }
    for one in setup.contradictions.iter().filter(|one| one.is_calibrated) {
        say(DoesNotCount::TrialsContradictCalibration, one.words());
    }
    found
}

/// A traverse of the rotor as it is now that finds another residual than the run by which it is judged: farther apart
/// than both are known to, and than the traverse scatters. `measured` is the rotor's own in the plane of the traverse.
pub(in crate::book::results) fn of_traverse(
    traverse: &TraverseResults<'_>,
    run: &RunResults<'_>,
) -> Option<NotCounted> {
    let measured = run.plane(traverse.plane)?.own().amount();
    let residual = traverse.residual.amount();
    let (by_run, by_traverse) = (measured.get()?.raw(), residual.get()?.raw());
    let known_to = measured.expanded_uncertainty()
        + residual.expanded_uncertainty()
        + traverse.scatter.get().map_or(0.0, Amount::raw);
    ((by_run - by_traverse).abs() > known_to).then(|| {
        let shown = |value: &Val<Unbalance>, base| display_value(base, value.unit, value.standard_uncertainty());
        let words = format!(
            "the traverse of plane {} finds {}, and run `{}` shows {} there",
            traverse.plane,
            shown(&residual, by_traverse),
            run.name,
            shown(&measured, by_run)
        );
        NotCounted::new(DoesNotCount::TraverseContradicts, None, words)
    })
}

/// Whether a run's speed counts as the balancing speed; `None` when that is not known. Beyond the resonance that was found
/// the rotor answers with the opposite angle, however wide the band is.
pub fn in_band(setup: &SetupResults<'_>, speed: &Val<Speed>) -> Option<bool> {
    let [low, high] = setup.same_speed.as_ref()?;
    let speed = speed.get()?;
    Some(speed >= low.get()? && speed <= high.get()? && beyond_resonance(setup, speed).is_none())
}

/// The resonance that lies between a speed and the balancing speed.
fn beyond_resonance(setup: &SetupResults<'_>, speed: Speed) -> Option<Speed> {
    let [balancing, ratio] = [setup.balancing_speed.get()?.base(), setup.resonance_ratio.get()?.value()];
    let resonance = Speed::from_base(balancing / ratio);
    let is_above = |speed: Speed| speed > resonance;
    let is_beside = ratio != 1.0 && is_above(speed) != (ratio > 1.0);
    is_beside.then_some(resonance)
}

pub(in crate::book::results) fn out_of_band(
    setup: &SetupResults<'_>,
    (kind, name): (&str, &str),
    speed: &Val<Speed>,
) -> String {
    let shown =
        |speed: &Val<Speed>| speed.get().map_or_else(String::new, |known| display_value(known.base(), speed.unit, 0.0));
    let band = setup.same_speed.as_ref().map(|[low, high]| format!("{} to {}", shown(low), shown(high)));
    if let Some(resonance) = speed.get().and_then(|speed| beyond_resonance(setup, speed)) {
        let resonance = display_value(resonance.base(), speed.unit, 0.0);
        return format!("{kind} `{name}` at {} is on the other side of the resonance at {resonance}", shown(speed));
    }
    format!("{kind} `{name}` at {} is outside the band of {}", shown(speed), band.unwrap_or_default())
}
