//! The results of an item in two books.

use std::sync::Arc;

use rayon::prelude::*;

use super::attribution::{Causes, Changed};
use super::book::ItemName;
use super::cards::{self, CardDiff, Version};
use super::outcome::{AsRead, Differs, differs, texts};
use super::pairs::Pair;
use super::renames::Renames;
use crate::book::{Book, Computed, Computing, Difference, Entry, ItemId, Outcome, RecordedComputing, Step, heading};
use crate::card::Scope;
use crate::check::{self, Diagnostic};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::with_names;
use crate::units::Unit;
use crate::vocabulary::setup::{self, Status};
use crate::vocabulary::{Of, ResultSpec, result};

/// A result that is not what it was.
#[derive(Clone, Debug)]
pub struct Moved {
    pub item: ItemName,
    /// The blocks it is in, then its name.
    pub path: Vec<String>,
    /// Which result it is; `None` for a pin of a name that is none.
    pub spec: Option<&'static ResultSpec>,
    /// As people read it; `None` where there is no such result.
    pub old: Option<AsRead>,
    pub new: Option<AsRead>,
    pub how: MovedHow,
    /// Whether it went with its block; a result of a named plane, channel or control that is gone is taken to have gone with
    /// that name.
    pub went_along: bool,
    /// In base units, where both are amounts.
    pub amounts: Option<(f64, f64)>,
    /// Whether it is pinned in the text of the new book.
    pub is_pinned: bool,
    /// Whether it is a calibration that held before and no longer does.
    pub is_void: bool,
    /// Whether it is a table: what it says is said by what it is made of.
    pub is_table: bool,
    /// What is pinned of it in the text, before and after, where that changed.
    pub pinned: Option<(Option<String>, Option<String>)>,
    /// In what unit people read it.
    pub unit: Option<Unit>,
    /// The changed facts that it was worked out from.
    pub because: Causes,
}

impl Moved {
    /// How many times as large it is now, where both are amounts above zero.
    pub fn ratio(&self) -> Option<f64> {
        let (old, new) = self.amounts.filter(|_| self.how == MovedHow::Value)?;
        (old > 0.0 && new > 0.0).then(|| new / old)
    }
}

/// What became of one item.
#[derive(Default)]
pub(super) struct ItemOutcome {
    pub moved: Vec<Moved>,
    pub card: Option<CardDiff>,
    /// What the check says of it, before and after, where that was asked for and a change can have reached it.
    pub said: Option<(Vec<Diagnostic>, Vec<Diagnostic>)>,
    /// What its card answers for in either version, where people go by that card.
    pub answers_for: Option<(Scope, Scope)>,
}

