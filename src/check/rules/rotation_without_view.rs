use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::{Choice, rotor};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(sense) = rotor.block.choice(rotor::ROTATION) else { return };
    if rotor.block.field(rotor::SEEN_FROM).is_some() || !rotors::is_read_whole(context) {
        return;
    }
    let message = format!("the rotor turns {}, but it is not said from which end that is seen", sense.words());
    sink.report(
        context
            .draft(rotors::span_of(&rotor.block, &[rotor::ROTATION.any()]), message)
            .help("add `seen from: drive end` or `seen from: tail end`"),
    );
}
