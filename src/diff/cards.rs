//! What the cards of a released sheet and of a record say otherwise.

use super::attribution::Causes;
use super::book::ItemName;
use super::renames::Renames;
use super::results::Moved;
use crate::book::{Book, Computed, ItemId};
use crate::card::{self, CardChange, CardChangeKind};
use crate::sheet::FieldValue;
use crate::vocabulary::setup;

/// The card of one item in two versions.
#[derive(Clone, Debug)]
pub struct CardDiff {
    pub item: ItemName,
    /// The item in the old book and in the new one.
    pub ids: (ItemId, ItemId),
    /// What it says otherwise, in the order of the card.
    pub changes: Vec<CardChange>,
    /// Whether technicians may work by it, before and after; always of a record.
    pub released: (bool, bool),
    /// Whether it is of a setup whose calibration is void.
    pub is_void: bool,
    /// The revision that it states, before and after.
    pub revision: (Option<String>, Option<String>),
    /// The largest ratio by which a result of the item grew or shrank, 1 where none did.
    pub ratio: f64,
    pub because: Causes,
}

/// One side of a comparison.
#[derive(Clone, Copy)]
pub(super) struct Version<'c, 'b> {
    pub book: &'b Book,
    pub item: ItemId,
    pub computed: &'c Computed<'b>,
}

impl CardDiff {
    /// Whether a hand does something else by it, and not only what is said of the sheet itself; nobody works by a sheet
    /// that is no longer released.
    pub fn is_done_otherwise(&self) -> bool {
        self.released == (true, false) || self.changes.iter().any(|change| change.what != CardChangeKind::Document)
    }

    /// Whether it says something else only because something was done and written down: a service, a check.
    pub fn is_bookkeeping(&self) -> bool {
        !self.because.is_empty() && self.because.iter().all(|one| one.is_bookkeeping)
    }

    /// Whether it is released before and after, and says something else under the same revision.
    pub fn is_unrevised(&self) -> bool {
        let same = self.revision.0 == self.revision.1 || self.revision.1.is_none();
        // Whether it may be used is nothing that the sheet says.
        self.released == (true, true) && same && self.changes.iter().any(|change| change.of != card::STAMP)
    }
}

/// The cards of a setup that is released in either version, or of a record; `None` where they say the same.
pub(super) fn between(
    name: &ItemName,
    old: Version<'_, '_>,
    new: Version<'_, '_>,
    renames: &Renames,
) -> Option<CardDiff> {
    if !is_used(old.computed) && !is_used(new.computed) {
        return None;
    }
    let alike = alike(name, old, new);
    let card = |version: Version<'_, '_>| card::to_compare(version.book, version.computed, version.item);
    let names = renames.on_its_card();
    let both = [card(old)?, card(new)?];
    let mut changes = card::changes(&both[0], &both[1], &names);
    if alike.released == (true, false) {
        let word = |card: &card::Card| card.sides.first()?.stamp.as_ref().map(|stamp| stamp.word.to_string());
        changes.retain(|change| change.of != card::STAMP);
        changes.insert(0, headed(card::STAMP, both.each_ref().map(|card| word(card).unwrap_or_default())));
    }
    if matches!(new.computed, Computed::Record(_)) {
        // Of which revision its sheet is now is told of the sheet, and its own facts as facts.
        let stays = |change: &CardChange| change.of == card::STAMP || change.section == card::FOOT;
        changes.retain(|change| change.what != CardChangeKind::Document || stays(change));
        // A name says nothing of what was measured.
        let is_name = |change: &CardChange| {
            let both = change.old.as_deref().zip(change.new.as_deref());
            both.is_some_and(|both| names.iter().any(|one| (one.was, one.is) == both))
        };
        changes.retain(|change| !is_name(change));
    }
    if matches!(new.computed, Computed::Setup(_)) {
        let names = [old, new].map(|version| version.book.item(version.item).name_text().to_owned());
        if names[0] != names[1] {
            // Whoever holds the card looks for the sheet by them.
            let code = |version: Version<'_, '_>| match version.computed {
                Computed::Setup(setup) => card::code(version.book, setup),
                _ => String::new(),
            };
            let codes = [old, new].map(code);
            changes.splice(0..0, [("title", names), ("code", codes)].map(|(of, both)| headed(of, both)));
        }
    }
    let is_acted = alike.released.0 != alike.released.1 || alike.revision.0 != alike.revision.1;
    (!changes.is_empty() || is_acted).then_some(CardDiff { changes, ..alike })
}

/// Whether people go by the card: of a released setup, and of any record.
pub(super) fn is_used(computed: &Computed<'_>) -> bool {
    match computed {
        Computed::Setup(setup) => setup.is_released(),
        Computed::Record(_) => true,
        _ => false,
    }
}

/// The cards of an item that say the same.
pub(super) fn alike(name: &ItemName, old: Version<'_, '_>, new: Version<'_, '_>) -> CardDiff {
    CardDiff {
        item: name.clone(),
        ids: (old.item, new.item),
        changes: Vec::new(),
        released: (is_used(old.computed), is_used(new.computed)),
        is_void: matches!(new.computed, Computed::Setup(setup) if !setup.void_causes.is_empty()),
        revision: (revision(old), revision(new)),
        ratio: 1.0,
        because: Causes::new(),
    }
}

/// What is at the head of every side.
fn headed(of: &str, [old, new]: [String; 2]) -> CardChange {
    CardChange {
        side: "Run card",
        section: String::new(),
        of: of.to_owned(),
        old: Some(old),
        new: Some(new),
        what: CardChangeKind::Value,
        is_set: false,
        about: None,
    }
}

/// The revision that a setup states.
fn revision(version: Version<'_, '_>) -> Option<String> {
    revision_of(version.book, version.item)
}

pub(super) fn revision_of(book: &Book, item: ItemId) -> Option<String> {
    match &book.item(item).field(setup::REVISION)?.value {
        FieldValue::Text(text) => Some(text.to_string()),
        _ => None,
    }
}

/// By how much the results of an item grew or shrank at most.
pub(super) fn largest_ratio(moved: &[Moved]) -> f64 {
    moved.iter().filter_map(Moved::ratio).map(|ratio| ratio.max(1.0 / ratio)).fold(1.0, f64::max)
}
