//! What the check says of the new book and did not say of the old one.

use rustc_hash::{FxHashMap, FxHashSet};

use super::attribution::Changed;
use super::book::ItemName;
use super::cards::revision_of;
use super::pairs::Pair;
use super::renames::Renames;
use super::since::concerned_in;
use crate::book::{Book, Computing, Difference, FileId, ItemId, RecordedComputing};
use crate::check::{self, Diagnostic, Place, Severity};
use crate::syntax::Kind;
use crate::vocabulary::setup::{self, Status};

/// What is said of a pin that its result has left behind.
const STALE_PIN: &str = "pinned-result-stale";

/// An error or a warning that a change has brought.
#[derive(Clone, Debug)]
pub struct NewFinding {
    /// The item that it is said of.
    pub item: ItemName,
    pub code: &'static str,
    pub severity: Severity,
    pub message: String,
    /// Where it is in the new book; lines count from 1.
    pub file: String,
    pub line: u32,
}

impl NewFinding {
    /// Whether it is only that a pin has to be renewed: the result that moved says itself what is pinned of it.
    pub fn is_stale_pin(&self) -> bool {
        self.code == STALE_PIN
    }
}

/// Which findings of an old item have been seen again: by the number of its pair and their code, their messages.
type Said = FxHashMap<(usize, &'static str), Vec<String>>;

/// What the check says of the items of pairs that a change can have reached, before and after, by the number of the pair.
pub(super) type SaidOfPairs = FxHashMap<usize, (Vec<Diagnostic>, Vec<Diagnostic>)>;

/// New errors and warnings of each pair, by its number; the gravest first, as they are in the sheet.
pub(super) fn brought(
    before: &Computing<'_>,
    after: &RecordedComputing<'_>,
    (pairs, renames): (&[Pair], &Renames),
    difference: &Difference,
    changed: &Changed<'_>,
    said: SaidOfPairs,
) -> FxHashMap<usize, Vec<NewFinding>> {
    let (old, new) = (before.book(), after.unrecorded().book());
    let (mut said_before, mut said_now) = (FxHashMap::default(), FxHashMap::default());
    for (n, (before, now)) in said {
        said_before.extend(pairs[n].old.map(|id| (id, before)));
        said_now.extend(pairs[n].new.map(|id| (id, now)));
    }
    // What no change has reached was not kept: whatever is said of it was said before.
    let judge = |id: ItemId| said_now.get(&id).map_or((Vec::new(), false), |said: &Vec<_>| (said.clone(), true));
    let concerned = concerned_in((old, new), (pairs, renames), difference, judge).concerned;
    let mut brought: FxHashMap<usize, Vec<NewFinding>> = FxHashMap::default();
    let fresh = fresh(before, new, pairs, changed, concerned, &said_before).into_iter();
    for (n, one) in fresh.filter(|(_, one)| one.severity != Severity::Note) {
        let Some((n, id)) = n.and_then(|n| Some((n, pairs[n].new?))) else { continue };
        let file = new.file(one.place.file);
        let line = file.text.get(..one.place.span.start as usize).map_or(1, |text| 1 + text.matches('\n').count());
        brought.entry(n).or_default().push(NewFinding {
            item: ItemName::of(new, id),
            code: one.rule.code,
            severity: one.severity,
            message: one.message,
            file: file.path.to_string(),
            line: line as u32,
        });
    }
    brought.values_mut().for_each(|findings| findings.sort_by_key(|one| one.severity));
    brought
}

/// What of all that is said now was not said before, each with the number of its pair; `said_before` has what is said of
/// items of the old book already.
///
/// Errors of a setup that the change releases, or gives another revision, are the change's: whoever releases it answers for
/// them.
///
/// That a service was done, a check mass put on or a sheet withdrawn is never wrong to write down: what follows from that
/// alone is a warning.
pub(super) fn fresh(
    before: &Computing<'_>,
    new: &Book,
    pairs: &[Pair],
    changed: &Changed<'_>,
    said_now: Vec<Diagnostic>,
    said_before: &FxHashMap<ItemId, Vec<Diagnostic>>,
) -> Vec<(Option<usize>, Diagnostic)> {
    let numbers = |side: fn(&Pair) -> Option<ItemId>| -> FxHashMap<ItemId, usize> {
        pairs.iter().enumerate().filter_map(|(n, pair)| Some((side(pair)?, n))).collect()
    };
    let old = before.book();
    let (old_numbers, new_numbers) = (numbers(|pair| pair.old), numbers(|pair| pair.new));
    let number = |said: &Diagnostic| item_at(new, said.place).and_then(|id| new_numbers.get(&id).copied());
    let mut found: Vec<(Option<usize>, Diagnostic)> = said_now.into_iter().map(|said| (number(&said), said)).collect();
    let concerned: FxHashSet<usize> = found.iter().filter_map(|(n, _)| *n).collect();
    let mut said = said_of(before, pairs, &concerned, &old_numbers, said_before);
    // Those that read as they did first; of the others, as many as there were are the same in other numbers.
    let mut is_old = |n: Option<usize>, one: &Diagnostic, exactly: bool| {
        let messages = n.and_then(|n| said.get_mut(&(n, one.rule.code)));
        let Some(messages) = messages else { return false };
        let at = messages.iter().position(|message| !exactly || *message == one.message);
        at.map(|at| messages.swap_remove(at)).is_some()
    };
    let released: FxHashSet<usize> =
        concerned.iter().copied().filter(|n| is_released_now(old, new, pairs[*n])).collect();
    let answers = |n: &Option<usize>, one: &Diagnostic| {
        one.severity == Severity::Error && n.is_some_and(|n| released.contains(&n))
    };
    found.retain(|(n, one)| answers(n, one) || !is_old(*n, one, true));
    found.retain(|(n, one)| answers(n, one) || !is_old(*n, one, false));
    for (n, one) in &mut found {
        if one.severity == Severity::Error && n.is_some_and(|n| changed.is_bookkeeping(&changed.under(n))) {
            one.severity = Severity::Warning;
        }
    }
    found
}

/// Whether a setup is released that was not, or under another revision.
fn is_released_now(old: &Book, new: &Book, pair: Pair) -> bool {
    let released = |book: &Book, id: ItemId| {
        let item = book.item(id);
        let is_it = item.kind == Kind::Setup && item.choice(setup::STATUS) == Some(Status::Released);
        is_it.then(|| revision_of(book, id))
    };
    let now = pair.new.and_then(|id| released(new, id));
    now.is_some() && now != pair.old.and_then(|id| released(old, id))
}

/// What is said of the old sides of some pairs.
fn said_of(
    before: &Computing<'_>,
    pairs: &[Pair],
    concerned: &FxHashSet<usize>,
    numbers: &FxHashMap<ItemId, usize>,
    judged: &FxHashMap<ItemId, Vec<Diagnostic>>,
) -> Said {
    let old = before.book();
    let items: Vec<ItemId> = concerned.iter().filter_map(|n| pairs[*n].old).collect();
    let files: FxHashSet<FileId> = items.iter().map(|id| id.file).collect();
    let of_item = |id: &ItemId| judged.get(id).cloned().unwrap_or_else(|| check::check_item(before, *id));
    let of_items = items.iter().flat_map(of_item);
    let of_files = files.iter().flat_map(|file| check::check_facts(old, *file));
    let of_book = if items.is_empty() { Vec::new() } else { check::check_book(old) };
    let mut said = Said::default();
    for one in of_items.chain(of_files).chain(of_book) {
        let number = item_at(old, one.place).and_then(|id| numbers.get(&id));
        if let Some(number) = number {
            said.entry((*number, one.rule.code)).or_default().push(one.message);
        }
    }
    said
}

/// The item that a place lies in, or after; the first of the file where none comes before it.
fn item_at(book: &Book, place: Place) -> Option<ItemId> {
    let items = &book.file(place.file).sheet.items;
    let behind = items.iter().rposition(|item| item.span.start <= place.span.start);
    let index = behind.or((!items.is_empty()).then_some(0))?;
    Some(ItemId { file: place.file, index: index as u32 })
}
