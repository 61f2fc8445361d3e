//! Two books compared, item by item.

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use super::alerts::{self, Alert};
use super::attribution::{Because, Causes, Changed};
use super::barred;
use super::cards::CardDiff;
use super::facts::{FactChange, FactChangeKind, Facts, PinChange, facts_between};
use super::findings::{self, NewFinding};
use super::pairs::{Pair, pairs};
use super::renames::Renames;
use super::results::{Both, ItemOutcome, Moved, MovedHow, moved};
use crate::book::{Book, Computing, Difference, ItemId, RecordedBook};
use crate::card::CardChange;
use crate::sheet::Block;
use crate::syntax::{Kind, SyntaxErrorKind};

/// An item as people name it.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct ItemName {
    pub kind: Kind,
    pub name: String,
}

impl ItemName {
    pub fn of(book: &Book, id: ItemId) -> Self {
        Self::of_block(book.item(id))
    }

    pub fn of_block(item: &Block) -> Self {
        Self { kind: item.kind, name: item.name_text().to_owned() }
    }
}

impl std::fmt::Display for ItemName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.name.is_empty() {
            true => write!(f, "{}", self.kind),
            false => write!(f, "{} \"{}\"", self.kind, self.name),
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ItemChange {
    Added,
    Removed,
    Changed,
    Renamed,
    /// Its facts are the same; results moved all the same, because of the order or the place of what is written.
    Results,
}

impl ItemChange {
    pub const fn word(self) -> &'static str {
        match self {
            ItemChange::Added => "added",
            ItemChange::Removed => "removed",
            ItemChange::Changed => "changed",
            ItemChange::Renamed => "renamed",
            ItemChange::Results => "results",
        }
    }
}

/// One item that is not what it was.
#[derive(Clone, Debug)]
pub struct ItemDiff {
    pub item: ItemName,
    /// Its name before, when it had another.
    pub was: Option<String>,
    pub change: ItemChange,
    /// The file it is in, or stood in when it is gone.
    pub file: String,
    pub facts: Vec<FactChange>,
    /// Results that moved because of it: its own, then those of items that rest on it and did not change themselves.
    pub results: Vec<Moved>,
    /// Cards of released sheets and of records that say something else because of it.
    pub cards: Vec<CardDiff>,
    /// Errors and warnings that it brings, in itself and in items that rest on it; none unless they were asked for.
    pub findings: Vec<NewFinding>,
    pub alerts: Vec<Alert>,
}

/// All that changed, items with alerts first.
#[derive(Clone, Debug, Default)]
pub struct BookDiff {
    pub items: Vec<ItemDiff>,
}

impl BookDiff {
    pub fn is_empty(&self) -> bool {
        self.items.is_empty()
    }

    /// All alerts, in the order of their codes, and of one code the furthest first.
    pub fn alerts(&self) -> Vec<&Alert> {
        let mut alerts: Vec<&Alert> = self.items.iter().flat_map(|item| &item.alerts).collect();
        alerts.sort_by(|a, b| a.code.cmp(&b.code).then(b.reach().total_cmp(&a.reach())));
        alerts
    }

    /// Cards of released sheets by which a hand does something else: those that harm first, then the furthest.
    pub fn cards(&self) -> Vec<&CardDiff> {
        let cards = self.items.iter().flat_map(|item| &item.cards);
        let is_told = |card: &&CardDiff| card.item.kind == Kind::Setup && card.is_done_otherwise();
        let mut cards: Vec<&CardDiff> = cards.filter(is_told).collect();
        let first = |card: &CardDiff| card.changes.iter().map(CardChange::rank).min();
        cards.sort_by(|a, b| first(a).cmp(&first(b)).then(b.ratio.total_cmp(&a.ratio)));
        cards
    }
}

/// What is known of one pair before results are shared out.
struct Compared {
    pair: Pair,
    facts: Facts,
    results: Vec<Moved>,
    findings: Vec<NewFinding>,
    cards: Vec<CardDiff>,
}

/// Compares two versions of a book.
#[cfg(feature = "internals")]
pub fn compare(old: &Book, new: &Book) -> BookDiff {
    compared(old, new, false)
}

/// Compares two versions of a book, and judges what changed: the errors and warnings that are new are under the change.
pub fn compare_and_judge(old: &Book, new: &Book) -> BookDiff {
    compared(old, new, true)
}

