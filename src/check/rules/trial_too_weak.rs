use crate::book::Val;
use crate::check::amounts::{limit, percent};
use crate::check::{ItemContext, Sink};
use crate::mechanics::influence::{ENOUGH_CHANGE, ENOUGH_TURN};
use crate::units;
use crate::vocabulary::trial;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(trials) = context.setup().and_then(|setup| setup.trials.as_ref()) else { return };
    for run in trials.runs.iter().filter(|run| run.changed_enough() == Some(false)) {
        // Without angles a mass at a right angle to the unbalance hardly changes the amount, and three runs still tell it.
        if !trials.with_angles && trials.planes.len() == 1 {
            continue;
        }
        let Some(amount) = run.change_of_amount.as_ref().and_then(Val::get) else { continue };
        let angle = run.change_of_angle.as_ref().and_then(Val::get).map(units::Angle::in_degrees);
        let changed = match angle {
            Some(angle) => format!("{} and {}", percent(amount.value()), units::quantity(angle, "deg", None)),
            None => percent(amount.value()),
        };
        let needed = match angle {
            Some(_) => format!("{} or {} deg", limit(ENOUGH_CHANGE), units::plainly(ENOUGH_TURN)),
            None => limit(ENOUGH_CHANGE),
        };
        let times = (ENOUGH_CHANGE / amount.value()).min(ENOUGH_TURN / angle.unwrap_or(0.0).max(1e-3)).clamp(1.2, 5.0);
        let message =
            format!("trial \"{}\" changed the reading by {changed}, where {needed} are needed to trust it", run.name);
        let help = format!(
            "was the mass on, and in its plane? If it was, use about {} times the mass, if that still pulls with less than a \
             tenth of the weight, and run again",
            units::number(times, None)
        );
        sink.report(context.beside_first(&run.block, &[trial::MASS.any(), trial::MASS_IN.any()], message).help(help));
    }
}
