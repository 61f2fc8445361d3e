use crate::check::machine_limits::machine_name;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(readout) = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()) else { return };
    let calibrates = setup.has_calibration_masses() && context.is_read_whole();
    if !readout.is_in_divisions() || setup.block.field(setup::TOLERANCE_READS).is_some() || !calibrates {
        return;
    }
    let message = format!(
        "machine \"{}\" shows divisions, and the setup does not say how many of them equal the tolerance: no reading can be computed",
        machine_name(setup)
    );
    let help = "write `tolerance reads: 1 div` to have a rotor good at one division or less, or what this shop uses";
    sink.report(
        context
            .beside_first(&setup.block, &[setup::MACHINE.any()], message)
            .help(help)
            .offer(context, &["tolerance reads: 1 div"])
            .weighing(context.by_status()),
    );
}
