use crate::book::{SetupResults, in_band};
use crate::check::amounts::shown;
use crate::check::runs::{MadeRun, band, is_above_safe, made};
use crate::check::{ItemContext, Sink};
use crate::vocabulary::run;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for MadeRun { setup, called, block, speed, trial } in made(context) {
        let is_told = trial.is_some_and(|trial| is_of_whole_set(setup, trial));
        // Above what the rotor withstands is graver, and said as such.
        if is_told || in_band(setup, speed) != Some(false) || is_above_safe(setup, speed) {
            continue;
        }
        let Some(band) = band(setup) else { continue };
        let message = format!("{called} at {} is outside the band of the balancing speed, {band}", shown(speed));
        let help = "run again at the balancing speed; readings of another speed say nothing by this calibration";
        sink.report(context.beside_first(block, &[run::SPEED.any()], message).help(help));
    }
}

/// Trials of another speed that are whole have influences of their own.
fn is_of_whole_set(setup: &SetupResults<'_>, trial: usize) -> bool {
    let others = setup.trials.iter().flat_map(|trials| &trials.others);
    others.into_iter().any(|set| set.runs.contains(&trial) && set.is_whole())
}
