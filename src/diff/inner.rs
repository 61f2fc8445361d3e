//! Blocks within an item that have another name than before: planes, controls, scales, trials, runs and the like.
//!
//! One that is gone is followed to one that has come where both say nearly the same, or where all that named the one now
//! names the other.

use rustc_hash::FxHashSet;
use smallvec::SmallVec;

use super::pairs::{NEARLY_THE_SAME, gather, share};
use super::proofs::{is_of_one_day, reads_the_same};
use super::renames::Renames;
use crate::book::{Book, ItemId};
use crate::sheet::{Block, FieldValue, NameAt, SettingValue, StatedReading};
use crate::syntax::Kind;
use crate::vocabulary::{self, NameOf, ValueType, control, machine};

/// What has a name within an item.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub(super) enum Inside {
    Block(Kind),
    Channel,
    /// A position of a switch.
    Position,
}

impl Inside {
    /// What a name of this kind is of, where that lies within an item.
    pub fn of(name: NameOf) -> Option<Self> {
        Some(match name {
            NameOf::Plane | NameOf::PlaneOfPart => Self::Block(Kind::Plane),
            NameOf::Control => Self::Block(Kind::Control),
            NameOf::Instrument => Self::Block(Kind::Instrument),
            NameOf::Run => Self::Block(Kind::Run),
            NameOf::ExtraMass => Self::Block(Kind::ExtraMass),
            NameOf::Proof => Self::Block(Kind::Proof),
            NameOf::Channel => Self::Channel,
            NameOf::Position => Self::Position,
            NameOf::Item(_) | NameOf::Own | NameOf::Code | NameOf::Place | NameOf::Listed(_) => return None,
        })
    }
}

/// Names that are others now, each with what it was and is.
pub(super) type Inner = SmallVec<[(Inside, Box<str>, Box<str>); 1]>;

/// What is called otherwise in an item of two books.
pub(super) fn renamed(old: (&Book, ItemId), new: (&Book, ItemId)) -> Inner {
    let (before, after) = (old.0.item(old.1), new.0.item(new.1));
    let mut found = Inner::new();
    if !has_the_same_names(before, after) {
        found.extend(renamed_blocks(old, new));
    }
    if after.kind == Kind::Machine {
        found.extend(renamed_channels(before, after));
        found.extend(renamed_positions(before, after));
    }
    found
}

/// Whether all blocks have the names that they had, in their order.
fn has_the_same_names(old: &Block, new: &Block) -> bool {
    let same = |(old, new): (&Block, &Block)| {
        old.kind == new.kind && old.name_text() == new.name_text() && has_the_same_names(old, new)
    };
    old.blocks.len() == new.blocks.len() && old.blocks.iter().zip(&new.blocks).all(same)
}

/// The blocks of an item, however deep, that are declared there under a name of their own.
fn declared<'b>(block: &'b Block, found: &mut Vec<&'b Block>) {
    for inner in &block.blocks {
        if inner.spec().name == Some(NameOf::Own) && inner.name.is_some() {
            found.push(inner);
        }
        declared(inner, found);
    }
}

