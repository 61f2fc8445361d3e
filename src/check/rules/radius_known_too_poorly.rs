use crate::check::amounts::{limit, percent};
use crate::check::calibration::{self, stated, step_needed};
use crate::check::{ItemContext, Sink};
use crate::units::Amount;
use crate::vocabulary::calibrate;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let accepted = calibration::accepted(context);
    for (calibration, block) in calibration::blocks(context) {
        let Some((field, written)) = stated(block, &[calibrate::RADIUS.any(), calibrate::DIAMETER.any()]) else {
            continue;
        };
        let Some(radius) = calibration.radius.get() else { continue };
        let share = calibration.radius.expanded_uncertainty() / radius.raw();
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
        let help = format!("measure it to {}, to the centre of the mass", step_needed(written, accepted));
        sink.report(context.beside(field, message).help(help));
    }
}
