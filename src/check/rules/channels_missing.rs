use crate::check::machine_limits::machine_name;
use crate::check::readings;
use crate::check::wording::{and_list, or_list};
use crate::check::{ItemContext, Severity, Sink};
use crate::vocabulary::{machine, machine::Supports, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let (Some(machine), Some(rotor)) = (&setup.machine, &setup.rotor) else { return };
    let planes: Vec<&str> =
        rotor.planes.iter().filter(|plane| plane.shares_tolerance).map(|plane| plane.name).collect();
    // Hard supports separate by dimensions; with trial runs the channels may stay at the supports.
    let soft = machine.block.choice(machine::SUPPORTS) == Some(Supports::Soft);
    let by_trials = setup.has_trial_runs();
    let said = setup.block.named(setup::CHANNEL).next().is_some();
    if !soft || by_trials || said || planes.len() != 2 || machine.channels.len() != 2 || !context.is_read_whole() {
        return;
    }
    let message = format!(
        "rotor \"{}\" is balanced in planes {}, but nothing says which of the channels {} of machine \"{}\" reads \
         which",
        rotor.block.name_text(),
        and_list(&planes),
        or_list(&machine.channels),
        machine_name(setup)
    );
    let help = format!("write a line for each channel, such as `channel {}: {}`", machine.channels[0], planes[0]);
    let draft = context.beside_first(&setup.block, &[setup::MACHINE.any()], message).help(help);
    let draft = readings::pairings(context, draft, &machine.channels, &planes);
    let calibrates = setup.has_calibration_masses();
    sink.report(if calibrates || setup.is_released() { draft } else { draft.weighing(Severity::Note) });
}
