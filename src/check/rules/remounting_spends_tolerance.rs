use crate::check::amounts::{limit, percent};
use crate::check::{ItemContext, Sink};
use crate::mechanics::proof::MAY_MOVE;
use crate::vocabulary::proof;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(proof) = context.setup().and_then(|setup| setup.proof.as_ref()) else { return };
    for (channel, moved) in &proof.repeatability {
        let Some(moved) = moved.get().filter(|moved| moved.value() > MAY_MOVE) else { continue };
        let message = format!(
            "remounting moves channel {channel} by {} of the reading at tolerance from its mean, more than {}",
            percent(moved.value()),
            limit(MAY_MOVE)
        );
        let field =
            proof.block.named(proof::REMOUNTED).find(|(name, _)| *name.text == **channel).map(|(_, field)| field);
        let draft = match field {
            Some(field) => context.beside(field, message),
            None => context.on_heading(&proof.block, message),
        };
        sink.report(draft.help(
            "find what seats differently each time: clearance, burrs, dirt, an arbor that does not repeat; what moves by \
             chance is taken off the limit",
        ));
    }
}
