//! What the rules on trial runs, proofs and records share.

use super::amounts::{amount, shown};
use super::context::ItemContext;
use crate::book::{DoesNotCount, EffectiveBlock, Judged, RecordResults, RunResults, SetupResults, Val};
use crate::units::Speed;
use crate::vocabulary::{Of, ResultSpec};

/// The band of speeds that count as the balancing speed: `873 rpm to 927 rpm`.
pub fn band(setup: &SetupResults<'_>) -> Option<String> {
    let [low, high] = setup.same_speed.as_ref()?;
    let unit = setup.balancing_speed.unit;
    let end = |speed: &Val<Speed>| Some(amount(speed.get()?, unit));
    Some(format!("{} to {}", end(low)?, end(high)?))
}

/// A run of a record or a trial of a setup, with the setup that it was made on.
pub struct MadeRun<'r, 'b> {
    pub setup: &'r SetupResults<'b>,
    /// `run "corrected"`
    pub called: String,
    pub block: &'r EffectiveBlock<'b>,
    pub speed: &'r Val<Speed>,
    /// Of a trial, its number among the trials.
    pub trial: Option<usize>,
}

/// The trials of a setup, and the runs of a record whose setup is known.
pub fn made<'r, 'b>(context: &'r ItemContext<'b, '_>) -> Vec<MadeRun<'r, 'b>> {
    let mut all = Vec::new();
    if let Some(setup) = context.setup() {
        let trials = setup.trials.iter().flat_map(|trials| &trials.runs).enumerate();
        all.extend(trials.map(|(n, one)| MadeRun {
            setup,
            called: format!("trial \"{}\"", one.name),
            block: &one.block,
            speed: &one.speed,
            trial: Some(n),
        }));
    }
    if let Some((record, setup)) = context.record().and_then(|record| Some((record, record.setup.as_deref()?))) {
        all.extend(record.runs.iter().map(|one| MadeRun {
            setup,
            called: format!("run \"{}\"", one.name),
            block: &one.block,
            speed: &one.speed,
            trial: None,
        }));
    }
    all
}

/// Whether a run was faster than its rotor may ever turn.
pub fn is_above_safe(setup: &SetupResults<'_>, speed: &Val<Speed>) -> bool {
    let safe = setup.rotor.as_ref().and_then(|rotor| rotor.safe_speed.get());
    speed.get().zip(safe).is_some_and(|(speed, safe)| speed > safe * (1.0 + 1e-9))
}

/// The runs on which the verdict would rest, and whose readings do not count for this reason.
pub fn not_counted<'r, 'b>(
    record: &'r RecordResults<'b>,
    why: DoesNotCount,
) -> impl Iterator<Item = &'r RunResults<'b>> {
    let found = record.verdict.iter().flat_map(move |verdict| verdict.not_counted(why));
    found.filter_map(|one| record.runs.get(one.run?))
}

/// Whether the item itself states a result: then somebody has looked at it.
pub fn pins(context: &ItemContext<'_, '_>, result: &'static ResultSpec) -> bool {
    context.block.pins.iter().any(|pin| *pin.name == *result.name)
}

/// `62.1 g·mm of 46.3 g·mm at bearing a`
pub fn measured_of_limit(judged: &Judged) -> String {
    format!("{} of {} {}", shown(&judged.measured), shown(&judged.limit), place(judged))
}

/// `at bearing a`, `in plane hub`, `of the static unbalance`.
pub fn place(judged: &Judged) -> String {
    match &judged.of {
        Of::Plane(name) => format!("in plane {name}"),
        Of::Channel(name) => format!("on channel {name}"),
        Of::Static | Of::Couple => format!("of the {} unbalance", judged.name()),
        _ => format!("at {}", judged.name()),
    }
}