fn compared(old: &Book, new: &Book, judged: bool) -> BookDiff {
    let difference = Difference::between_books(old, new);
    let conflicts = alerts::conflicted(old, new);
    if difference.is_nothing() && conflicts.is_empty() {
        return BookDiff::default();
    }
    let (pairs, renames) = pairs(old, new);
    let recorded = RecordedBook::of(new);
    let (before, after) = (Computing::without_explanations(old), Computing::recorded(&recorded).with_all_results());
    let (same_text, all_facts) = facts_of_pairs(&before, after.unrecorded(), &pairs, &renames);
    let changed = Changed::of((old, new), &pairs, &all_facts, &same_text);
    // Of one change it need not be known which results were worked out from it.
    let several = changed.count() > 1;
    let (before, after) = (before.explaining(several), after.explaining(several));
    let mut outcomes: FxHashMap<usize, ItemOutcome> =
        moved(Both { old: &before, new: &after, judged }, &pairs, &same_text, &difference, &renames, &changed)
            .into_iter()
            .collect();
    let mut brought = match judged {
        true => {
            let mut said = |n: usize| outcomes.get_mut(&n).and_then(|one| one.said.take());
            let said = (0..pairs.len()).filter_map(|n| Some((n, said(n)?))).collect();
            barred::add((&before, after.unrecorded()), &pairs, &changed, &said, &mut outcomes);
            findings::brought(&before, &after, (&pairs, &renames), &difference, &changed, said)
        }
        false => FxHashMap::default(),
    };
    let mut compared: FxHashMap<usize, Compared> = FxHashMap::default();
    for (n, (pair, mut facts)) in pairs.iter().zip(all_facts).enumerate() {
        if pair.old.is_none() || pair.new.is_none() {
            facts.pins.clear();
        }
        let stands_on_both_sides = pair.old.is_some() && pair.new.is_some();
        let ItemOutcome { moved: results, card, .. } = outcomes.remove(&n).unwrap_or_default();
        let results = with_pins(new, *pair, results, &mut facts.pins);
        let findings = brought.remove(&n).unwrap_or_default();
        let renamed = is_renamed(old, new, *pair);
        let conflict = pair.new.is_some_and(|id| conflicts.contains(&id.file));
        let moved = !facts.is_empty() || !results.is_empty() || !findings.is_empty() || card.is_some();
        if moved || renamed || !stands_on_both_sides || conflict {
            let cards = card.into_iter().collect();
            compared.insert(n, Compared { pair: *pair, facts, results, findings, cards });
        }
    }
    before.finish();
    after.finish();
    let items = shared_out(compared, &changed);
    finished(old, new, items, &renames, &conflicts)
}

/// Which pairs are written as they were, and what changed in the facts of the others.
pub(super) fn facts_of_pairs(
    before: &Computing<'_>,
    after: &Computing<'_>,
    pairs: &[Pair],
    renames: &Renames,
) -> (Vec<bool>, Vec<Facts>) {
    let same_text: Vec<bool> = pairs.iter().map(|pair| has_same_text(before.book(), after.book(), *pair)).collect();
    let facts_of = |n: usize, pair: &Pair| match same_text[n] {
        true => Facts::default(),
        false => facts_between(pair.old.map(|id| (before, id)), pair.new.map(|id| (after, id)), renames),
    };
    let facts = pairs.par_iter().enumerate().with_min_len(4).map(|(n, pair)| facts_of(n, pair)).collect();
    (same_text, facts)
}

/// Puts what moved under the changes because of which it did.
fn shared_out(mut compared: FxHashMap<usize, Compared>, changed: &Changed<'_>) -> Vec<Compared> {
    let mut order: Vec<usize> = compared.keys().copied().collect();
    order.sort_unstable();
    for n in &order {
        let Some(one) = compared.get_mut(n) else { continue };
        let results = std::mem::take(&mut one.results);
        let findings = std::mem::take(&mut one.findings);
        let cards = std::mem::take(&mut one.cards);
        let home = |because: &Causes| because.first().map_or(*n, |first| first.pair);
        for moved in results {
            at(&mut compared, home(&moved.because), *n, |there| there.results.push(moved));
        }
        for card in cards {
            at(&mut compared, home(&card.because), *n, |there| there.cards.push(card));
        }
        if findings.is_empty() {
            continue;
        }
        let anything = changed.anything(&changed.under(*n));
        for finding in findings {
            // What it names by its name is why.
            let is_named = |one: &&std::sync::Arc<Because>| {
                one.path.is_empty() && one.item.name.len() > 1 && finding.message.contains(&one.item.name)
            };
            let named = anything.iter().find(is_named).map(|one| one.pair);
            let there = named.unwrap_or_else(|| home(&anything));
            at(&mut compared, there, *n, |there| there.findings.push(finding));
        }
    }
    order.into_iter().filter_map(|n| compared.remove(&n)).collect()
}

/// Where it is told, or else where it belongs.
fn at(compared: &mut FxHashMap<usize, Compared>, there: usize, own: usize, put: impl FnOnce(&mut Compared)) {
    let there = if compared.contains_key(&there) { there } else { own };
    if let Some(one) = compared.get_mut(&there) {
        put(one);
    }
}