fn renamed_blocks(old: (&Book, ItemId), new: (&Book, ItemId)) -> Inner {
    let all = |(book, id): (&'_ Book, ItemId)| {
        let mut found = Vec::new();
        declared(book.item(id), &mut found);
        found.into_iter().map(|block| (block.kind, block.name_text().to_owned())).collect::<Vec<_>>()
    };
    let (names_before, names_now) = (all(old), all(new));
    let only = |(book, id): (&'_ Book, ItemId), others: &[(Kind, String)]| -> Vec<usize> {
        let mut found = Vec::new();
        declared(book.item(id), &mut found);
        let is_only =
            |block: &&Block| !others.iter().any(|(kind, name)| *kind == block.kind && name == block.name_text());
        found.iter().enumerate().filter(|(_, block)| is_only(block)).map(|(n, _)| n).collect()
    };
    let (gone, come) = (only(old, &names_now), only(new, &names_before));
    if gone.is_empty() || come.is_empty() {
        return Inner::new();
    }
    let (mut olds, mut news) = (Vec::new(), Vec::new());
    declared(old.0.item(old.1), &mut olds);
    declared(new.0.item(new.1), &mut news);
    let texts = (&*old.0.file(old.1.file).text, &*new.0.file(new.1.file).text);
    let mut named = Named { old, new, users: None };
    let mut likely: Vec<(f64, usize, usize)> = Vec::new();
    for o in gone {
        for n in come.iter().copied().filter(|n| news[*n].kind == olds[o].kind) {
            let (was, is) = (olds[o], news[n]);
            let near = nearness((was, texts.0), (is, texts.1));
            let is_named = named.moved(Inside::Block(is.kind), was.name_text(), is.name_text());
            if is_named || near >= NEARLY_THE_SAME {
                likely.push((near + f64::from(u8::from(is_named)), o, n));
            }
        }
    }
    likely.sort_by(|a, b| b.0.total_cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let (mut taken, mut found) = (FxHashSet::default(), Inner::new());
    for (_, o, n) in likely {
        if !taken.contains(&(false, o)) && !taken.contains(&(true, n)) {
            taken.extend([(false, o), (true, n)]);
            let kind = Inside::Block(news[n].kind);
            found.push((kind, olds[o].name_text().into(), news[n].name_text().into()));
        }
    }
    found
}

/// The share of their facts that two blocks have in common. A proof is another one unless it was read on the same day, or
/// reads the same.
fn nearness((was, before): (&Block, &str), (is, now): (&Block, &str)) -> f64 {
    if is.kind == Kind::Proof {
        let is_it = reads_the_same(was, is, &Renames::default()) || is_of_one_day(was, is);
        return f64::from(u8::from(is_it));
    }
    let prints = |block: &Block, text: &str| {
        let mut prints = Vec::new();
        gather(block, text, 0, &mut prints);
        prints
    };
    let (a, b) = (prints(was, before), prints(is, now));
    share(a.iter().filter(|print| b.contains(print)).count(), a.len(), b.len())
}

/// Who names what lies in an item, in both books.
struct Named<'b> {
    old: (&'b Book, ItemId),
    new: (&'b Book, ItemId),
    users: Option<[Vec<ItemId>; 2]>,
}

impl Named<'_> {
    /// Whether all that named the one names the other now.
    fn moved(&mut self, what: Inside, was: &str, is: &str) -> bool {
        let [olds, news] =
            &*self.users.get_or_insert_with(|| [users(self.old.0, self.old.1), users(self.new.0, self.new.1)]);
        let count = |book: &Book, users: &[ItemId], name: &str| -> usize {
            let mut count = 0;
            for id in users {
                mentions(book.item(*id), &mut |inside, other| count += usize::from(inside == what && other == name));
            }
            count
        };
        let (before, now) = (count(self.old.0, olds, was), count(self.new.0, news, is));
        before > 0 && before == now && count(self.new.0, news, was) == 0 && count(self.old.0, olds, is) == 0
    }
}

/// An item, and all that name it or name those.
fn users(book: &Book, item: ItemId) -> Vec<ItemId> {
    let mut found = vec![item];
    let mut next = 0;
    while let Some(id) = found.get(next).copied() {
        let block = book.item(id);
        let by = book.naming(block.kind, block.name_text()).iter().copied();
        for other in by.collect::<Vec<_>>() {
            if !found.contains(&other) {
                found.push(other);
            }
        }
        next += 1;
    }
    found
}

/// Every name in a block that is of something within an item, without those that declare it.
fn mentions(block: &Block, say: &mut impl FnMut(Inside, &str)) {
    if let Some(inside) = block.spec().name.and_then(Inside::of) {
        say(inside, block.name_text());
    }
    for field in &block.fields {
        if let Some(name) = &field.name {
            let named = block.spec().named_facts.as_ref().map(|named| named.name);
            if let Some(inside) = field.key.head_name.or(named).and_then(Inside::of) {
                say(inside, &name.text);
            }
        }
        let mut scale = |reading: &StatedReading| {
            if let Some(scale) = &reading.scale {
                say(Inside::Block(Kind::Scale), &scale.text);
            }
        };
        match (&field.value, field.key.value) {
            (FieldValue::Reading(reading), _) => scale(reading),
            (FieldValue::OfDay(one), _) => scale(&one.reading),
            (FieldValue::Readings(all), _) => all.iter().for_each(scale),
            (FieldValue::Setting(SettingValue::Position(position)), _) => say(Inside::Position, position),
            (FieldValue::Name(name), ValueType::Name(of)) => {
                if let Some(inside) = Inside::of(of) {
                    say(inside, &name.text);
                }
            }
            (FieldValue::Names(names), ValueType::Names(of)) if block.kind != Kind::Machine => {
                if let Some(inside) = Inside::of(of) {
                    names.iter().for_each(|name| say(inside, &name.text));
                }
            }
            _ => {}
        }
    }
    block.blocks.iter().for_each(|inner| mentions(inner, say));
}

/// The channels of a machine, by their place in its list.
fn renamed_channels(old: &Block, new: &Block) -> Inner {
    let names = |block: &'_ Block| names_of(block.field(machine::CHANNELS).map(|field| &field.value));
    by_place(Inside::Channel, &names(old), &names(new))
}

/// The positions of each switch of a machine, by their place in its list, where no other switch has them.
fn renamed_positions(old: &Block, new: &Block) -> Inner {
    let of = |block: &Block| -> Vec<Vec<Box<str>>> {
        let controls = block.inner(Kind::Control);
        controls.map(|one| names_of(one.field(control::POSITIONS).map(|field| &field.value))).collect()
    };
    let (before, now) = (of(old), of(new));
    if before.len() != now.len() {
        return Inner::new();
    }
    let has = |all: &[Vec<Box<str>>], name: &str| all.iter().flatten().any(|other| **other == *name);
    let both = before.iter().zip(&now).flat_map(|(before, now)| by_place(Inside::Position, before, now));
    both.filter(|(_, was, is)| !has(&now, was) && !has(&before, is)).collect()
}

fn names_of(value: Option<&FieldValue>) -> Vec<Box<str>> {
    match value {
        Some(FieldValue::Names(names)) => names.iter().map(|name: &NameAt| name.text.clone()).collect(),
        _ => Vec::new(),
    }
}

fn by_place(what: Inside, before: &[Box<str>], now: &[Box<str>]) -> Inner {
    if before.len() != now.len() {
        return Inner::new();
    }
    let pairs = before.iter().zip(now);
    let other = pairs.filter(|(was, is)| was != is && !now.contains(was) && !before.contains(is));
    other.map(|(was, is)| (what, was.clone(), is.clone())).collect()
}

/// Whether a block of this kind is told of where it is declared, when it has another name.
pub(super) fn is_declared(kind: Kind) -> bool {
    vocabulary::block(kind).name == Some(NameOf::Own)
}
