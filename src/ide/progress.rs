//! How much of an item is known: what is still a `?`, and what it cannot do without.

use super::known;
use crate::book::{self, Book, EffectiveBlock, FileId, ItemId, effective};
use crate::sheet::{Block, FieldValue};
use crate::text::Span;
use crate::vocabulary::Need;

/// The facts of an item that are known, and those that are not, in the order of the sheet.
pub(super) struct Progress {
    known: usize,
    open: Vec<Open>,
}

struct Open {
    name: String,
    /// Where it is to be filled in; the heading of the block that has no line for it.
    span: Span,
}

impl Progress {
    /// `None` where nothing is open. `holds` is the item with what it takes over.
    pub fn of(item: &Block, holds: &EffectiveBlock<'_>) -> Option<Self> {
        let mut progress = Self { known: 0, open: Vec::new() };
        progress.count(item, holds);
        (!progress.open.is_empty()).then_some(progress)
    }

    fn count(&mut self, block: &Block, holds: &EffectiveBlock<'_>) {
        let named = |name: &str| match block.kind.is_item() {
            true => name.to_owned(),
            false => format!("{name} of {}", book::heading(block)),
        };
        for field in &block.fields {
            match field.value == FieldValue::Unknown {
                true => {
                    self.open.push(Open { name: named(&book::head_of(field)), span: field.head.to(field.value_span) })
                }
                false => self.known += 1,
            }
        }
        let must = block.spec().keys.iter().filter(|key| key.need == Need::Must && key.head_name.is_none());
        let holds_here = known::find(holds, block);
        let given = |name: &str| {
            let effective = holds_here.is_some_and(|holds| holds.fields.iter().any(|field| field.key.name == name));
            effective || block.fields.iter().any(|field| field.key.name == name)
        };
        let missing = must.filter(|key| !given(key.name));
        self.open.extend(missing.map(|key| Open { name: named(key.name), span: block.heading }));
        block.blocks.iter().for_each(|inner| self.count(inner, holds));
    }

    /// `12 of 15 known; next: resonance found at`
    pub fn words(&self) -> String {
        let next = self.open.first().map_or("", |open| &*open.name);
        format!("{} of {} known; next: {next}", self.known, self.known + self.open.len())
    }

    pub fn spans(&self) -> impl Iterator<Item = Span> {
        self.open.iter().map(|open| open.span)
    }
}

/// What is still open in an item, in words; `None` where nothing is.
pub fn progress_of(book: &Book, id: ItemId) -> Option<String> {
    Some(Progress::of(book.item(id), &effective(book, id).0)?.words())
}

/// The items of a file of which something is open, each with how much is known.
pub(super) fn of_file(book: &Book, file: FileId) -> impl Iterator<Item = (&Block, Progress)> {
    let items = book.file(file).sheet.items.iter().enumerate();
    items.filter_map(move |(index, item)| {
        let id = ItemId { file, index: index as u32 };
        Some((item, Progress::of(item, &effective(book, id).0)?))
    })
}
