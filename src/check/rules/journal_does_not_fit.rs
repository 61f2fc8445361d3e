use crate::check::amounts::{is_within, ranges};
use crate::check::machine_limits::{machine_fact, machine_name, rotor_name};
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::vocabulary::{machine, rotor, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((setup, range)) = machine_fact(context, machine::JOURNALS) else { return };
    // On an arbor it is the arbor's journals that run in the supports.
    if setup.block.field(setup::ARBOR).is_some() {
        return;
    }
    let Some(journal) = setup.rotor.as_ref().and_then(|rotor| rotor.block.field(rotor::JOURNAL_DIAMETER)) else {
        return;
    };
    let FieldValue::Quantity(diameter) = &journal.field.value else { return };
    let takes = ranges(&range.field.value);
    if takes.is_empty() || is_within(&takes, diameter.base, 0.0) {
        return;
    }
    let message = format!(
        "the journals of rotor \"{}\" are {}, but the supports of machine \"{}\" take {}",
        rotor_name(setup),
        context.written(journal),
        machine_name(setup),
        context.written(range)
    );
    sink.report(
        context
            .beside_first(&setup.block, &[setup::ROTOR.any()], message)
            .help("take an arbor, other bearings or another machine; name the arbor in the sheet")
            .about(journal, "the journals")
            .about(range, "what the supports take"),
    );
}
