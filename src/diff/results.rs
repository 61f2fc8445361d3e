//! The results of an item in two books.

use rayon::prelude::*;

use super::book::ItemName;
use super::outcome::{AsRead, Differs, differs, texts};
use super::pairs::Pair;
use super::renames::Renames;
use crate::book::{Book, Computing, Difference, Entry, ItemId, Outcome, RecordedComputing, heading};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::vocabulary::ResultSpec;

/// A result that is not what it was.
#[derive(Clone, Debug)]
pub struct Moved {
    pub item: ItemName,
    /// The blocks it stands in, then its name.
    pub path: Vec<String>,
    /// Which result it is; `None` for a pin of a name that is none.
    pub spec: Option<&'static ResultSpec>,
    /// As people read it; `None` where there is no such result.
    pub old: Option<AsRead>,
    pub new: Option<AsRead>,
    pub how: MovedHow,
    /// In base units, where both are amounts.
    pub amounts: Option<(f64, f64)>,
    /// Whether it is pinned in the text of the new book.
    pub is_pinned: bool,
    /// Whether it is now a calibration that no longer holds.
    pub is_void: bool,
    /// What is pinned of it in the text, before and after, where that changed.
    pub pinned: Option<(Option<String>, Option<String>)>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum MovedHow {
    Value,
    /// Only what stands behind `±`.
    Spread,
    /// It was computed, and is no longer.
    Lost,
    /// It was not computed, and is now.
    Found,
    /// Nothing of it but what is pinned in the text.
    Pin,
}

/// The results that moved, of each pair that has any, by its number among the pairs.
///
/// An item whose text is the same, and which looked up nothing that changed, has the results it had; only the others are
/// worked out in both books.
pub(super) fn moved(
    old: &Computing<'_>,
    new: &RecordedComputing<'_>,
    pairs: &[Pair],
    same_text: &[bool],
    difference: &Difference,
    renames: &Renames,
) -> Vec<(usize, Vec<Moved>)> {
    let after_book = new.unrecorded().book();
    let both = |(n, pair): (usize, &Pair)| Some((n, pair.old?, pair.new?));
    let items: Vec<(usize, ItemId, ItemId)> = pairs.iter().enumerate().filter_map(both).collect();
    let one = |(n, before, after): &(usize, ItemId, ItemId)| {
        let (computed, lookups) = new.record(|own| own.item(*after));
        if same_text[*n] && !difference.touches(&lookups) {
            return None;
        }
        let was = old.item(*before);
        let name = ItemName::of(after_book, *after);
        let mut found = compare(&name, (old.book(), was.entries()), (after_book, computed.entries()), renames);
        if !found.is_empty() {
            mark_pinned(after_book.item(*after), &mut Vec::new(), &mut found);
        }
        (!found.is_empty()).then_some((*n, found))
    };
    items.par_iter().with_min_len(4).filter_map(one).collect()
}

/// Marks the results that stand in the text of a block.
fn mark_pinned(block: &Block, path: &mut Vec<String>, moved: &mut [Moved]) {
    for pin in &block.pins {
        let is_it = |moved: &&mut Moved| {
            moved.path.split_last().is_some_and(|(name, blocks)| blocks == path.as_slice() && **name == *pin.name)
        };
        moved.iter_mut().filter(|moved| is_it(moved)).for_each(|moved| moved.is_pinned = true);
    }
    for inner in &block.blocks {
        path.push(heading(inner));
        mark_pinned(inner, path, moved);
        path.pop();
    }
}

/// Compares results by where they stand and what they are called.
fn compare(name: &ItemName, old: (&Book, &[Entry]), new: (&Book, &[Entry]), renames: &Renames) -> Vec<Moved> {
    let mut waiting: Vec<Option<(Vec<String>, &Entry)>> =
        old.1.iter().map(|entry| Some((path_now(entry, renames), entry))).collect();
    let mut found = Vec::new();
    // Results mostly stand where they stood, so that the next one waiting is the one looked for.
    let mut next = 0;
    for entry in new.1 {
        let path = path_of(entry);
        let is_it = |waiting: &Option<(Vec<String>, &Entry)>| waiting.as_ref().is_some_and(|(other, _)| *other == path);
        let at = (next..waiting.len()).chain(0..next.min(waiting.len())).find(|at| is_it(&waiting[*at]));
        let was = at.and_then(|at| {
            next = at + 1;
            waiting[at].take()
        });
        found.extend(moved_from(name, path, was.map(|(_, was)| (old.0, was)), Some((new.0, entry))));
    }
    for (path, entry) in waiting.into_iter().flatten() {
        found.extend(moved_from(name, path, Some((old.0, entry)), None));
    }
    found
}

fn moved_from(
    name: &ItemName,
    path: Vec<String>,
    old: Option<(&Book, &Entry)>,
    new: Option<(&Book, &Entry)>,
) -> Option<Moved> {
    let is_missing = |side: Option<(&Book, &Entry)>| side.is_none_or(|(_, e)| matches!(e.outcome, Outcome::Missing(_)));
    let how = match (old, new) {
        (Some((_, old)), Some((_, new))) => match differs(&old.outcome, &new.outcome) {
            Differs::Nothing => return None,
            Differs::Spread => MovedHow::Spread,
            Differs::Value => MovedHow::Value,
        },
        _ => MovedHow::Value,
    };
    let how = match (is_missing(old), is_missing(new)) {
        (false, true) => MovedHow::Lost,
        (true, false) => MovedHow::Found,
        // What lacks is said of an input already, wherever that has changed.
        (true, true) => return None,
        (false, false) => how,
    };
    let (before, after) = match (old, new) {
        (Some(old), Some(new)) => {
            let (a, b) = texts(old, new);
            (Some(a), Some(b))
        }
        (old, new) => {
            let text = |side: (&Book, &Entry)| AsRead::result(side.0, side.1);
            (old.map(text), new.map(text))
        }
    };
    let base = |side: (&Book, &Entry)| match side.1.outcome {
        Outcome::Amount { base, .. } | Outcome::Vector { base, .. } | Outcome::ToSet { base, .. } => Some(base),
        Outcome::Count(count) => Some(f64::from(count)),
        _ => None,
    };
    let amounts = old.and_then(base).zip(new.and_then(base));
    let is_void = new.is_some_and(|(_, entry)| matches!(entry.outcome, Outcome::Void(_)));
    let spec = new.or(old).map(|(_, entry)| entry.spec);
    let item = name.clone();
    Some(Moved { item, path, spec, old: before, new: after, how, amounts, is_void, is_pinned: false, pinned: None })
}

fn path_of(entry: &Entry) -> Vec<String> {
    entry.path.headings().chain([entry.name().into_owned()]).collect()
}

/// The path of an old result in the names of the new book.
fn path_now(entry: &Entry, renames: &Renames) -> Vec<String> {
    let mut path = path_of(entry);
    if !renames.is_empty() {
        let last = path.len() - 1;
        for block in &mut path[..last] {
            let part = block.strip_prefix(Kind::MadeOf.words()).and_then(|name| name.strip_prefix(' '));
            if let Some(part) = part {
                *block = format!("{} {}", Kind::MadeOf, renames.name_now(Kind::Rotor, part));
            }
        }
    }
    path
}
