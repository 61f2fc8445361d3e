//! Because of which changed item the results of another moved.

use rustc_hash::FxHashSet;

use super::pairs::Pair;
use crate::book::{Book, ItemId, references};
use crate::syntax::Kind;

/// Items that an item rests on, however far down, itself included.
pub(super) fn rests_on(book: &Book, item: ItemId) -> FxHashSet<ItemId> {
    let mut seen = FxHashSet::default();
    let mut open = vec![item];
    while let Some(next) = open.pop() {
        if !seen.insert(next) {
            continue;
        }
        let named = references(book.item(next));
        open.extend(named.iter().flat_map(|reference| book.named(reference.kind, &reference.name.text)));
    }
    seen
}

/// Which of the changed pairs an item rests on, in either book, in their order. The shop's rules concern everybody.
pub(super) fn causes(books: (&Book, &Book), pair: Pair, changed: &[(usize, Pair)]) -> Vec<usize> {
    let old = pair.old.map(|id| rests_on(books.0, id)).unwrap_or_default();
    let new = pair.new.map(|id| rests_on(books.1, id)).unwrap_or_default();
    let is_shop = |pair: &Pair| pair.new.is_some_and(|id| books.1.item(id).kind == Kind::Shop);
    let is_cause = |(_, cause): &&(usize, Pair)| {
        cause.old.is_some_and(|id| old.contains(&id)) || cause.new.is_some_and(|id| new.contains(&id))
    };
    let causes: Vec<usize> = changed.iter().filter(is_cause).map(|(n, _)| *n).collect();
    if causes.is_empty() {
        return changed.iter().filter(|(_, pair)| is_shop(pair)).map(|(n, _)| *n).collect();
    }
    causes
}
