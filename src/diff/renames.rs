//! The names that items have now, and what stands within them.

use rustc_hash::FxHashMap;
use smallvec::SmallVec;

use super::proofs::reads_the_same;
use crate::book::{Book, EffectiveBlock, ItemId, effective};
use crate::sheet::{Block, Field, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::{self, Fact, KeySpec, NameOf, Of, machine, record, setup};

/// Planes, controls, channels and proofs that are called otherwise.
type Inner = SmallVec<[(NameOf, Box<str>, Box<str>); 1]>;

/// Items that have another name than before, and names within rotors and machines.
#[derive(Clone, Debug, Default)]
pub struct Renames {
    items: FxHashMap<Kind, FxHashMap<Box<str>, Box<str>>>,
    /// By the rotor, machine or setup of the old book.
    inner: FxHashMap<(Kind, Box<str>), Inner>,
    /// Those that hold in the item that is looked at.
    here: Inner,
}

impl Renames {
    pub fn add(&mut self, kind: Kind, old: &str, new: &str) {
        self.items.entry(kind).or_default().insert(old.into(), new.into());
    }

    /// What within a rotor, a machine or a setup has another name than before.
    pub fn add_within(&mut self, old: (&Block, &str), new: (&Block, &str)) {
        let inner = within(old, new);
        if !inner.is_empty() {
            self.inner.insert((old.0.kind, old.0.name_text().into()), inner);
        }
    }

    pub fn is_empty(&self) -> bool {
        self.items.is_empty() && self.here.is_empty()
    }

    /// What an item of the old book is called in the new one.
    pub fn name_now<'n>(&'n self, kind: Kind, old: &'n str) -> &'n str {
        self.items.get(&kind).and_then(|names| names.get(old)).map_or(old, |new| new)
    }

    /// The same, with the names that hold in an item of the old book: of its rotor and its machine.
    pub fn within(&self, old: &Book, item: ItemId) -> Self {
        if self.inner.is_empty() {
            return self.clone();
        }
        Self { here: self.of_item(old, item, 0), ..self.clone() }
    }

    fn of_item(&self, book: &Book, item: ItemId, depth: u32) -> Inner {
        let block = book.item(item);
        let of = |kind: Kind, name: &str| self.inner.get(&(kind, name.into())).cloned().unwrap_or_default();
        match block.kind {
            // What is declared there is told there.
            Kind::Rotor | Kind::Machine => {
                let mut own = of(block.kind, block.name_text());
                own.retain(|(of, ..)| *of != NameOf::Channel);
                own
            }
            Kind::Setup => {
                let all = effective(book, item).0;
                let rotor = named(&all, setup::ROTOR).map(|name| of(Kind::Rotor, name));
                let machine = named(&all, setup::MACHINE).map(|name| of(Kind::Machine, name));
                let own = of(block.kind, block.name_text());
                rotor.into_iter().chain(machine).chain([own]).flatten().collect()
            }
            Kind::Record if depth == 0 => {
                let all = effective(book, item).0;
                let by = named(&all, record::SETUP).and_then(|name| book.find(Kind::Setup, name).ok());
                by.map(|by| self.of_item(book, by, 1)).unwrap_or_default()
            }
            _ => Inner::new(),
        }
    }

    /// Planes, controls, channels and proofs of the item that is looked at, each with what it is called now.
    pub fn of_the_item(&self) -> Vec<(&str, &str)> {
        self.here.iter().map(|(_, was, is)| (&**was, &**is)).collect()
    }

    /// What a plane, control, channel or proof of the old item is called now.
    pub fn inner_now<'n>(&'n self, of: NameOf, old: &'n str) -> &'n str {
        self.here.iter().find(|(kind, name, _)| *kind == of && **name == *old).map_or(old, |(_, _, new)| new)
    }

    /// The name in the head of an old fact, as it is called now.
    pub fn head_now<'n>(&'n self, within: Kind, field: &'n Field) -> &'n str {
        let named = vocabulary::block(within).named_facts.as_ref();
        let of_named = named.filter(|named| std::ptr::eq(&raw const named.spec, field.key)).map(|named| named.name);
        match field.key.head_name.or(of_named) {
            Some(of) => self.inner_now(of, field.name_text()),
            None => field.name_text(),
        }
    }

    /// The same among facts of the new book: where one of them still has the old name, it is that.
    pub fn head_among<'n, 'f>(
        &'n self,
        within: Kind,
        field: &'n Field,
        mut now: impl Iterator<Item = &'f Field>,
    ) -> &'n str {
        let old = field.name_text();
        let stays = self.is_empty() || now.any(|other| std::ptr::eq(other.key, field.key) && other.name_text() == old);
        if stays { old } else { self.head_now(within, field) }
    }

    /// The name of an old block among blocks of the new book, likewise.
    pub fn block_among<'n, 'f>(
        &'n self,
        kind: Kind,
        old: &'n str,
        mut now: impl Iterator<Item = (Kind, &'f str)>,
    ) -> &'n str {
        if self.is_empty() || now.any(|other| other == (kind, old)) { old } else { self.block_now(kind, old) }
    }

    /// The name of an old block, as it is called now.
    pub fn block_now<'n>(&'n self, kind: Kind, name: &'n str) -> &'n str {
        match (kind, vocabulary::block(kind).name) {
            (Kind::MadeOf, _) => self.name_now(Kind::Rotor, name),
            (Kind::Plane, _) => self.inner_now(NameOf::Plane, name),
            (Kind::Control, _) => self.inner_now(NameOf::Control, name),
            (Kind::Proof, _) => self.inner_now(NameOf::Proof, name),
            (_, Some(of)) => self.inner_now(of, name),
            (_, None) => name,
        }
    }

    /// What an old result is of, as it is called now.
    pub fn of_now(&self, of: &Of) -> Of {
        let plane = |name: &str| self.inner_now(NameOf::Plane, name).into();
        let channel = |name: &str| self.inner_now(NameOf::Channel, name).into();
        match of {
            Of::Plane(name) => Of::Plane(plane(name)),
            Of::Channel(name) => Of::Channel(channel(name)),
            Of::ChannelAndPlane { channel: c, plane: p } => {
                Of::ChannelAndPlane { channel: channel(c), plane: plane(p) }
            }
            Of::Control(name) => Of::Control(self.inner_now(NameOf::Control, name).into()),
            other => other.clone(),
        }
    }

    /// What kind of name a value is, where it names a plane, a control or a channel.
    pub fn value_now<'n>(&'n self, key: &KeySpec, old: &'n str) -> &'n str {
        match key.value {
            vocabulary::ValueType::Name(of) | vocabulary::ValueType::Names(of) => self.inner_now(of, old),
            _ => old,
        }
    }
}