/// Adds alerts and names, and puts what must not be missed first.
fn finished(
    old: &Book,
    new: &Book,
    compared: Vec<Compared>,
    renames: &Renames,
    conflicts: &FxHashSet<crate::book::FileId>,
) -> BookDiff {
    let mut items: Vec<ItemDiff> = Vec::new();
    for Compared { pair, facts, results, findings, cards } in compared {
        let conflict = pair.new.is_some_and(|id| conflicts.contains(&id.file));
        let has_moved = !results.is_empty() || !findings.is_empty() || !cards.is_empty();
        let change = match (pair.old, pair.new) {
            (None, _) => ItemChange::Added,
            (_, None) => ItemChange::Removed,
            _ if is_renamed(old, new, pair) => ItemChange::Renamed,
            _ if !facts.is_empty() || conflict => ItemChange::Changed,
            _ if has_moved => ItemChange::Results,
            _ => continue,
        };
        let Some((book, id)) = pair.new.map(|id| (new, id)).or(pair.old.map(|id| (old, id))) else { continue };
        let was = pair.old.filter(|_| change == ItemChange::Renamed).map(|id| old.item(id).name_text().to_owned());
        let item = ItemName::of(book, id);
        let file = book.file(id.file).path.to_string();
        let results = pins_alone(&item, &facts.pins).chain(results).collect();
        let mut item =
            ItemDiff { item, was, change, file, facts: facts.facts, results, findings, cards, alerts: Vec::new() };
        item.alerts = alerts::of(old, new, pair, &item, &facts.pins, renames, conflict);
        items.push(item);
    }
    items
        .sort_by_key(|item| item.alerts.iter().map(|alert| alert.code).min().map_or((1, None), |code| (0, Some(code))));
    BookDiff { items }
}

/// Writes beside each result what is pinned of it, and leaves the pins of which no result moved.
fn with_pins(new: &Book, pair: Pair, mut results: Vec<Moved>, pins: &mut Vec<PinChange>) -> Vec<Moved> {
    let Some(item) = pair.new.map(|id| ItemName::of(new, id)) else { return results };
    pins.retain(|pin| match results.iter_mut().find(|moved| moved.item == item && moved.path == pin.path) {
        Some(moved) => {
            moved.pinned = Some((pin.old.clone(), pin.new.clone()));
            pin.old.is_some() && pin.new.is_none()
        }
        None => true,
    });
    results
}

/// Pins that say something else although their results are what they were.
fn pins_alone<'p>(item: &ItemName, pins: &'p [PinChange]) -> impl Iterator<Item = Moved> + 'p {
    let item = item.clone();
    pins.iter().map(move |pin| Moved {
        item: item.clone(),
        path: pin.path.clone(),
        spec: pin.spec,
        old: None,
        new: None,
        how: MovedHow::Pin,
        went_along: false,
        amounts: None,
        is_pinned: pin.new.is_some(),
        is_void: false,
        is_table: false,
        pinned: Some((pin.old.clone(), pin.new.clone())),
        unit: None,
        because: Causes::new(),
    })
}

fn is_renamed(old: &Book, new: &Book, pair: Pair) -> bool {
    let names =
        pair.old.zip(pair.new).map(|(before, after)| (old.item(before).name_text(), new.item(after).name_text()));
    names.is_some_and(|(before, after)| before != after)
}

/// Whether an item is written as it was, letter by letter, and all of it was read.
fn has_same_text(old: &Book, new: &Book, pair: Pair) -> bool {
    let Some((before, after)) = pair.old.zip(pair.new) else { return false };
    let (a, b) = (old.shared_file(before.file), new.shared_file(after.file));
    if std::sync::Arc::ptr_eq(a, b) && before.index == after.index {
        return true;
    }
    let unsettled =
        |file: &crate::book::SourceFile| file.errors.iter().any(|error| error.kind == SyntaxErrorKind::ConflictMarkers);
    let (x, y) = (old.item(before), new.item(after));
    !unsettled(a) && !unsettled(b) && x.name_text() == y.name_text() && x.span.of(&a.text) == y.span.of(&b.text)
}

impl ItemDiff {
    /// Facts whose value changed.
    pub fn changed_facts(&self) -> impl Iterator<Item = &FactChange> {
        self.facts.iter().filter(|fact| fact.change != FactChangeKind::Precision)
    }

    /// Facts of which only the precision changed.
    pub fn changed_precision(&self) -> impl Iterator<Item = &FactChange> {
        self.facts.iter().filter(|fact| fact.change == FactChangeKind::Precision)
    }
}
