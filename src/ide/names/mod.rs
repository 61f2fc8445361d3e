//! Every name in a sheet, and what it names.

mod linked;
mod owners;

pub(in crate::ide) use linked::with_linked;
pub(in crate::ide) use owners::Owners;

use crate::book::{Book, FileId, ItemId};
use crate::sheet::{Block, Field, FieldValue, NameAt, Pin, StatedReading};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::{NameOf, ValueType, setup};
use owners::reference;

/// A thing that has a name.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub(in crate::ide) struct Named {
    pub what: What,
    /// The item that a name within an item belongs to; where that cannot be found, the item that uses the name.
    pub owner: Option<ItemId>,
    pub name: Box<str>,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub(in crate::ide) enum What {
    /// An item of the book, or an inner block: a plane, a control, a scale, an instrument, a run.
    Block(Kind),
    /// A measuring channel of a machine.
    Channel,
    /// A diagnostic.
    Code,
}

/// A name as it is in a sheet.
#[derive(Clone, Debug)]
pub(in crate::ide) struct Mention {
    pub of: Named,
    /// With its quotes.
    pub span: Span,
    pub quoted: bool,
    pub stands: Stands,
    /// The whole block or fact that describes the thing; `None` where it is only named.
    pub described: Option<Span>,
}

/// Where a name stands, which decides how it may be written there.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::ide) enum Stands {
    /// After the kind of a block.
    Heading,
    /// Alone before the colon.
    Head(Kind),
    /// Before the colon, after the words of a key.
    BehindKey(Kind, &'static str),
    Value,
    /// Within the quotes of a longer text: `"calibrate rim"`.
    Within,
}

/// Every name in an item, in the order in which they stand.
pub(in crate::ide) fn mentions(book: &Book, item: ItemId) -> Vec<Mention> {
    let mut collector = Collector { book, item, owners: Owners::new(book, item), found: Vec::new() };
    collector.block(book.item(item));
    collector.found.sort_by_key(|mention| mention.span);
    collector.found
}

/// Every name in a file.
pub(in crate::ide) fn mentions_of_file(book: &Book, file: FileId) -> Vec<Mention> {
    let items = 0..book.file(file).sheet.items.len() as u32;
    items.flat_map(|index| mentions(book, ItemId { file, index })).collect()
}

/// The name at an offset; at the border of two, the one that begins there.
pub(in crate::ide) fn mention_at(book: &Book, file: FileId, offset: u32) -> Option<Mention> {
    let items = &book.file(file).sheet.items;
    let index = items.iter().position(|item| crate::ide::place::covers(item.span, offset))?;
    let found = mentions(book, ItemId { file, index: index as u32 });
    found.into_iter().rev().find(|mention| crate::ide::place::covers(mention.span, offset))
}

/// The places where a thing is described.
pub(in crate::ide) fn descriptions(book: &Book, of: &Named) -> Vec<(ItemId, Mention)> {
    let items = match (of.what, of.owner) {
        (What::Code, _) => Vec::new(),
        (_, Some(owner)) => vec![owner],
        (What::Block(kind), None) => book.named(kind, &of.name).to_vec(),
        (What::Channel, None) => Vec::new(),
    };
    let found = items.into_iter().flat_map(|item| mentions(book, item).into_iter().map(move |found| (item, found)));
    found.filter(|(_, mention)| mention.described.is_some() && mention.of == *of).collect()
}

/// Every place that names a thing, in the order of files.
pub(in crate::ide) fn everywhere(book: &Book, of: &Named) -> Vec<(ItemId, Mention)> {
    // Most files do not hold the name at all, which is far quicker to see than what its items are about.
    let written = of.name.replace('"', "\"\"");
    let mut found = Vec::new();
    for (file, source) in book.files() {
        if !source.text.contains(&*written) {
            continue;
        }
        for index in 0..source.sheet.items.len() as u32 {
            let item = ItemId { file, index };
            let named = mentions(book, item).into_iter().filter(|mention| mention.of == *of);
            found.extend(named.map(|mention| (item, mention)));
        }
    }
    found
}

struct Collector<'b> {
    book: &'b Book,
    item: ItemId,
    owners: Owners,
    found: Vec<Mention>,
}

impl<'b> Collector<'b> {
    fn block(&mut self, block: &'b Block) {
        let part = block.name.as_ref().filter(|_| block.kind == Kind::MadeOf);
        self.owners.part = part.and_then(|name| self.book.find(Kind::Rotor, &name.text).ok());
        if let (Some(name), Some(of)) = (&block.name, block.spec().name) {
            match of {
                NameOf::Own => {
                    let owner = (!block.kind.is_item()).then_some(self.item);
                    let of = Named { what: What::Block(block.kind), owner, name: name.text.clone() };
                    self.push(of, name, Stands::Heading, Some(block.span));
                }
                of => self.use_of(of, name, Stands::Heading),
            }
        }
        for field in &block.fields {
            self.field(block, field);
        }
        if block.kind == Kind::Settings {
            block.pins.iter().for_each(|pin| self.pinned_setting(pin));
        }
        for inner in &block.blocks {
            self.block(inner);
        }
    }

