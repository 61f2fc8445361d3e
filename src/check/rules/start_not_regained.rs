use crate::check::amounts::{limit, percent};
use crate::check::{ItemContext, Sink};
use crate::mechanics::proof::MAY_MOVE;
use crate::vocabulary::proof;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(proof) = context.setup().and_then(|setup| setup.proof.as_ref()) else { return };
    for (channel, moved) in &proof.returns {
        let Some(moved) = moved.get().filter(|moved| moved.value() > MAY_MOVE) else { continue };
        let message = format!(
            "channel {channel} came back {} of the reading at tolerance off its start, more than {}",
            percent(moved.value()),
            limit(MAY_MOVE)
        );
        let field =
            proof.block.named(proof::BACK_AT_START).find(|(name, _)| *name.text == **channel).map(|(_, field)| field);
        let draft = match field {
            Some(field) => context.beside(field, message),
            None => context.on_heading(&proof.block, message),
        };
        sink.report(draft.help(
            "count the masses that came off, look for what has moved on the rotor or in the supports, and prove again",
        ));
    }
}
