use crate::check::machine_limits::machine_name;
use crate::check::readings::{self, all, readout};
use crate::check::{ItemContext, Sink};
use crate::vocabulary::{Choice, readout, readout::AngleDisplay};

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
        let draft = match context.written(field).split_once('@').map(|(amount, rest)| (amount.trim_end(), rest)) {
            Some((amount, rest)) if !rest.contains([',', '@']) => draft.offer_value(context, field, amount),
            _ => draft,
        };
        sink.report(match readout.block.field(readout::ANGLES) {
            Some(angles) => {
                let by_strobe = AngleDisplay::ByStrobe.words();
                draft.about(angles, "what the machine says of angles").offer_value(context, angles, by_strobe)
            }
            None => draft,
        });
    }
}