    /// The control of a setting that is worked out.
    fn pinned_setting(&mut self, pin: &Pin) {
        let quoted = pin.head.of(&self.book.file(self.item.file).text).starts_with('"');
        let name = NameAt { text: pin.name.clone(), span: pin.head, quoted };
        self.use_of(NameOf::Control, &name, Stands::Head(Kind::Settings));
    }

    fn field(&mut self, block: &'b Block, field: &'b Field) {
        if let Some(name) = &field.name {
            match (field.key.head_name, &block.spec().named_facts) {
                (Some(of), _) => self.use_of(of, name, Stands::BehindKey(block.kind, field.key.name)),
                (None, Some(named)) => self.use_of(named.name, name, Stands::Head(block.kind)),
                (None, None) => {}
            }
        }
        match (&field.value, field.key.value) {
            (FieldValue::Name(name), ValueType::Reference(kind)) => {
                self.use_of(NameOf::Item(kind), name, Stands::Value);
            }
            (FieldValue::Name(name), ValueType::Name(of)) => self.use_of(of, name, Stands::Value),
            (FieldValue::Names(names), ValueType::Names(NameOf::Channel)) if block.kind == Kind::Machine => {
                let whole = field.head.to(field.value_span);
                for name in names {
                    let of = Named { what: What::Channel, owner: Some(self.item), name: name.text.clone() };
                    self.push(of, name, Stands::Value, Some(whole));
                }
            }
            (FieldValue::Names(names), ValueType::Names(of)) => {
                names.iter().for_each(|name| self.use_of(of, name, Stands::Value));
            }
            (FieldValue::Names(names), ValueType::LineHeads) => {
                names.iter().for_each(|head| self.line_head(block, head));
            }
            (FieldValue::Reading(reading), _) => self.scale(reading),
            (FieldValue::OfDay(checked), _) => self.scale(&checked.reading),
            (FieldValue::Readings(readings), _) => readings.iter().for_each(|reading| self.scale(reading)),
            _ => {}
        }
    }

    fn scale(&mut self, reading: &'b StatedReading) {
        let Some(name) = &reading.scale else { return };
        let owner = Some(self.owners.machine.unwrap_or(self.item));
        let of = Named { what: What::Block(Kind::Scale), owner, name: name.text.clone() };
        self.push(of, name, Stands::Value, None);
    }

    /// `"calibrate rim"`, `"channel left"`: the name after the words is one of the other setup's.
    fn line_head(&mut self, block: &'b Block, head: &'b NameAt) {
        // Two quotes in a string are one, which would put the name elsewhere than it is looked for.
        if !head.quoted || head.text.contains('"') {
            return;
        }
        let other = reference(self.book, block, setup::LIKE);
        let owners = other.map_or(self.owners, |other| Owners::new(self.book, other));
        let parts = [(Kind::Calibrate.words(), NameOf::Plane), (setup::CHANNEL.words(), NameOf::Channel)];
        let behind = |words: &str| head.text.strip_prefix(words)?.strip_prefix(' ');
        let Some((name, of)) = parts.into_iter().find_map(|(words, of)| Some((behind(words)?, of))) else { return };
        let end = head.span.end - 1;
        if !name.is_empty() {
            let span = Span::new(end - name.len() as u32, end);
            let name = NameAt { text: name.into(), span, quoted: false };
            let of = self.named(of, &name, owners);
            self.found.extend(of.map(|of| Mention {
                of,
                span: name.span,
                quoted: false,
                stands: Stands::Within,
                described: None,
            }));
        }
    }

    fn use_of(&mut self, of: NameOf, name: &NameAt, stands: Stands) {
        if let Some(of) = self.named(of, name, self.owners) {
            self.push(of, name, stands, None);
        }
    }

    fn named(&self, of: NameOf, name: &NameAt, owners: Owners) -> Option<Named> {
        let (what, owner) = match of {
            NameOf::Item(kind) => (What::Block(kind), None),
            NameOf::Plane => (What::Block(Kind::Plane), Some(owners.rotor.unwrap_or(self.item))),
            NameOf::Channel => (What::Channel, Some(owners.machine.unwrap_or(self.item))),
            NameOf::PlaneOfPart => (What::Block(Kind::Plane), Some(owners.part.unwrap_or(self.item))),
            NameOf::Control => (What::Block(Kind::Control), Some(owners.machine.unwrap_or(self.item))),
            NameOf::Instrument => (What::Block(Kind::Instrument), Some(owners.shop.unwrap_or(self.item))),
            NameOf::ExtraMass => (What::Block(Kind::ExtraMass), Some(owners.rotor.unwrap_or(self.item))),
            NameOf::Run => (What::Block(Kind::Run), Some(self.item)),
            NameOf::Proof => (What::Block(Kind::Proof), Some(owners.setup.unwrap_or(self.item))),
            NameOf::Code => (What::Code, None),
            NameOf::Own | NameOf::Place | NameOf::Position | NameOf::Listed(_) => return None,
        };
        Some(Named { what, owner, name: name.text.clone() })
    }

    fn push(&mut self, of: Named, name: &NameAt, stands: Stands, described: Option<Span>) {
        self.found.push(Mention { of, span: name.span, quoted: name.quoted, stands, described });
    }
}
