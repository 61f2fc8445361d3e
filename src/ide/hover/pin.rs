//! A pinned result: how it is worked out, and whether it still holds.

use std::fmt::Write as _;

use super::{Asked, Hover};
use crate::book::{self, Outcome};
use crate::check::{self, ItemContext, PinState};
use crate::ide::explain;
use crate::ide::markdown::{code, plain, sentence};
use crate::ide::results::ByBlock;
use crate::syntax::Pin;
use crate::vocabulary;

pub(super) fn hover(asked: &Asked<'_, '_>, pin: &Pin) -> Option<Hover> {
    let book = asked.computing.book();
    let blocks = asked.place.blocks()?;
    let (block, written) = asked.place.pin()?;
    let item = book.item(blocks.item);
    let computed = asked.computed()?;
    let spec = vocabulary::results_of(block.kind).find(|spec| spec.answers_to(&written.name))?;
    let by_block = ByBlock::of(blocks.item, item, computed);
    let entry = by_block.entries(block).iter().find(|entry| *entry.name() == *written.name);
    let mut markdown = match entry {
        Some(entry) => match &entry.outcome {
            Outcome::Missing(missing) => {
                format!(
                    "**{}**: not computed, {}\n\n{}",
                    plain(&written.name),
                    sentence(&book::why(book, missing)),
                    spec.meaning
                )
            }
            _ => explain::result(book, blocks.item, entry)?,
        },
        None => format!("**{}**: not computed\n\n{}", plain(&written.name), spec.meaning),
    };
    let context = ItemContext { computing: asked.computing, id: blocks.item, block: item, computed };
    let state = check::pins(&context).into_iter().find(|(pin, _)| pin.head == written.head).map(|(_, state)| state);
    match state {
        Some(PinState::Stale { computed, .. } | PinState::WrongDimension { computed, .. }) => {
            let stands = code(asked.place.text(written.value_span));
            let _ = write!(markdown, "\n\nStale: {stands} is written here, and {} is computed", code(&computed));
        }
        Some(PinState::Open { filled }) => {
            let _ = write!(markdown, "\n\nTo be filled: {}", code(&filled));
        }
        Some(PinState::NotComputed { why, .. }) if entry.is_none() => {
            let _ = write!(markdown, "\n\n{}", sentence(&why));
        }
        _ => {}
    }
    Some(Hover { span: pin.head.span.to(pin.value.span), markdown })
}
