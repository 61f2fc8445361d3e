//! What the check says of the new book and did not say of the old one.

use rustc_hash::{FxHashMap, FxHashSet};

use super::book::ItemName;
use super::pairs::Pair;
use super::since::concerned_in;
use crate::book::{Book, Computing, Difference, FileId, ItemId, RecordedComputing};
use crate::check::{self, Diagnostic, Place, Severity};

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
    /// Where it stands in the new book; lines count from 1.
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

/// New errors and warnings of each pair, by its number; the gravest first, as they stand in the sheet.
pub(super) fn brought(
    before: &Computing<'_>,
    after: &RecordedComputing<'_>,
    pairs: &[Pair],
    difference: &Difference,
) -> FxHashMap<usize, Vec<NewFinding>> {
    let (old, new) = (before.book(), after.unrecorded().book());
    let numbers = |side: fn(&Pair) -> Option<ItemId>| -> FxHashMap<ItemId, usize> {
        pairs.iter().enumerate().filter_map(|(n, pair)| Some((side(pair)?, n))).collect()
    };
    let (old_numbers, new_numbers) = (numbers(|pair| pair.old), numbers(|pair| pair.new));
    let mut found: Vec<(usize, Diagnostic)> = Vec::new();
    for said in concerned_in(old, after, difference).concerned {
        let weighs = said.severity != Severity::Note;
        let number = item_at(new, said.place).and_then(|id| new_numbers.get(&id).copied());
        found.extend(number.filter(|_| weighs).map(|number| (number, said)));
    }
    let concerned: FxHashSet<usize> = found.iter().map(|(n, _)| *n).collect();
    let mut said = said_of(before, pairs, &concerned, &old_numbers);
    // Those that read as they did first; of the others, as many as there were are the same in other numbers.
    let mut is_old = |n: usize, one: &Diagnostic, exactly: bool| {
        let Some(messages) = said.get_mut(&(n, one.rule.code)) else { return false };
        let at = messages.iter().position(|message| !exactly || *message == one.message);
        at.map(|at| messages.swap_remove(at)).is_some()
    };
    found.retain(|(n, one)| !is_old(*n, one, true));
    found.retain(|(n, one)| !is_old(*n, one, false));
    let mut brought: FxHashMap<usize, Vec<NewFinding>> = FxHashMap::default();
    for (n, one) in found {
        let Some(id) = pairs[n].new else { continue };
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

/// What is said of the old sides of some pairs.
fn said_of(
    before: &Computing<'_>,
    pairs: &[Pair],
    concerned: &FxHashSet<usize>,
    numbers: &FxHashMap<ItemId, usize>,
) -> Said {
    let old = before.book();
    let items: Vec<ItemId> = concerned.iter().filter_map(|n| pairs[*n].old).collect();
    let files: FxHashSet<FileId> = items.iter().map(|id| id.file).collect();
    let of_items = items.iter().flat_map(|id| check::check_item(before, *id));
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

/// The item that a place lies in, or behind; the first of the file where none stands before it.
fn item_at(book: &Book, place: Place) -> Option<ItemId> {
    let items = &book.file(place.file).sheet.items;
    let behind = items.iter().rposition(|item| item.span.start <= place.span.start);
    let index = behind.or((!items.is_empty()).then_some(0))?;
    Some(ItemId { file: place.file, index: index as u32 })
}
