use crate::book::{EffectiveBlock, SetupResults, Val, in_band};
use crate::check::amounts::shown;
use crate::check::runs::{band, is_above_safe};
use crate::check::{ItemContext, Sink};
use crate::units::Speed;
use crate::vocabulary::run;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if let Some(setup) = context.setup() {
        let trials = setup.trials.as_ref();
        // Trials of another speed that are whole have influences of their own.
        let is_whole = |n: usize| {
            trials.is_some_and(|trials| trials.others.iter().any(|set| set.runs.contains(&n) && set.is_whole()))
        };
        let runs = trials.iter().flat_map(|trials| &trials.runs).enumerate();
        for (_, run) in runs.filter(|(n, _)| !is_whole(*n)) {
            judge_one(context, setup, ("trial", run.name), (&run.block, &run.speed), sink);
        }
    }
    if let Some((record, setup)) = context.record().and_then(|record| Some((record, record.setup.as_ref()?))) {
        for run in &record.runs {
            judge_one(context, setup, ("run", run.name), (&run.block, &run.speed), sink);
        }
    }
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    setup: &SetupResults<'b>,
    (kind, name): (&str, &str),
    (block, speed): (&EffectiveBlock<'b>, &Val<Speed>),
    sink: &mut Sink,
) {
    // Above what the rotor withstands is graver, and said as such.
    if in_band(setup, speed) != Some(false) || is_above_safe(setup, speed) {
        return;
    }
    let Some(band) = band(setup) else { return };
    let message = format!("{kind} \"{name}\" at {} is outside the band of the balancing speed, {band}", shown(speed));
    let help = "run again at the balancing speed; readings of another speed say nothing by this calibration";
    sink.report(context.beside_first(block, &[run::SPEED.any()], message).help(help));
}
