//! Results written into the sheet, refreshed, and taken out again.

use super::{Action, ActionKind, Asked};
use crate::book::{Computed, Computing, Entry, FileId, ItemId};
use crate::check::{self, ItemContext, PinState};
use crate::ide::hints::is_said;
use crate::ide::results::ByBlock;
use crate::ide::{explain, lines, markdown, results};
use crate::sheet::Block;
use crate::syntax::LineKind;
use crate::text::{Edit, Span};

pub(super) fn at(asked: &Asked<'_, '_>) -> Vec<Action> {
    let Some(blocks) = asked.place.blocks() else { return Vec::new() };
    let mut found: Vec<Action> = unpin(asked).into_iter().collect();
    if !results::has_results(blocks.path[0].kind) {
        return found;
    }
    let Some(computed) = asked.computed() else { return found };
    let by_block = ByBlock::of(blocks.item, blocks.path[0], computed);
    found.extend(pin_each(asked, &by_block, blocks.item, blocks.innermost()));
    // All of an item's results are no matter of any one line.
    let heading = blocks.path[0].heading;
    let is_asked_of_the_item = heading.start <= asked.offset && asked.offset <= heading.end;
    if is_asked_of_the_item || asked.place.pin().is_some() {
        found.extend(pin_whole(asked, &by_block, blocks.item, blocks.path[0]));
    }
    found
}

fn unpin(asked: &Asked<'_, '_>) -> Option<Action> {
    let (_, pin) = asked.place.pin()?;
    let edit = lines::without(asked.place.source, pin.head.to(pin.value_span));
    Some(asked.action(ActionKind::Rewrite, format!("Take out the pin of {}", markdown::code(&pin.name)), vec![edit]))
}

/// The results that stand beside the line and are not pinned yet.
fn pin_each(asked: &Asked<'_, '_>, results: &ByBlock<'_>, id: ItemId, block: &Block) -> Vec<Action> {
    let book = asked.computing.book();
    let beside = match &asked.place.line.kind {
        LineKind::Fact(fact) => fact.value.span,
        LineKind::Open(_) => block.heading,
        _ => return Vec::new(),
    };
    let own = beside != block.heading;
    let entries = results.entries(block).iter().copied();
    let entries = entries.filter(|entry| entry.place == (id.file, beside) && is_new(book, block, entry));
    let action = |entry: &Entry| {
        let line = results::pin_line(book, entry)?;
        let title = format!("Pin {}", markdown::code(&line));
        let edit = match own {
            true => lines::below(asked.place.source, beside.end, &[line]),
            false => lines::into_block(asked.place.source, block, &[line]),
        };
        Some(asked.action(ActionKind::Insert, title, vec![edit]))
    };
    entries.filter_map(action).collect()
}

fn is_new(book: &crate::book::Book, block: &Block, entry: &Entry) -> bool {
    is_said(book, entry) && !results::is_as_stated(entry) && !results::stands(block, entry)
}

/// Every result of the item that a hint would show, each in its block.
fn pin_whole(asked: &Asked<'_, '_>, results: &ByBlock<'_>, id: ItemId, item: &Block) -> Option<Action> {
    let mut edits = asked.computed().map_or_else(Vec::new, |computed| refreshed(asked.computing, id, computed));
    let stale = edits.len();
    let mut count = 0;
    pin_block(asked, results, item, &mut edits, &mut count);
    let name = explain::called(asked.computing.book(), id);
    let pins = |count: usize| if count == 1 { "1 stale pin".to_owned() } else { format!("{count} stale pins") };
    let title = match (count, stale) {
        (0, stale) => format!("Write {} of {name} again", pins(stale)),
        (1, 0) => format!("Pin the one result of {name} that is not pinned"),
        (count, 0) => format!("Pin {count} results of {name}"),
        (1, stale) => format!("Pin 1 result of {name} and write {} again", pins(stale)),
        (count, stale) => format!("Pin {count} results of {name} and write {} again", pins(stale)),
    };
    (!edits.is_empty()).then(|| asked.action(ActionKind::Insert, title, edits))
}

fn pin_block(asked: &Asked<'_, '_>, results: &ByBlock<'_>, block: &Block, edits: &mut Vec<Edit>, count: &mut usize) {
    let book = asked.computing.book();
    let entries = results.entries(block).iter();
    let pins: Vec<String> =
        entries.filter(|entry| is_new(book, block, entry)).filter_map(|entry| results::pin_line(book, entry)).collect();
    if !pins.is_empty() {
        *count += pins.len();
        edits.push(lines::into_block(asked.place.source, block, &pins));
    }
    block.blocks.iter().for_each(|inner| pin_block(asked, results, inner, edits, count));
}

/// The pins of an item that are stale, as they should be.
fn refreshed<'b>(computing: &Computing<'b>, id: ItemId, computed: &Computed<'b>) -> Vec<Edit> {
    let pins = check::pins(&ItemContext { computing, id, block: computing.book().item(id), computed });
    let edits = pins.into_iter().filter_map(|(pin, state)| match state {
        PinState::Stale { refreshed, .. }
        | PinState::WrongDimension { refreshed, .. }
        | PinState::Open { filled: refreshed } => {
            Some(Edit::replace(Span::new(pin.value_span.start, pin.value_span.end), refreshed))
        }
        _ => None,
    });
    edits.collect()
}

/// Refreshes every stale pin of a file.
pub fn pin_all(computing: &Computing<'_>, file: FileId) -> Vec<Edit> {
    let items = 0..computing.book().file(file).sheet.items.len() as u32;
    let of_item = |index| {
        let id = ItemId { file, index };
        refreshed(computing, id, &computing.item(id))
    };
    items.flat_map(of_item).collect()
}