/// The computing of both books.
#[derive(Clone, Copy)]
pub(super) struct Both<'c, 'b> {
    pub old: &'c Computing<'b>,
    pub new: &'c RecordedComputing<'b>,
    /// Whether what is worked out is also judged, while it is there.
    pub judged: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum MovedHow {
    Value,
    /// Only what comes after `±`.
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
    Both { old, new, judged }: Both<'_, '_>,
    pairs: &[Pair],
    same_text: &[bool],
    difference: &Difference,
    renames: &Renames,
    changed: &Changed<'_>,
) -> Vec<(usize, ItemOutcome)> {
    let after_book = new.unrecorded().book();
    let stands = |(n, pair): (usize, &Pair)| Some((n, pair.old, pair.new?));
    let items: Vec<(usize, Option<ItemId>, ItemId)> = pairs.iter().enumerate().filter_map(stands).collect();
    let one = |(n, before, after): &(usize, Option<ItemId>, ItemId)| {
        if before.is_none() && !judged {
            return None;
        }
        // By a sheet that nobody may go by, tables and limits to read are worth no work: what they follow from is compared.
        let is_draft = is_draft(after_book, *after) && before.is_none_or(|before| is_draft(old.book(), before));
        let ((computed, said_now), lookups) = new.record(|own| {
            let computed = worked_out(own, *after, is_draft);
            let said = if judged { check::judge_item(own, *after, &computed) } else { Vec::new() };
            (computed, said)
        });
        if same_text[*n] && !difference.touches(&lookups) {
            return None;
        }
        let Some(before) = before else {
            return Some((*n, ItemOutcome { said: Some((Vec::new(), said_now)), ..ItemOutcome::default() }));
        };
        let was = worked_out(old, *before, is_draft);
        let said = judged.then(|| (check::judge_item(old, *before, &was), said_now));
        let name = ItemName::of(after_book, *after);
        let under = changed.under(*n);
        let item = after_book.item(*after);
        let sides = Sides { name: &name, item, old: old.book(), new: after_book, changed, under: &under };
        let here = renames.within(old.book(), *before);
        let mut found = sides.compare(&compared(&was, is_draft), &compared(&computed, is_draft), &here);
        if !found.is_empty() {
            mark_pinned(item, &mut Vec::new(), &mut found);
        }
        let version = Version { book: old.book(), item: *before, computed: &was };
        let version_now = Version { book: after_book, item: *after, computed: &computed };
        let card = cards::between(&name, version, version_now, &here);
        let card = card.map(|mut card| {
            card.ratio = cards::largest_ratio(&found);
            card.because = sides.because(&found);
            card
        });
        let scope = |version: Version<'_, '_>| Scope::of(version.book, version.computed, version.item);
        let is_used = judged && (cards::is_used(&was) || cards::is_used(&computed));
        let answers_for = is_used.then(|| (scope(version), scope(version_now)));
        let outcome = ItemOutcome { moved: found, card, said, answers_for };
        (!outcome.moved.is_empty() || outcome.card.is_some() || judged).then_some((*n, outcome))
    };
    items.par_iter().with_min_len(4).filter_map(one).collect()
}

/// Whether an item is a setup that is not released, and nothing is pinned of what only a card needs.
fn is_draft(book: &Book, id: ItemId) -> bool {
    let item = book.item(id);
    let pins = || item.pins.iter().any(|pin| pin.name.starts_with(result::LIMIT_TO_READ.name));
    item.kind == Kind::Setup && item.choice(setup::STATUS) != Some(Status::Released) && !pins()
}

fn worked_out<'b>(computing: &Computing<'b>, id: ItemId, is_draft: bool) -> Computed<'b> {
    if is_draft { computing.item_judged(id) } else { computing.item(id) }
}

/// The results that are compared; of a draft those that are worked out wherever a book is judged.
fn compared<'c>(computed: &'c Computed<'_>, is_draft: bool) -> Vec<&'c Entry> {
    let is_judged = |entry: &&Entry| !entry.is(&result::DIVISION_TABLE) && !entry.is(&result::LIMIT_TO_READ);
    computed.entries().iter().filter(|entry| !is_draft || is_judged(entry)).collect()
}

/// Marks the results that are in the text of a block.
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

/// Both versions of an item, with what changed in all that it rests on.
struct Sides<'s> {
    name: &'s ItemName,
    /// As it is now.
    item: &'s Block,
    old: &'s Book,
    new: &'s Book,
    changed: &'s Changed<'s>,
    under: &'s [usize],
}

