use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::keyway;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(whole) = rotor.permissible.get() else { return };
    for keyway in rotor.keyways.iter().filter(|keyway| keyway.block.field(keyway::MARK).is_none()) {
        let (Some(wrong), Some(convention)) = (keyway.wrong.get(), keyway.convention) else { continue };
        if wrong <= whole || !rotors::is_read_whole(context) {
            continue;
        }
        let unit = rotor.permissible.unit;
        let times = crate::units::number((wrong / whole).value(), None);
        let message = format!(
            "a key other than the {convention} in {} adds {}, {times} times the rotor's tolerance, and no key mark is stated",
            rotors::heading(context, &keyway.block),
            rotors::in_unit(wrong, unit),
        );
        sink.report(
            context
                .draft(rotors::span_of(&keyway.block, &[keyway::KEY.any()]), message)
                .help("stamp the convention on the end face, and write it down: `mark: \"H\"`")
                .offer_in(context.book(), keyway.block.place(), &["mark: ?"]),
        );
    }
}
