//! Because of which changed facts a result moved.
//!
//! The computation keeps with each result the facts that it was worked out from. Of the changed facts of all items that
//! an item rests on, those are the causes that its results were worked out from in either book, and those that decide how
//! one is worked out without being an amount: a choice, a name, a block. A remark never is.

use std::sync::Arc;

use rustc_hash::{FxHashMap, FxHashSet};
use smallvec::SmallVec;

use super::book::ItemName;
use super::facts::{FactChange, Facts};
use super::pairs::Pair;
use crate::book::{Book, Entry, FileId, ItemId, references};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{Choice, check_mass, machine, record, setup};

/// A change that moved something: a fact, or an item as a whole that came, went or was renamed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Because {
    pub item: ItemName,
    /// Of the fact; empty for the item as a whole.
    pub path: Vec<String>,
    /// The number of the item's pair.
    pub(super) pair: usize,
    /// Whether what was written differs by less than its own last digit.
    pub(super) is_rounding: bool,
    acts: bool,
    is_remark: bool,
    /// Whether it says that something was done: a service, a check.
    pub(super) is_bookkeeping: bool,
}

/// The causes of one result.
pub type Causes = SmallVec<[Arc<Because>; 2]>;

/// All that changed, to be found by where it is written.
pub(super) struct Changed<'d> {
    books: (&'d Book, &'d Book),
    pairs: &'d [Pair],
    /// The changes of each pair that has any.
    by_pair: FxHashMap<usize, Vec<Arc<Because>>>,
    /// Facts by where their values are written, in the old book and in the new one.
    by_place: [FxHashMap<(FileId, u32), Arc<Because>>; 2],
    numbers: [FxHashMap<ItemId, usize>; 2],
}

impl<'d> Changed<'d> {
    /// `facts` are those of each pair; `rewritten` tells of pairs whose text is another though no fact is.
    pub fn of(books: (&'d Book, &'d Book), pairs: &'d [Pair], facts: &[Facts], same_text: &[bool]) -> Self {
        let mut all = Self {
            books,
            pairs,
            by_pair: FxHashMap::default(),
            by_place: Default::default(),
            numbers: Default::default(),
        };
        for (n, (pair, facts)) in pairs.iter().zip(facts).enumerate() {
            if same_text[n] {
                continue;
            }
            all.numbers[0].extend(pair.old.map(|id| (id, n)));
            all.numbers[1].extend(pair.new.map(|id| (id, n)));
            all.add(n, *pair, facts);
        }
        all
    }

    fn add(&mut self, n: usize, pair: Pair, facts: &Facts) {
        let Some((book, id)) = pair.new.map(|id| (self.books.1, id)).or(pair.old.map(|id| (self.books.0, id))) else {
            return;
        };
        let item = ItemName::of(book, id);
        let names = pair.old.zip(pair.new).map(|(o, n)| (self.books.0.item(o), self.books.1.item(n)));
        let is_whole = names.is_none_or(|(old, new)| old.name_text() != new.name_text());
        let mut causes = Vec::new();
        if is_whole || facts.facts.is_empty() {
            // What is only written in another order may have moved results all the same.
            let (acts, is_remark) = (is_whole, !is_whole);
            let one = Because {
                item: item.clone(),
                path: Vec::new(),
                pair: n,
                is_rounding: false,
                acts,
                is_remark,
                is_bookkeeping: false,
            };
            causes.push(Arc::new(one));
        }
        if pair.old.is_some() && pair.new.is_some() {
            for fact in &facts.facts {
                let one = Arc::new(Because {
                    item: item.clone(),
                    path: fact.path.clone(),
                    pair: n,
                    is_rounding: fact.is_rounding(),
                    acts: acts(fact),
                    is_remark: is_remark(fact),
                    is_bookkeeping: is_bookkeeping(fact),
                });
                for (by_place, place) in self.by_place.iter_mut().zip([fact.places.0, fact.places.1]) {
                    by_place.extend(place.map(|(file, span)| ((file, span.start), one.clone())));
                }
                causes.push(one);
            }
        }
        self.by_pair.insert(n, causes);
    }

    pub fn count(&self) -> usize {
        self.by_pair.values().map(Vec::len).sum()
    }

    /// The pairs with changes that a pair rests on, itself first.
    pub fn under(&self, n: usize) -> Vec<usize> {
        let pair = self.pairs[n];
        let (old, new) = self.books;
        let mut found: Vec<usize> = Vec::new();
        for (book, id, numbers) in [(old, pair.old, &self.numbers[0]), (new, pair.new, &self.numbers[1])] {
            let Some(id) = id else { continue };
            found.extend(rests_on(book, id).iter().filter_map(|id| numbers.get(id)));
        }
        found.sort_unstable();
        found.dedup();
        found.sort_by_key(|other| *other != n);
        found
    }

