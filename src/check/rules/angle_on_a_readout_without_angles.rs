use crate::check::machine_limits::machine_name;
use crate::check::readings::{self, all, readout};
use crate::check::{ItemContext, Sink};
use crate::vocabulary::{readout, readout::AngleDisplay};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(readout)) = (readings::setup(context), readout(context)) else { return };
    if readout.block.choice(readout::ANGLES) != Some(AngleDisplay::NotShown) {
        return;
    }
    for (field, _) in all(context).into_iter().filter(|(_, reading)| reading.angle.is_some()) {
        let message = format!(
            "{} has an angle, but the readout of machine \"{}\" shows none",
            context.line(field),
            machine_name(setup)
        );
        let draft = context.beside(field, message);
        let draft =
            draft.help("write the amount alone; or say in the machine how angles are read: `angles: by strobe`");
        sink.report(match readout.block.field(readout::ANGLES) {
            Some(angles) => draft.about(angles, "what the machine says of angles"),
            None => draft,
        });
    }
}
