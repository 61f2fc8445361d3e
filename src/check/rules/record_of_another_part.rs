use crate::book::Reason;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::made_of;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((rotor, clocking)) = context.rotor().and_then(|rotor| Some((rotor, rotor.clocking.as_ref()?))) else {
        return;
    };
    let missing = clocking.in_planes.iter().find_map(|vector| vector.known.as_ref().err());
    let Some(missing) = missing.filter(|missing| missing.origin.name == made_of::RECORD.words()) else { return };
    let Reason::Impossible(why) = &missing.reason else { return };
    let here = |field: &crate::book::EffectiveField<'_>| {
        missing.origin.place == Some((field.item.file, field.field.value_span))
    };
    for part in &rotor.parts {
        let Some(field) = part.block.field(made_of::RECORD).filter(here) else { continue };
        let message = format!("{} of part \"{}\": {why}", context.line(field), part.name);
        let help =
            "name a record whose setup is for this very rotor, whose readings have angles, and whose last run counts";
        sink.report(context.beside(field, message).help(help));
    }
}
