//! Released sheets that say something else under the same revision.

use super::{Alert, AlertCode, Looked};
use crate::book::{Book, ItemId};
use crate::diff::book::ItemName;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::setup::{self, Status};

/// The setup itself, and every setup whose results moved because of the item.
pub(super) fn unrevised(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let mut setups: Vec<(ItemName, Option<ItemId>, Option<ItemId>)> = Vec::new();
    let says_otherwise = !looked.diff.facts.is_empty() || !looked.pins.is_empty();
    if looked.diff.item.kind == Kind::Setup && says_otherwise {
        setups.push((looked.diff.item.clone(), looked.pair.old, looked.pair.new));
    }
    for moved in looked.diff.results.iter().filter(|moved| moved.item.kind == Kind::Setup) {
        if setups.iter().any(|(item, ..)| *item == moved.item) {
            continue;
        }
        let (old, new) = match moved.item == looked.diff.item {
            true => (looked.pair.old, looked.pair.new),
            false => (find(looked.old, &moved.item), find(looked.new, &moved.item)),
        };
        setups.push((moved.item.clone(), old, new));
    }
    for (item, old, new) in setups {
        let (Some(old), Some(new)) = (old, new) else { continue };
        let (before, after) = (revision(looked.old, old), revision(looked.new, new));
        if is_released(looked.old, old) && is_released(looked.new, new) && (before == after || after.is_none()) {
            let note = match after {
                Some(revision) => format!("its revision is still \"{revision}\""),
                None if before.is_some() => "it states no revision any longer".to_owned(),
                None => "it states no revision".to_owned(),
            };
            alerts.push(Alert::new(AlertCode::ReleasedWithoutNewRevision, &item, &[]).note(note));
        }
    }
}

/// A released setup is no longer in the book.
pub(super) fn removed(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let (Some(old), None, Kind::Setup) = (looked.pair.old, looked.pair.new, looked.diff.item.kind) else { return };
    if !is_released(looked.old, old) {
        return;
    }
    let alert = Alert::new(AlertCode::ReleasedRemoved, &looked.diff.item, &[]);
    alerts.push(match revision(looked.old, old) {
        Some(revision) => alert.note(format!("its revision was \"{revision}\"")),
        None => alert,
    });
}

fn find(book: &Book, item: &ItemName) -> Option<ItemId> {
    book.find(item.kind, &item.name).ok()
}

fn is_released(book: &Book, id: ItemId) -> bool {
    book.item(id).choice(setup::STATUS) == Some(Status::Released)
}

/// The revision that a setup states.
fn revision(book: &Book, id: ItemId) -> Option<String> {
    match &book.item(id).field(setup::REVISION)?.value {
        FieldValue::Text(text) => Some(text.to_string()),
        _ => None,
    }
}
