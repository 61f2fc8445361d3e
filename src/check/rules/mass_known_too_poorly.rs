use crate::book;
use crate::check::amounts::{limit, percent, shown};
use crate::check::calibration::{self, least_at_this_step, stated, step_needed};
use crate::check::{ItemContext, Sink};
use crate::vocabulary::calibrate;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let accepted = calibration::accepted(context);
    for (calibration, block) in calibration::blocks(context) {
        let Some((field, mass)) = stated(block, &[calibrate::MASS.any()]) else { continue };
        let expanded = calibration.mass.expanded_uncertainty();
        let share = expanded / mass.base;
        if share <= accepted {
            continue;
        }
        let message = format!(
            "{} is known only to ± {} (k = 2), and so is the reading of plane {}; the shop accepts ± {}",
            context.line(field),
            percent(share),
            calibration.plane,
            limit(accepted)
        );
        let known_step = expanded * 3f64.sqrt() / 2.0;
        let least = least_at_this_step(known_step, accepted);
        let coarser = book::display_value(least, mass.unit, 0.0);
        let finer = format!("weigh it to {}, or use a mass of {coarser} or more", step_needed(mass, accepted));
        let draft = context.beside(field, message);
        sink.report(match calibration::heavier_of_set(calibration, mass) {
            Some(set) => draft.help(format!("{finer}; {} of the set would suit this plane", shown(set))).offer_value(
                context,
                field,
                &shown(set),
            ),
            None => draft.help(finer),
        });
    }
}
