//! Which runs a verdict rests on, and why the readings of a run may count for nothing.

use super::index::IndexResults;
use super::measuring::Measuring;
use super::render::display_value;
use super::run::RunResults;
use super::setup::SetupResults;
use crate::book::derive::Val;
use crate::units::{Speed, Typed};

/// Why readings do not count, whatever they show.
#[derive(Clone, PartialEq, Debug)]
pub enum DoesNotCount {
    NoRunAfterCorrection,
    CalibrationMassesOn,
    CalibrationMassesNotStated,
    SpeedNotStated,
    SpeedOutOfBand,
    /// The rotor was turned on its arbor in other runs, and this one does not say how it sat.
    SeatNotStated,
    /// Two runs of the rotor as it is now say different things of its tolerance.
    RunsDisagree,
    CalibrationVoid,
    /// Nothing but a demand says what a division of the readout stands for.
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
    pub(super) fn new(why: DoesNotCount, run: Option<usize>, words: impl Into<String>) -> Self {
        Self { why, run, words: words.into() }
    }
}

/// The runs from which the judged number is worked out: those of the index when it tells the rotor's unbalance, else
/// the last one, with the runs that told the arbor's share which is taken off it.
pub(super) fn rests_on(
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
pub(super) fn of_run(
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
        None => say(
            DoesNotCount::CalibrationMassesNotStated,
            format!("run `{name}` does not say whether calibration masses were off"),
        ),
    }
    match (run.speed.get(), in_band(setup, &run.speed)) {
        (None, _) => say(DoesNotCount::SpeedNotStated, format!("run `{name}` does not say its speed")),
        (Some(_), Some(false)) => say(DoesNotCount::SpeedOutOfBand, out_of_band(setup, ("run", name), &run.speed)),
        _ => {}
    }
    if indexed && run.turned.is_none() {
        let words = format!(
            "run `{name}` does not say how far the rotor was turned on its arbor, whose own unbalance it therefore holds"
        );
        say(DoesNotCount::SeatNotStated, words);
    }
    found
}

/// What makes all readings of a setup count for nothing.
pub(super) fn of_setup(measuring: &Measuring<'_, '_>) -> Vec<NotCounted> {
    let setup = measuring.setup;
    let mut found = Vec::new();
    let mut say = |why: DoesNotCount, words: String| found.push(NotCounted::new(why, None, words));
    for cause in &setup.void_causes {
        say(DoesNotCount::CalibrationVoid, format!("the calibration is void: {}", cause.what));
    }
    for plane in measuring.not_calibrated() {
        let words =
            format!("nothing shows what a division stands for in plane {plane}: no calibration mass, no trial run");
        say(DoesNotCount::NotCalibrated, words);
    }
    for one in setup.contradictions.iter().filter(|one| one.is_calibrated) {
        say(DoesNotCount::TrialsContradictCalibration, one.words());
    }
    found
}

/// Whether a run's speed counts as the balancing speed; `None` when that is not known.
pub fn in_band(setup: &SetupResults<'_>, speed: &Val<Speed>) -> Option<bool> {
    let [low, high] = setup.same_speed.as_ref()?;
    let speed = speed.get()?;
    Some(speed >= low.get()? && speed <= high.get()?)
}

pub(super) fn out_of_band(setup: &SetupResults<'_>, (kind, name): (&str, &str), speed: &Val<Speed>) -> String {
    let shown =
        |speed: &Val<Speed>| speed.get().map_or_else(String::new, |known| display_value(known.base(), speed.unit, 0.0));
    let band = setup.same_speed.as_ref().map(|[low, high]| format!("{} to {}", shown(low), shown(high)));
    format!("{kind} `{name}` at {} is outside the band of {}", shown(speed), band.unwrap_or_default())
}
