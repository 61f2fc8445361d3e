use crate::check::machine_limits::machine_name;
use crate::check::wording::and_list;
use crate::check::{ItemContext, Severity, Sink};
use crate::vocabulary::{machine, machine::Supports, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let (Some(machine), Some(rotor)) = (&setup.machine, &setup.rotor) else { return };
    let hard = machine.block.choice(machine::SUPPORTS) == Some(Supports::Hard);
    let planes = rotor.planes.iter().filter(|plane| plane.shares_tolerance).count();
    // Below two planes there is nothing to separate; with trial runs the machine is not told its dimensions.
    let by_trials = setup.has_trial_runs();
    if !hard || planes != 2 || by_trials || setup.block.field(setup::SUPPORTS_AT).is_some() {
        return;
    }
    let missing: Vec<String> =
        [setup::LEFT_SUPPORT_TO_LEFT_PLANE, setup::BETWEEN_PLANES, setup::RIGHT_PLANE_TO_RIGHT_SUPPORT]
            .into_iter()
            .filter(|fact| setup.block.field(*fact).is_none())
            .map(|fact| format!("`{fact}`"))
            .collect();
    if missing.is_empty() || !context.is_read_whole() {
        return;
    }
    let message = format!(
        "machine \"{}\" has hard supports and needs the distances of planes and supports, but {} cannot be worked \
         out: nothing says where the supports are",
        machine_name(setup),
        and_list(&missing)
    );
    let draft = context
        .beside_first(&setup.block, &[setup::MACHINE.any()], message)
        .help("write `supports at: …` with both places from the rotor's datum, left support first")
        .offer(context, &["supports at: ?"]);
    sink.report(if setup.is_released() { draft } else { draft.weighing(Severity::Note) });
}
