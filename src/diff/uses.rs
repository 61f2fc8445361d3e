//! Where names of what lies within an item are used, and what is said there.

use rustc_hash::FxHasher;
use std::hash::{Hash, Hasher};

use super::pairs::gather;
use crate::book::{Book, ItemId};
use crate::sheet::{Block, Field, FieldValue, SettingValue, StatedReading};
use crate::syntax::Kind;
use crate::text::with_names;
use crate::vocabulary::{NameOf, ValueType};

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

/// A name of a kind.
pub(super) type Named<'n> = (Inside, &'n str);

/// Every use of one name, as numbers that are the same in both books where the uses are.
#[derive(Default)]
pub(super) struct Uses {
    /// Where it is used: item, blocks and key.
    pub places: Vec<u64>,
    /// What is said of it there, each with its place.
    pub said: Vec<u64>,
}

impl Uses {
    /// Takes out of both what is in both.
    pub fn keep_what_differs(one: &mut Self, other: &mut Self) {
        for (a, b) in [(&mut one.places, &mut other.places), (&mut one.said, &mut other.said)] {
            (*a, *b) = (without(a, b), without(b, a));
        }
    }
}

/// How many numbers two sorted lists have in common.
pub(super) fn in_both(a: &[u64], b: &[u64]) -> usize {
    a.len() - without(a, b).len()
}

/// The numbers of a sorted list that another has not, or not so often.
pub(super) fn without(a: &[u64], b: &[u64]) -> Vec<u64> {
    let mut b = b.iter().peekable();
    let stays = |one: &&u64| {
        while b.next_if(|other| other < one).is_some() {}
        b.next_if_eq(one).is_none()
    };
    a.iter().filter(stays).copied().collect()
}

/// What goes for a name where places are compared.
const HIDDEN: &str = "…";

/// The uses of each name by an item and by all that name it or name those. None of the names tells one place from another.
pub(super) fn uses(book: &Book, item: ItemId, names: &[Named<'_>], called: &dyn Fn(ItemId) -> u64) -> Vec<Uses> {
    let hidden: Vec<(&str, &str)> = names.iter().map(|(_, name)| (*name, HIDDEN)).collect();
    let mut found: Vec<Uses> = names.iter().map(|_| Uses::default()).collect();
    for id in users(book, item) {
        let text = &*book.file(id.file).text;
        let mut walk = Walk { text, names, hidden: &hidden, found: &mut found };
        walk.block(book.item(id), called(id));
    }
    for one in &mut found {
        one.places.sort_unstable();
        one.said.sort_unstable();
    }
    found
}

/// An item, and all that name it or name those. Instruments of the shop are named everywhere.
fn users(book: &Book, item: ItemId) -> Vec<ItemId> {
    if book.item(item).kind == Kind::Shop {
        return book.items().collect();
    }
    let mut found = vec![item];
    let mut next = 0;
    while let Some(id) = found.get(next).copied() {
        let block = book.item(id);
        for other in book.naming(block.kind, block.name_text()) {
            if !found.contains(other) {
                found.push(*other);
            }
        }
        next += 1;
    }
    found
}

struct Walk<'w, 'n> {
    text: &'w str,
    names: &'w [Named<'n>],
    hidden: &'w [(&'w str, &'w str)],
    found: &'w mut [Uses],
}

impl Walk<'_, '_> {
    fn found(&mut self, named: Named<'_>, place: u64, said: impl IntoIterator<Item = u64>) {
        if let Some(n) = self.names.iter().position(|name| *name == named) {
            self.found[n].places.push(place);
            self.found[n].said.extend(said);
        }
    }

    fn hidden(&self, text: &str) -> String {
        with_names(text, self.hidden)
    }

    fn block(&mut self, block: &Block, within: u64) {
        if let Some(inside) = block.spec().name.and_then(Inside::of) {
            let mut said = Vec::new();
            gather(block, self.text, within, &mut said);
            self.found((inside, block.name_text()), number((within, block.kind)), said);
        }
        block.fields.iter().for_each(|field| self.field(block, field, within));
        for pin in &block.pins {
            // The name of such a result ends with what it is of.
            for n in 0..self.names.len() {
                let before = pin.name.strip_suffix(self.names[n].1);
                if let Some(before) = before.filter(|before| before.is_empty() || before.ends_with(' ')) {
                    let place = number((within, before));
                    self.found[n].places.push(place);
                    self.found[n].said.push(number((place, pin.value_span.of(self.text))));
                }
            }
        }
        for inner in &block.blocks {
            // Runs, proofs and the like have names that may be others by themselves.
            let name = match inner.spec().name {
                None | Some(NameOf::Own) => String::new(),
                Some(_) => self.hidden(inner.name_text()),
            };
            self.block(inner, number((within, inner.kind, name)));
        }
    }

    fn field(&mut self, block: &Block, field: &Field, within: u64) {
        let mut uses: Vec<(Inside, &str)> = Vec::new();
        let scale = |reading: &'_ StatedReading| reading.scale.as_ref().map(|scale| scale.text.clone());
        let mut scales = Vec::new();
        match (&field.value, field.key.value) {
            (FieldValue::Reading(reading), _) => scales.extend(scale(reading)),
            (FieldValue::OfDay(one), _) => scales.extend(scale(&one.reading)),
            (FieldValue::Readings(all), _) => scales.extend(all.iter().filter_map(scale)),
            (FieldValue::Setting(SettingValue::Position(position)), _) => uses.push((Inside::Position, position)),
            (FieldValue::Name(name), ValueType::Name(of)) => {
                uses.extend(Inside::of(of).map(|inside| (inside, &*name.text)));
            }
            // A machine declares its channels and positions in such a list.
            (FieldValue::Names(names), ValueType::Names(of)) if block.kind != Kind::Machine => {
                let named = |inside| names.iter().map(move |name| (inside, &*name.text));
                uses.extend(Inside::of(of).into_iter().flat_map(named));
            }
            _ => {}
        }
        uses.extend(scales.iter().map(|scale| (Inside::Block(Kind::Scale), &**scale)));
        let of_named = block.spec().named_facts.as_ref().map(|named| named.name);
        let of_head = field.key.head_name.or(of_named).filter(|_| field.name.is_some()).and_then(Inside::of);
        let is_named = |named: &Named<'_>| self.names.contains(named);
        if !uses.iter().any(is_named) && !of_head.is_some_and(|inside| is_named(&(inside, field.name_text()))) {
            return;
        }
        let value = self.hidden(field.value_span.of(self.text));
        let words = value.split_whitespace().collect::<Vec<_>>().join(" ");
        if let Some(inside) = of_head {
            let place = number((within, field.key.name));
            self.found((inside, field.name_text()), place, [number((place, &words))]);
        }
        let head = self.hidden(field.name_text());
        for named in uses {
            let place = number((within, field.key.name, &head, true));
            // A name alone says nothing but where it is.
            let said = (words != HIDDEN).then(|| number((place, &words)));
            self.found(named, place, said);
        }
    }
}

pub(super) fn number(of: impl Hash) -> u64 {
    let mut hasher = FxHasher::default();
    of.hash(&mut hasher);
    hasher.finish()
}
