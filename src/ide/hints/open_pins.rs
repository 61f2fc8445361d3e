//! What is computed of a pin that is still a `?`.

use super::{Hint, HintKind};
use crate::book::{Computed, Computing, ItemId};
use crate::check::{self, ItemContext, PinState};
use crate::ide::markdown;
use crate::sheet::{Block, PinValue};
use crate::text::Edit;

pub(super) fn of<'b>(
    computing: &Computing<'b>,
    id: ItemId,
    item: &'b Block,
    computed: &Computed<'b>,
    hints: &mut Vec<Hint>,
) {
    // Judging pins costs more than looking for a `?`, and most sheets have none.
    if !has_open(item) {
        return;
    }
    let pins = check::pins(&ItemContext { computing, id, block: item, computed });
    hints.extend(pins.into_iter().filter_map(|(pin, state)| {
        let PinState::Open { filled } = state else { return None };
        Some(Hint {
            at: pin.value_span.end,
            label: filled.clone(),
            kind: HintKind::Result,
            tooltip: format!("Accepting it writes {} for the `?`.", markdown::code(&filled)),
            edits: vec![Edit::replace(pin.value_span, filled)],
            target: None,
        })
    }));
}

fn has_open(block: &Block) -> bool {
    block.pins.iter().any(|pin| pin.value == PinValue::Unknown) || block.blocks.iter().any(has_open)
}
