//! Cards that nobody may go by any longer because a check finds errors, or that may be gone by again.

use rustc_hash::FxHashMap;

use super::attribution::Changed;
use super::book::ItemName;
use super::cards::{self, Version};
use super::findings::SaidOfPairs;
use super::pairs::Pair;
use super::results::ItemOutcome;
use crate::book::{Book, Computing, FileId, ItemId};
use crate::card::{self, BARRED, CardChange, CardChangeKind, Scope};
use crate::check::{self, Diagnostic, Severity};

/// Is told as such, with its causes.
const VOID: &str = "calibration-void";

/// Adds to the cards what is in their corner now, where errors are why.
pub(super) fn add(
    (before, after): (&Computing<'_>, &Computing<'_>),
    pairs: &[Pair],
    changed: &Changed<'_>,
    said: &SaidOfPairs,
    outcomes: &mut FxHashMap<usize, ItemOutcome>,
) {
    let mut old = Side::of(before, said.iter().filter_map(|(n, (said, _))| Some((pairs[*n].old?, said))));
    let mut new = Side::of(after, said.iter().filter_map(|(n, (_, said))| Some((pairs[*n].new?, said))));
    for (n, outcome) in outcomes.iter_mut() {
        let Some((then, now)) = outcome.answers_for.take() else { continue };
        let Some((was, is)) = pairs[*n].old.zip(pairs[*n].new) else { continue };
        let (errors_then, errors_now) = (old.reached(&then), new.reached(&now));
        // What no change has reached has the errors that it had.
        if errors_then.is_empty() == errors_now.is_empty() || new.has_errors_beside(&now) {
            continue;
        }
        let (computed_then, computed_now) = (before.item(was), after.item(is));
        let version = Version { book: before.book(), item: was, computed: &computed_then };
        let version_now = Version { book: after.book(), item: is, computed: &computed_now };
        // A calibration that is void bars a card too, and is on it.
        let stamps = stamp(version, &errors_then).zip(stamp(version_now, &errors_now));
        let Some(((_, old_word), (side, new_word))) = stamps else { continue };
        let mut card = outcome.card.take().unwrap_or_else(|| {
            let mut card = cards::alike(&ItemName::of(after.book(), is), version, version_now);
            card.because = changed.anything(&changed.under(*n));
            card
        });
        card.changes.retain(|change| change.of != card::STAMP);
        card.changes.insert(
            0,
            CardChange {
                side,
                section: String::new(),
                of: card::STAMP.to_owned(),
                old: Some(old_word),
                new: Some(new_word),
                what: CardChangeKind::Sentence,
                is_set: false,
                about: None,
            },
        );
        outcome.card = Some(card);
    }
}

/// The side of the card that it is on, and what is stamped there; `None` where it is barred without any error.
fn stamp(version: Version<'_, '_>, errors: &[String]) -> Option<(&'static str, String)> {
    let card = card::to_compare(version.book, version.computed, version.item);
    let side = card.as_ref().and_then(|card| card.sides.first());
    if side.and_then(|side| side.stamp.as_ref()).is_some_and(|stamp| stamp.word == BARRED) {
        return None;
    }
    let word = match errors {
        [] => side
            .and_then(|side| side.stamp.as_ref())
            .map_or_else(|| "no stamp".to_owned(), |stamp| stamp.word.to_string()),
        [one] => format!("{BARRED}, as the check finds an error: {one}"),
        [first, ..] => format!("{BARRED}, as the check finds {} errors, the first: {first}", errors.len()),
    };
    Some((side.map_or("", |side| side.what), word))
}

/// One version of the book, with what is found in it.
struct Side<'s, 'b> {
    computing: &'s Computing<'b>,
    /// Of items that a change has reached.
    said: FxHashMap<ItemId, &'s Vec<Diagnostic>>,
    /// Of facts, once they are asked for.
    facts: FxHashMap<FileId, Vec<Diagnostic>>,
    /// Of the book as a whole, by file.
    whole: FxHashMap<FileId, Vec<Diagnostic>>,
}

impl<'s, 'b> Side<'s, 'b> {
    fn of(computing: &'s Computing<'b>, said: impl Iterator<Item = (ItemId, &'s Vec<Diagnostic>)>) -> Self {
        let mut whole: FxHashMap<FileId, Vec<Diagnostic>> = FxHashMap::default();
        for one in check::check_book(computing.book()) {
            whole.entry(one.place.file).or_default().push(one);
        }
        Self { computing, said: said.collect(), facts: FxHashMap::default(), whole }
    }

    fn all(&self) -> &'b Book {
        self.computing.book()
    }

    /// The errors of what a card answers for, but those of items that no change has reached.
    fn reached(&mut self, scope: &Scope) -> Vec<String> {
        let book = self.all();
        let mut files: Vec<FileId> = scope.files().collect();
        files.sort_unstable();
        files.dedup();
        for file in &files {
            self.facts.entry(*file).or_insert_with(|| check::check_facts(book, *file));
        }
        let of_files = files.iter().flat_map(|file| [self.facts.get(file), self.whole.get(file)]).flatten().flatten();
        let of_items = scope.items.iter().filter_map(|id| self.said.get(id)).copied().flatten();
        let all = of_items.chain(of_files);
        let mut found: Vec<&Diagnostic> = all.filter(|one| is_error(one) && scope.holds(book, one.place)).collect();
        found.sort_by_key(|one| one.place);
        found.into_iter().map(|one| one.message.clone()).collect()
    }

    fn has_errors_beside(&self, scope: &Scope) -> bool {
        let others = scope.items.iter().filter(|id| !self.said.contains_key(id));
        others.into_iter().any(|id| {
            let found = check::check_item(self.computing, *id);
            found.iter().any(|one| is_error(one) && scope.holds(self.all(), one.place))
        })
    }
}

fn is_error(found: &Diagnostic) -> bool {
    found.severity == Severity::Error && found.rule.code != VOID
}
