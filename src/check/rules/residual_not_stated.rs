use crate::check::machine_limits::machine_name;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::{AnyFact, machine, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.is_released()) else { return };
    let (Some(machine), Some(field)) = (&setup.machine, setup.block.field(setup::MACHINE)) else { return };
    let states = |fact: AnyFact| machine.block.field(fact).is_some();
    let unread = !crate::book::is_read_whole(context.book(), machine.id);
    if unread
        || states(machine::MINIMUM_ACHIEVABLE_RESIDUAL_UNBALANCE.any())
        || states(machine::MINIMUM_ACHIEVABLE_RESIDUAL_SPECIFIC_UNBALANCE.any())
    {
        return;
    }
    let message = format!(
        "machine \"{}\" does not state the smallest residual unbalance it can reach, so that the tolerance cannot be \
         compared with it",
        machine_name(setup)
    );
    sink.report(
        context
            .beside(field, message)
            .help("test it, and write `minimum achievable residual unbalance` with the date into the machine")
            .related(machine.id.file, machine.block.written.heading, "the machine"),
    );
}
