use crate::check::machine_limits::machine_name;
use crate::check::{ItemContext, Severity, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(readout) = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()) else { return };
    // A readout in its own unit needs none; a setup by trial runs finds out itself what a reading means.
    if !readout.is_in_divisions() || setup.has_trial_runs() || !context.is_read_whole() {
        return;
    }
    for (channel, field) in setup.block.named(setup::CHANNEL) {
        let FieldValue::Name(plane) = &field.field.value else { continue };
        if setup.block.inner(Kind::Calibrate).any(|block| *block.name_text() == *plane.text) {
            continue;
        }
        let message = format!(
            "channel {} reads plane {} in divisions of machine \"{}\", but nothing says how it is calibrated",
            channel.text,
            plane.text,
            machine_name(setup)
        );
        let draft = context
            .beside(field, message)
            .help(format!("add `calibrate {} {{ … }}` with the mass and the radius that are used", plane.text));
        sink.report(if setup.is_released() { draft } else { draft.weighing(Severity::Note) });
    }
}