    /// Why a result moved, of an item that rests on these pairs.
    pub fn causes(&self, under: &[usize], old: Option<&Entry>, new: Option<&Entry>) -> Causes {
        let is_explained = [old, new].iter().flatten().any(|entry| entry.derivation.is_some());
        if !is_explained {
            return self.anything(under);
        }
        let mut found: Causes = SmallVec::new();
        let mut add = |one: &Arc<Because>| {
            if !found.iter().any(|other| Arc::ptr_eq(other, one)) {
                found.push(one.clone());
            }
        };
        let places = |entry: Option<&Entry>| {
            entry.and_then(|entry| entry.derivation.as_ref()).map(|derivation| derivation.facts()).unwrap_or_default()
        };
        for (by_place, places) in self.by_place.iter().zip([places(old), places(new)]) {
            let of_place = |(file, span): &(FileId, crate::text::Span)| by_place.get(&(*file, span.start));
            places.iter().filter_map(of_place).for_each(&mut add);
        }
        self.of_pairs(under).filter(|one| one.acts).for_each(&mut add);
        if found.is_empty() {
            found = self.anything(under);
        }
        // The item's own facts first, as its sheet has them.
        found.sort_by_key(|one| under.iter().position(|n| *n == one.pair));
        found
    }

    /// All changes that may have moved something of an item that rests on these pairs; the shop's rules concern everybody.
    pub fn anything(&self, under: &[usize]) -> Causes {
        let telling: Causes = self.of_pairs(under).filter(|one| !one.is_remark).cloned().collect();
        if !telling.is_empty() {
            return telling;
        }
        let shop = self.by_pair.values().flatten().filter(|one| one.item.kind == Kind::Shop);
        let shop: Causes = shop.cloned().collect();
        if !shop.is_empty() { shop } else { self.of_pairs(under).cloned().collect() }
    }

    /// Whether nothing else changed of all that an item rests on than that something was done and written down.
    pub fn is_bookkeeping(&self, under: &[usize]) -> bool {
        self.of_pairs(under).all(|one| one.is_bookkeeping)
    }

    fn of_pairs<'s>(&'s self, under: &'s [usize]) -> impl Iterator<Item = &'s Arc<Because>> {
        under.iter().filter_map(|n| self.by_pair.get(n)).flatten()
    }
}

/// Whether a fact decides how something is worked out without being an amount that a formula takes.
fn acts(fact: &FactChange) -> bool {
    let is_amount = |value: &Option<FieldValue>| {
        matches!(
            value,
            Some(
                FieldValue::Quantity(_)
                    | FieldValue::Quantities(_)
                    | FieldValue::Number(_)
                    | FieldValue::Grade(_)
                    | FieldValue::Reading(_)
                    | FieldValue::Readings(_)
                    | FieldValue::Weighing(_)
            )
        )
    };
    !is_remark(fact) && !is_amount(&fact.values.0) && !is_amount(&fact.values.1)
}

/// That a machine was serviced or tested, a check mass put on, a sheet withdrawn, and by whom.
fn is_bookkeeping(fact: &FactChange) -> bool {
    let is_new = fact.old.is_none();
    let is_released = fact.values.1 == Some(FieldValue::Choice(setup::Status::Released.words()));
    match fact.within {
        Kind::Machine => (fact.is(machine::SERVICED) && is_new) || fact.is(machine::TESTED) || fact.is(machine::NOTE),
        Kind::CheckMass => fact.is(check_mass::CHECKED) && is_new,
        Kind::Setup => {
            (fact.is(setup::STATUS) && !is_released)
                || fact.is(setup::BY)
                || fact.is(setup::DATE)
                || fact.is(setup::NOTE)
        }
        _ => false,
    }
}

/// What is said of a sheet or remarked on it, and what nothing is worked out from.
pub(super) fn is_remark(fact: &FactChange) -> bool {
    let is_text = |value: &Option<FieldValue>| matches!(value, Some(FieldValue::Text(_)));
    let is_of_the_sheet = match fact.within {
        Kind::Setup => fact.is(setup::STATUS) || fact.is(setup::DATE),
        Kind::Record => fact.is(record::DATE),
        _ => false,
    };
    fact.key.is_some() && (is_of_the_sheet || is_text(&fact.values.0) || is_text(&fact.values.1))
}

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
