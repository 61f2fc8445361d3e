//! Which item of the new book is which of the old one.

use rustc_hash::{FxHashMap, FxHasher};
use std::hash::{Hash, Hasher};

use super::renames::Renames;
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
    for (before, after) in pairs.iter().filter_map(|pair| Some((pair.old?, pair.new?))) {
        within(&mut renames, (old, before), (new, after));
    }
    for (n, id) in renamed(old, &gone, new, &pairs) {
        let (before, after) = (old.item(id), pairs[n].new.map(|id| new.item(id)));
        if let Some(after) = after {
            renames.add(before.kind, before.name_text(), after.name_text());
        }
        if let Some(after) = pairs[n].new {
            within(&mut renames, (old, id), (new, after));
        }
        pairs[n].old = Some(id);
        gone.retain(|other| *other != id);
    }
    pairs.extend(gone.into_iter().map(|id| Pair { old: Some(id), new: None }));
    (pairs, renames)
}

/// Takes note of what is called otherwise in an item.
fn within(renames: &mut Renames, old: (&Book, ItemId), new: (&Book, ItemId)) {
    let is_same = std::sync::Arc::ptr_eq(old.0.shared_file(old.1.file), new.0.shared_file(new.1.file));
    if !is_same {
        renames.add_within(old, new);
    }
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
    let mut likely: Vec<(f64, usize, usize)> = Vec::new();
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
        // What names the one names the other now, though much of it is another.
        let is_moved = |other: usize| {
            let was = gone[other];
            let [before, now] = [old.item(was).name_text(), new.item(id).name_text()];
            let count = |book: &Book, name: &str| book.naming(kind, name).len();
            let is_named =
                |book: &Book, id: ItemId, name: &str| count(book, name) > 0 && book.find(kind, name) == Ok(id);
            is_named(old, was, before)
                && is_named(new, id, now)
                && count(old, before) == count(new, now)
                && count(new, before) + count(old, now) == 0
        };
        let likely_of = |(other, shared): (usize, usize)| (share(shared, counts[other], prints.len()), n, other);
        let of_kind = shared.into_iter().filter(|(other, _)| old.item(gone[*other]).kind == kind);
        let is_it = |(share, _, other): &(f64, usize, usize)| {
            *share >= NEARLY_THE_SAME || kind == Kind::Shop || (*share >= SOMEWHAT_THE_SAME && is_moved(*other))
        };
        likely.extend(of_kind.map(likely_of).filter(is_it));
    }
    likely.sort_by(|a, b| b.0.total_cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let (mut taken, mut found) = (vec![false; gone.len()], Vec::<(usize, ItemId)>::new());
    for (_, n, other) in likely {
        if !taken[other] && found.iter().all(|(done, _)| *done != n) {
            taken[other] = true;
            found.push((n, gone[other]));
        }
    }
    found
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