fn named<'b, T: ?Sized>(block: &EffectiveBlock<'b>, fact: Fact<T>) -> Option<&'b str> {
    match &block.field(fact)?.field.value {
        FieldValue::Name(name) => Some(&name.text),
        _ => None,
    }
}

/// Planes, controls and proofs that are gone, each with the one that is new and holds the same; channels by their place
/// in the list.
fn within(old: (&Block, &str), new: (&Block, &str)) -> Inner {
    let mut found = Inner::new();
    for (kind, of) in [(Kind::Plane, NameOf::Plane), (Kind::Control, NameOf::Control), (Kind::Proof, NameOf::Proof)] {
        let only = |block: &'_ Block, other: &Block| -> Vec<usize> {
            let stands = |name: &str| other.inner(kind).any(|inner| inner.name_text() == name);
            let all = block.blocks.iter().enumerate().filter(|(_, inner)| inner.kind == kind);
            all.filter(|(_, inner)| !stands(inner.name_text())).map(|(n, _)| n).collect()
        };
        let mut come = only(new.0, old.0);
        for gone in only(old.0, new.0).into_iter().map(|n| &old.0.blocks[n]) {
            let is_it = |n: &usize| match (kind, &new.0.blocks[*n]) {
                (Kind::Proof, come) => reads_the_same(gone, come, &Renames::default()),
                (_, come) => facts_of(come, new.1) == facts_of(gone, old.1),
            };
            if let Some(at) = come.iter().position(is_it) {
                let now = &new.0.blocks[come.remove(at)];
                found.push((of, gone.name_text().into(), now.name_text().into()));
            }
        }
    }
    if old.0.kind == Kind::Machine {
        let channels = |block: &'_ Block| match block.field(machine::CHANNELS).map(|field| field.value.clone()) {
            Some(FieldValue::Names(names)) => names.into_iter().map(|name| name.text).collect(),
            _ => Vec::new(),
        };
        let (before, after) = (channels(old.0), channels(new.0));
        if before.len() == after.len() {
            let pairs = before.iter().zip(&after);
            let other = pairs.filter(|(was, now)| was != now && !after.contains(was) && !before.contains(now));
            found.extend(other.map(|(was, now)| (NameOf::Channel, was.clone(), now.clone())));
        }
    }
    found
}

/// What a block states, fact by fact.
fn facts_of(block: &Block, text: &str) -> Vec<String> {
    let fact = |field: &Field| format!("{} {}", crate::book::head_of(field), field.value_span.of(text));
    block.fields.iter().map(fact).collect()
}
