//! Which item of the new book is which of the old one.

use std::hash::{Hash, Hasher};
use std::sync::Arc;

use rustc_hash::{FxHashMap, FxHashSet, FxHasher};

use super::inner::Called;
use super::renames::Renames;
use super::uses::{in_both, number};
use super::votes::{Likely, settled};
use crate::book::{Book, ItemId};
use crate::sheet::Block;
use crate::syntax::Kind;

/// An item in both books, or in one.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Pair {
    pub old: Option<ItemId>,
    pub new: Option<ItemId>,
}

/// Of the facts of two items, the share that both have; from here on they are one item with two names.
pub(super) const NEARLY_THE_SAME: f64 = 0.6;

/// The same of two items where all that named the one names the other now.
const SOMEWHAT_THE_SAME: f64 = 0.25;

/// Facts that more items than this share tell none of them apart.
const COMMON: usize = 64;

/// The items of both books side by side: in the order of the new book, then those that are gone. With what they are called
/// now.
pub fn pairs(old: &Book, new: &Book) -> (Vec<Pair>, Renames) {
    let mut waiting: FxHashMap<(Kind, &str), Vec<ItemId>> = FxHashMap::default();
    for id in old.items() {
        let item = old.item(id);
        waiting.entry((item.kind, item.name_text())).or_default().push(id);
    }
    waiting.values_mut().for_each(|ids| ids.reverse());
    let mut pairs: Vec<Pair> = Vec::new();
    for id in new.items() {
        let item = new.item(id);
        let same = waiting.get_mut(&(item.kind, item.name_text())).and_then(Vec::pop);
        pairs.push(Pair { old: same, new: Some(id) });
    }
    let mut gone: Vec<ItemId> = waiting.into_values().flatten().collect();
    gone.sort();
    let mut renames = Renames::default();
    for (n, id) in renamed(old, &gone, new, &pairs) {
        let before = old.item(id);
        if let Some(after) = pairs[n].new.map(|id| new.item(id)) {
            renames.add(before.kind, before.name_text(), after.name_text());
        }
        pairs[n].old = Some(id);
        gone.retain(|other| *other != id);
    }
    let now = ids_now(&pairs);
    let called = Called { old: &|id| number(now.get(&id).ok_or(id)), new: &|id| number(Ok::<_, ItemId>(&id)) };
    for (before, after) in pairs.iter().filter_map(|pair| Some((pair.old?, pair.new?))) {
        let is_same = Arc::ptr_eq(old.shared_file(before.file), new.shared_file(after.file));
        if !is_same {
            renames.add_within((old, before), (new, after), &called);
        }
    }
    pairs.extend(gone.into_iter().map(|id| Pair { old: Some(id), new: None }));
    (pairs, renames)
}

/// What the items of the old book are in the new one.
fn ids_now(pairs: &[Pair]) -> FxHashMap<ItemId, ItemId> {
    pairs.iter().filter_map(|pair| Some((pair.old?, pair.new?))).collect()
}

/// The pairs whose item is new, each with the item of the old book that it was, the surest first.
fn renamed(old: &Book, gone: &[ItemId], new: &Book, pairs: &[Pair]) -> Vec<(usize, ItemId)> {
    let mut having: FxHashMap<u64, Vec<usize>> = FxHashMap::default();
    let counts: Vec<usize> = gone
        .iter()
        .enumerate()
        .map(|(n, id)| {
            let prints = prints_in(old, *id);
            prints.iter().for_each(|print| having.entry(*print).or_default().push(n));
            prints.len()
        })
        .collect();
    let ids = ids_now(pairs);
    let stay: FxHashSet<ItemId> = ids.values().copied().collect();
    let mut likely = Vec::new();
    for (n, id) in
        pairs.iter().enumerate().filter(|(_, pair)| pair.old.is_none()).filter_map(|(n, p)| Some((n, p.new?)))
    {
        let prints = prints_in(new, id);
        let mut shared: FxHashMap<usize, usize> = FxHashMap::default();
        for print in &prints {
            for other in having.get(print).filter(|others| others.len() <= COMMON).into_iter().flatten() {
                *shared.entry(*other).or_default() += 1;
            }
        }
        let kind = new.item(id).kind;
        if kind == Kind::Shop {
            shared.extend(
                gone.iter().enumerate().filter(|(_, id)| old.item(**id).kind == kind).map(|(n, _)| (n, counts[n])),
            );
        }
        let stays = |id: ItemId| stay.contains(&id).then_some(id);
        let now = namers(new, id, &stays);
        for (other, shared) in shared.into_iter().filter(|(other, _)| old.item(gone[*other]).kind == kind) {
            let near = share(shared, counts[other], prints.len());
            if near < SOMEWHAT_THE_SAME && kind != Kind::Shop {
                continue;
            }
            let then = namers(old, gone[other], &|id| ids.get(&id).copied());
            // What names the one names the other now, though much of it is another.
            let is_moved = !then.is_empty() && then == now;
            let is_enough = near >= NEARLY_THE_SAME || is_moved || kind == Kind::Shop;
            let named = share(in_both(&then, &now), then.len(), now.len());
            if is_enough {
                likely.push(Likely { old: other, new: n, share: near + named, is_enough });
            }
        }
    }
    settled(likely).into_iter().map(|(other, n)| (n, gone[other])).collect()
}

/// A number for each item that names this one: one for all that have another name themselves.
fn namers(book: &Book, item: ItemId, called: &dyn Fn(ItemId) -> Option<ItemId>) -> Vec<u64> {
    let (kind, name) = (book.item(item).kind, book.item(item).name_text());
    if book.find(kind, name) != Ok(item) {
        return Vec::new();
    }
    let mut all: Vec<u64> = book.naming(kind, name).iter().map(|id| number(called(*id))).collect();
    all.sort_unstable();
    all
}

pub(super) fn share(shared: usize, old: usize, new: usize) -> f64 {
    if old + new == 0 { 0.0 } else { 2.0 * shared as f64 / (old + new) as f64 }
}

fn prints_in(book: &Book, id: ItemId) -> Vec<u64> {
    prints(book.item(id), &book.file(id.file).text)
}

/// A number for each fact of an item: where it is, and how it is written.
fn prints(item: &Block, text: &str) -> Vec<u64> {
    let mut prints = Vec::new();
    gather(item, text, item.kind as u64, &mut prints);
    prints.sort_unstable();
    prints.dedup();
    prints
}

pub(super) fn gather(block: &Block, text: &str, within: u64, prints: &mut Vec<u64>) {
    for field in &block.fields {
        let mut hasher = FxHasher::default();
        (within, field.key.name, field.name_text()).hash(&mut hasher);
        field.value_span.of(text).split_whitespace().for_each(|word| word.hash(&mut hasher));
        prints.push(hasher.finish());
    }
    for inner in &block.blocks {
        let mut hasher = FxHasher::default();
        (within, inner.kind, inner.name_text()).hash(&mut hasher);
        gather(inner, text, hasher.finish(), prints);
    }
}
