//! The names that items have now, and what stands within them.

use rustc_hash::FxHashMap;

use super::inner::{Called, Inner, renamed};
use super::uses::Inside;
use crate::book::{Book, EffectiveBlock, ItemId, effective};
use crate::card::{NameNow, NameOn};
use crate::sheet::{Field, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::{self, Fact, KeySpec, NameOf, Of, record, setup};

/// Items that have another name than before, and names within items.
#[derive(Clone, Debug, Default)]
pub struct Renames {
    items: FxHashMap<Kind, FxHashMap<Box<str>, Box<str>>>,
    /// By the item of the old book.
    inner: FxHashMap<(Kind, Box<str>), Inner>,
    /// Those that hold in the item that is looked at.
    here: Inner,
}

impl Renames {
    pub fn add(&mut self, kind: Kind, old: &str, new: &str) {
        self.items.entry(kind).or_default().insert(old.into(), new.into());
    }

    /// Takes note of what within an item has another name than before.
    pub(super) fn add_within(&mut self, old: (&Book, ItemId), new: (&Book, ItemId), called: &Called<'_>) {
        let inner = renamed(old, new, called);
        if !inner.is_empty() {
            let block = old.0.item(old.1);
            self.inner.insert((block.kind, block.name_text().into()), inner);
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
        // Instruments of the shop are named everywhere.
        let of_shop = self.inner.iter().filter(|((kind, _), _)| *kind == Kind::Shop).flat_map(|(_, inner)| inner);
        let here = self.of_item(old, item, 0).into_iter().chain(of_shop.cloned()).collect();
        Self { here, ..self.clone() }
    }

    fn of_item(&self, book: &Book, item: ItemId, depth: u32) -> Inner {
        let block = book.item(item);
        let of = |kind: Kind, name: &str| self.inner.get(&(kind, name.into())).cloned().unwrap_or_default();
        match block.kind {
            // What is declared there is told there.
            Kind::Rotor | Kind::Machine => {
                let mut own = of(block.kind, block.name_text());
                own.retain(|(of, ..)| *of != Inside::Channel);
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
                let own = of(block.kind, block.name_text());
                by.map(|by| self.of_item(book, by, 1)).into_iter().chain([own]).flatten().collect()
            }
            _ => Inner::new(),
        }
    }

    /// Names that hold in the item that is looked at, each with what it is called now.
    pub fn of_the_item(&self) -> Vec<(&str, &str)> {
        self.here.iter().map(|(_, was, is)| (&**was, &**is)).collect()
    }

    /// The same, with where a card has them.
    pub fn on_its_card(&self) -> Vec<NameNow<'_>> {
        let on = |inside: Inside| match inside {
            Inside::Block(Kind::Control) => NameOn::Control,
            Inside::Position => NameOn::Position,
            _ => NameOn::Other,
        };
        self.here.iter().map(|(inside, was, is)| NameNow { of: on(*inside), was, is }).collect()
    }

    /// What a plane, a control or another name within the old item is called now.
    pub fn inner_now<'n>(&'n self, of: NameOf, old: &'n str) -> &'n str {
        Inside::of(of).map_or(old, |of| self.inside_now(of, old))
    }

    fn inside_now<'n>(&'n self, of: Inside, old: &'n str) -> &'n str {
        self.here.iter().find(|(kind, name, _)| *kind == of && **name == *old).map_or(old, |(_, _, new)| new)
    }

    /// What a scale of the old machine is called now.
    pub fn scale_now<'n>(&'n self, old: &'n str) -> &'n str {
        self.inside_now(Inside::Block(Kind::Scale), old)
    }

    /// What an old pin is called now: of a control, or of what its name ends with.
    pub fn pin_now(&self, old: &str) -> String {
        let now = |(_, was, is): &(Inside, Box<str>, Box<str>)| {
            let before = old.strip_suffix(&**was)?;
            (before.is_empty() || before.ends_with(' ')).then(|| format!("{before}{is}"))
        };
        self.here.iter().find_map(now).unwrap_or_else(|| old.to_owned())
    }

    /// What a position of a switch is called now.
    pub fn position_now<'n>(&'n self, old: &'n str) -> &'n str {
        self.inside_now(Inside::Position, old)
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
        match vocabulary::block(kind).name {
            Some(NameOf::Item(kind)) => self.name_now(kind, name),
            Some(NameOf::Own) => self.inside_now(Inside::Block(kind), name),
            Some(of) => self.inner_now(of, name),
            None => name,
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
