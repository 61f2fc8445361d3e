use crate::check::amounts::{amount, shown};
use crate::check::machine_limits::machine_name;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    for calibration in &setup.calibrations {
        let (Some(tolerance), Some(step)) = (calibration.tolerance.get(), setup.of_one_step(calibration.plane)) else {
            continue;
        };
        if tolerance >= step {
            continue;
        }
        let (plane, machine) = (calibration.plane, machine_name(setup));
        let message = format!(
            "the tolerance of plane {plane}, {}, is less than the {} of one step on the readout of machine \"{machine}\"",
            shown(&calibration.tolerance),
            amount(step, calibration.tolerance.unit)
        );
        let draft = match &calibration.block {
            Some(block) => context.on_heading(block, message),
            None => context.beside_first(&setup.block, &[setup::MACHINE.any()], message),
        };
        sink.report(draft.help(
            "readings jump over the tolerance: take a finer scale, a larger set radius, or a machine that shows smaller amounts",
        ));
    }
}
