use crate::check::machine_limits::machine_name;
use crate::check::placing::without_line;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(readout) = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()) else { return };
    let (Some(shows), Some(field)) = (readout.shows, setup.block.field(setup::TOLERANCE_READS)) else { return };
    if readout.is_in_divisions() {
        return;
    }
    let message = format!(
        "{} has no meaning here: machine \"{}\" shows {shows} in {}",
        context.line(field),
        machine_name(setup),
        readout.unit
    );
    let draft = context.beside(field, message).help("take the line away: the tolerance is read as it is");
    sink.report(match field.item == context.id {
        true => draft.fix("Take the line away", without_line(context.source(), field.field.head)),
        false => draft,
    });
}
