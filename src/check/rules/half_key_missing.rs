use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::keyway;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    if !rotors::is_read_whole(context) {
        return;
    }
    for keyway in rotor.keyways.iter().filter(|keyway| keyway.block.field(keyway::KEY).is_none()) {
        let heading = rotors::heading(context, &keyway.block);
        let mut message = format!("{heading} does not say which key the rotor is balanced with");
        if let Some(wrong) = rotors::shown(&keyway.wrong) {
            message.push_str(&format!("; the wrong one puts {wrong} in"));
        }
        let draft = context
            .draft(keyway.block.written.heading, message)
            .help("write `key: half key`, `key: full key` or `key: no key`, as the mark on the end face says");
        let draft = ["key: half key", "key: full key", "key: no key"]
            .iter()
            .fold(draft, |draft, line| draft.offer_in(context.book(), keyway.block.place(), &[line]));
        sink.report(draft);
    }
}