impl Sides<'_> {
    /// Compares results by where they stand and what they are called.
    fn compare(&self, old: &[&Entry], new: &[&Entry], renames: &Renames) -> Vec<Moved> {
        let mut waiting: Vec<Option<(Vec<String>, &Entry)>> =
            old.iter().map(|entry| Some((path_now(entry, renames), *entry))).collect();
        let mut found = Vec::new();
        // Results mostly stand where they stood, so that the next one waiting is the one looked for.
        let mut next = 0;
        for entry in new {
            let path = path_of(entry);
            let is_it =
                |waiting: &Option<(Vec<String>, &Entry)>| waiting.as_ref().is_some_and(|(other, _)| *other == path);
            let at = (next..waiting.len()).chain(0..next.min(waiting.len())).find(|at| is_it(&waiting[*at]));
            let was = at.and_then(|at| {
                next = at + 1;
                waiting[at].take()
            });
            let was = was.map(|(_, was)| was);
            if !was.is_some_and(|was| is_called_otherwise(was, entry, renames)) {
                found.extend(self.moved_from(path, was, Some(entry)));
            }
        }
        for (path, entry) in waiting.into_iter().flatten() {
            found.extend(self.moved_from(path, Some(entry), None));
        }
        found
    }

    fn moved_from(&self, path: Vec<String>, old: Option<&Entry>, new: Option<&Entry>) -> Option<Moved> {
        let is_missing = |side: Option<&Entry>| side.is_none_or(|entry| matches!(entry.outcome, Outcome::Missing(_)));
        let how = match (old, new) {
            (Some(old), Some(new)) => match differs(&old.outcome, &new.outcome) {
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
            (Some(a), Some(b)) => {
                let (a, b) = texts((self.old, a), (self.new, b));
                (Some(a), Some(b))
            }
            (a, b) => (a.map(|a| AsRead::result(self.old, a)), b.map(|b| AsRead::result(self.new, b))),
        };
        let is_void = |side: Option<&Entry>| side.is_some_and(|entry| matches!(entry.outcome, Outcome::Void(_)));
        Some(Moved {
            item: self.name.clone(),
            went_along: old.is_some_and(|old| new.is_none() && self.is_gone(old, &path)),
            path,
            spec: new.or(old).map(|entry| entry.spec),
            old: before,
            new: after,
            how,
            amounts: old.and_then(base).zip(new.and_then(base)),
            is_void: is_void(new) && !is_void(old),
            is_table: new.or(old).is_some_and(|entry| matches!(entry.outcome, Outcome::Table { .. })),
            is_pinned: false,
            pinned: None,
            unit: new.or(old).and_then(unit),
            because: self.changed.causes(self.under, old, new),
        })
    }

    /// Whether an old result that is gone went with its block or its name. `path` is in the names of the new book.
    fn is_gone(&self, old: &Entry, path: &[String]) -> bool {
        let blocks = &path[..path.len() - 1];
        let block =
            blocks.iter().try_fold(self.item, |block, name| block.blocks.iter().find(|inner| heading(inner) == *name));
        let is_of_a_name = !matches!(old.of, None | Some(Of::Bearing(_) | Of::Static | Of::Couple));
        block.is_none() || is_of_a_name
    }

    /// Why the card of the item is another: by what moved its results, else by any change that it rests on.
    fn because(&self, moved: &[Moved]) -> Causes {
        let mut all = Causes::new();
        for one in moved.iter().flat_map(|moved| &moved.because) {
            if !all.iter().any(|other| Arc::ptr_eq(other, one)) {
                all.push(one.clone());
            }
        }
        if all.is_empty() { self.changed.anything(self.under) } else { all }
    }
}

/// Whether words differ by nothing but the names of planes, controls and channels.
fn is_called_otherwise(was: &Entry, now: &Entry, renames: &Renames) -> bool {
    let names = renames.of_the_item();
    match (&was.outcome, &now.outcome) {
        (Outcome::Words(a), Outcome::Words(b)) if !names.is_empty() => with_names(a, &names) == **b,
        _ => false,
    }
}

fn base(entry: &Entry) -> Option<f64> {
    match entry.outcome {
        Outcome::Amount { base, .. } | Outcome::Vector { base, .. } | Outcome::ToSet { base, .. } => Some(base),
        Outcome::Count(count) => Some(f64::from(count)),
        _ => None,
    }
}

fn unit(entry: &Entry) -> Option<Unit> {
    match entry.outcome {
        Outcome::Amount { unit, .. } | Outcome::Vector { unit, .. } | Outcome::ToSet { unit, .. } => Some(unit),
        Outcome::Count(_) => Some(Unit::ONE),
        _ => None,
    }
}

fn path_of(entry: &Entry) -> Vec<String> {
    entry.path.headings().chain([entry.name().into_owned()]).collect()
}

/// The path of an old result in the names of the new book.
fn path_now(entry: &Entry, renames: &Renames) -> Vec<String> {
    if renames.is_empty() {
        return path_of(entry);
    }
    let heading = |step: &Step| match &step.name {
        Some(name) => Step::named(step.kind, renames.block_now(step.kind, name)).to_string(),
        None => step.to_string(),
    };
    let of = entry.of.as_ref().map(|of| renames.of_now(of));
    entry.path.blocks().map(heading).chain([entry.spec.named(of.as_ref()).into_owned()]).collect()
}
