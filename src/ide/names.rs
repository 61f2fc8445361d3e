//! Every name in a sheet, and what it names.

use crate::book::{Book, EffectiveBlock, ItemId, effective};
use crate::sheet::schema::{NameOf, ValueType};
use crate::sheet::{Block, Field, FieldValue, NameAt, StatedReading};
use crate::syntax::Kind;
use crate::text::Span;

/// A thing that has a name.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub(super) struct Named {
    pub what: What,
    /// The item that a name within an item belongs to; where that cannot be found, the item that uses the name.
    pub owner: Option<ItemId>,
    pub name: Box<str>,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub(super) enum What {
    /// An item of the book, or an inner block: a plane, a control, a scale, an instrument, a run.
    Block(Kind),
    /// A measuring channel of a machine.
    Channel,
    /// A diagnostic.
    Code,
}

/// A name as it stands in a sheet.
#[derive(Clone, Debug)]
pub(super) struct Mention {
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
pub(super) enum Stands {
    /// Behind the kind of a block.
    Heading,
    /// Alone before the colon.
    Head(Kind),
    /// Before the colon, behind the words of a key.
    BehindKey(Kind, &'static str),
    Value,
    /// Within the quotes of a longer text: `"calibrate rim"`.
    Within,
}

/// Every name in an item, in the order in which they stand.
pub(super) fn mentions(book: &Book, item: ItemId) -> Vec<Mention> {
    let mut collector = Collector { book, item, owners: Owners::new(book, item), found: Vec::new() };
    collector.block(book.item(item));
    collector.found.sort_by_key(|mention| mention.span);
    collector.found
}

/// Every name in a file.
pub(super) fn mentions_of_file(book: &Book, file: crate::book::FileId) -> Vec<Mention> {
    let items = 0..book.file(file).sheet.items.len() as u32;
    items.flat_map(|index| mentions(book, ItemId { file, index })).collect()
}

/// The name at an offset; at the border of two, the one that begins there.
pub(super) fn mention_at(book: &Book, file: crate::book::FileId, offset: u32) -> Option<Mention> {
    let items = &book.file(file).sheet.items;
    let index = items.iter().position(|item| super::place::covers(item.span, offset))?;
    let found = mentions(book, ItemId { file, index: index as u32 });
    found.into_iter().rev().find(|mention| super::place::covers(mention.span, offset))
}

/// The places where a thing is described.
pub(super) fn descriptions(book: &Book, of: &Named) -> Vec<(ItemId, Mention)> {
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
pub(super) fn everywhere(book: &Book, of: &Named) -> Vec<(ItemId, Mention)> {
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

/// A thing with all that bear its name because a setup takes over lines that were written for another rotor or machine:
/// `channel left: hub` then names the plane of both.
pub(super) fn with_linked(book: &Book, of: &Named) -> Vec<Named> {
    let mut all = vec![of.clone()];
    if of.owner.is_none() {
        return all;
    }
    let links: Vec<(Named, Named)> = book.items().flat_map(|item| links(book, item, &of.name)).collect();
    let mut done = 0;
    while let Some(next) = all.get(done).cloned() {
        done += 1;
        for (a, b) in &links {
            let other = if *a == next { b } else { a };
            if (*a == next || *b == next) && !all.contains(other) && !descriptions(book, other).is_empty() {
                all.push(other.clone());
            }
        }
    }
    all
}

/// The names that the lines taken over by a setup have where they are written, and what they name for this setup.
fn links(book: &Book, item: ItemId, name: &str) -> Vec<(Named, Named)> {
    let block = book.item(item);
    if block.kind != Kind::Setup || block.field("like").is_none() {
        return Vec::new();
    }
    let mut taken = Vec::new();
    taken_over(&effective(book, item).0, item, &mut taken);
    let own = Owners::new(book, item);
    let mut links = Vec::new();
    for (from, span) in taken {
        let there = Owners::new(book, from);
        let named = mentions(book, from).into_iter().filter(|mention| {
            *mention.of.name == *name && span.start <= mention.span.start && mention.span.end <= span.end
        });
        for mention in named {
            let here = |owner: Option<ItemId>| match owner {
                owner if owner == there.rotor => own.rotor,
                owner if owner == there.machine => own.machine,
                _ => None,
            };
            if let Some(owner) = here(mention.of.owner).filter(|owner| Some(*owner) != mention.of.owner) {
                links.push((mention.of.clone(), Named { owner: Some(owner), ..mention.of }));
            }
        }
    }
    links
}

/// The places of the facts, and of the headings, that a block has from another item.
fn taken_over(block: &EffectiveBlock<'_>, item: ItemId, taken: &mut Vec<(ItemId, Span)>) {
    let facts = block.fields.iter().filter(|field| field.item != item);
    taken.extend(facts.map(|field| (field.item, field.field.head.to(field.field.value_span))));
    for inner in &block.blocks {
        if inner.own.is_none() {
            taken.push((inner.item, inner.written.heading));
        }
        taken_over(inner, item, taken);
    }
}

/// The items whose inner names an item may use.
#[derive(Clone, Copy)]
pub(super) struct Owners {
    pub rotor: Option<ItemId>,
    pub machine: Option<ItemId>,
    pub shop: Option<ItemId>,
    /// The setup that the item is, or that a record ran on.
    pub setup: Option<ItemId>,
}

impl Owners {
    pub fn new(book: &Book, item: ItemId) -> Self {
        let block = book.item(item);
        let shop = book.shop_id();
        let alone = Self { rotor: None, machine: None, shop, setup: None };
        match block.kind {
            Kind::Rotor => Self { rotor: Some(item), ..alone },
            Kind::Machine => Self { machine: Some(item), ..alone },
            Kind::Setup => Self::of_setup(book, item, alone),
            Kind::Record => match reference(book, block, "setup", Kind::Setup) {
                Some(setup) => Self::of_setup(book, setup, alone),
                None => alone,
            },
            _ => alone,
        }
    }

    fn of_setup(book: &Book, setup: ItemId, alone: Self) -> Self {
        let block = book.item(setup);
        let own = |key, kind| reference(book, block, key, kind);
        if block.field("like").is_none() {
            let (rotor, machine) = (own("rotor", Kind::Rotor), own("machine", Kind::Machine));
            return Self { rotor, machine, setup: Some(setup), ..alone };
        }
        let (block, _) = effective(book, setup);
        let named = |key, kind| effective_reference(book, &block, key, kind);
        let (rotor, machine) = (named("rotor", Kind::Rotor), named("machine", Kind::Machine));
        Self { rotor, machine, setup: Some(setup), ..alone }
    }
}

/// The item that a fact of a block names.
fn reference(book: &Book, block: &Block, key: &str, kind: Kind) -> Option<ItemId> {
    let FieldValue::Name(name) = &block.field(key)?.value else { return None };
    book.find(kind, &name.text).ok()
}

/// The same with facts taken over.
pub(super) fn effective_reference(book: &Book, block: &EffectiveBlock<'_>, key: &str, kind: Kind) -> Option<ItemId> {
    let FieldValue::Name(name) = &block.field(key)?.field.value else { return None };
    book.find(kind, &name.text).ok()
}

struct Collector<'b> {
    book: &'b Book,
    item: ItemId,
    owners: Owners,
    found: Vec<Mention>,
}

impl<'b> Collector<'b> {
    fn block(&mut self, block: &'b Block) {
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
        for inner in &block.blocks {
            self.block(inner);
        }
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

    /// `"calibrate rim"`, `"channel left"`: the name behind the words is one of the other setup's.
    fn line_head(&mut self, block: &'b Block, head: &'b NameAt) {
        // Two quotes in a string are one, which would put the name elsewhere than it is looked for.
        if !head.quoted || head.text.contains('"') {
            return;
        }
        let other = reference(self.book, block, "like", Kind::Setup);
        let owners = other.map_or(self.owners, |other| Owners::new(self.book, other));
        let parts = [("calibrate ", NameOf::Plane), ("channel ", NameOf::Channel)];
        let Some((words, of)) = parts.into_iter().find(|(words, _)| head.text.starts_with(words)) else { return };
        let (start, end) = (head.span.start + 1 + words.len() as u32, head.span.end - 1);
        if start < end {
            let name = NameAt { text: head.text[words.len()..].into(), span: Span::new(start, end), quoted: false };
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
            NameOf::Control => (What::Block(Kind::Control), Some(owners.machine.unwrap_or(self.item))),
            NameOf::Instrument => (What::Block(Kind::Instrument), Some(owners.shop.unwrap_or(self.item))),
            NameOf::Run => (What::Block(Kind::Run), Some(self.item)),
            NameOf::Code => (What::Code, None),
            NameOf::Own | NameOf::Place | NameOf::Listed(_) => return None,
        };
        Some(Named { what, owner, name: name.text.clone() })
    }

    fn push(&mut self, of: Named, name: &NameAt, stands: Stands, described: Option<Span>) {
        self.found.push(Mention { of, span: name.span, quoted: name.quoted, stands, described });
    }
}
