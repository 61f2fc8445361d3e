use crate::check::calibration;
use crate::check::readings::reading_channels;
use crate::check::{ItemContext, Sink, wording};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(rotor) = setup.rotor.as_ref().filter(|_| !setup.channels.is_empty() && context.is_read_whole()) else {
        return;
    };
    for (calibration, block) in calibration::blocks(context) {
        let plane = calibration.plane;
        // A name that is no plane of the rotor is reported as such.
        if rotor.plane(plane).is_none() || setup.channels.iter().any(|(_, read)| *read == plane) {
            continue;
        }
        let said: Vec<String> =
            setup.channels.iter().map(|(channel, plane)| format!("{channel} reads {plane}")).collect();
        let message = format!("plane {plane} is calibrated, but no channel reads it: {}", wording::and_list(&said));
        let help = format!("write `channel …: {plane}` for the channel that does, or leave the calibration out");
        let draft = context.on_heading(block, message).help(help);
        sink.report(reading_channels(context, draft, setup, plane));
    }
}
