//! Released sheets whose card says something else under the same revision, and what is released, withdrawn or gone.

use std::cmp::Ordering;

use super::broken::CHECK_MASS_OUT;
use super::{Alert, AlertCode, Looked};
use crate::book::revision_order;
use crate::card::{CardChange, CardChangeKind, STAMP};
use crate::diff::cards::{CardDiff, revision_of};
use crate::diff::findings::NewFinding;
use crate::syntax::Kind;
use crate::vocabulary::setup::{self, Status};
use crate::vocabulary::{check_mass, machine};

/// The cards of setups that say something else because of the item.
pub(super) fn cards(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let setups = looked.diff.cards.iter().filter(|card| card.item.kind == Kind::Setup);
    for card in setups {
        let alert = |code| Alert::new(code, &card.item, &[]);
        let (before, after) = &card.revision;
        match card.released {
            // That it must be proven again is told already, and is nothing that the sheet says.
            (true, true) if card.is_unrevised() && is_written_down(looked) && is_barred(looked, card, alerts) => {}
            (true, true) if card.is_unrevised() => {
                let alert = alert(AlertCode::ReleasedWithoutNewRevision).ratio(Some(card.ratio));
                alerts.push(match unrevised(card) {
                    Some(note) => alert.note(note),
                    None => alert,
                });
            }
            (true, true) if before != after => {
                let was = before.as_deref().unwrap_or_default();
                let is = after.as_deref().unwrap_or_default();
                let code = match revision_order(is, was) {
                    Some(Ordering::Less | Ordering::Equal) => AlertCode::RevisionGoesBack,
                    _ => AlertCode::SheetReleased,
                };
                alerts.push(alert(code).note(format!("revision \"{is}\", was \"{was}\"{}", while_void(card))));
            }
            (true, false) => alerts.push(with_revision(alert(AlertCode::ReleaseWithdrawn), before.as_deref())),
            (false, true) => {
                let (code, back) = match was_withdrawn(looked, card) {
                    true if before == after => {
                        (AlertCode::ReleasedWithoutNewRevision, ", back in use after it was withdrawn")
                    }
                    true => (AlertCode::SheetReleased, ", after it was withdrawn"),
                    false => (AlertCode::SheetReleased, ""),
                };
                let revision = in_words(after.as_deref());
                alerts.push(alert(code).note(format!("{revision}{back}{}", while_void(card))));
            }
            _ => {}
        }
    }
}

/// Cards of released sheets and of records that nobody may go by any longer, or that may be gone by again, by what a check
/// finds.
pub(super) fn stamps(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    for card in &looked.diff.cards {
        let is_stamp = |change: &&CardChange| change.of == STAMP && change.what == CardChangeKind::Sentence;
        let Some(change) = card.changes.iter().find(is_stamp) else { continue };
        alerts.push(Alert::new(AlertCode::CardBarred, &card.item, &[]).values(&change.old, &change.new));
    }
}

/// Whether the sheet of a card is the one that changed, and was withdrawn before.
fn was_withdrawn(looked: &Looked<'_>, card: &CardDiff) -> bool {
    let old = looked.pair.old.filter(|_| card.item == looked.diff.item);
    old.is_some_and(|old| looked.old.item(old).choice(setup::STATUS) == Some(Status::Withdrawn))
}

/// Whether all that changed is that a machine was serviced, or a check mass put on.
fn is_written_down(looked: &Looked<'_>) -> bool {
    let facts = &looked.diff.facts;
    !facts.is_empty() && facts.iter().all(|fact| fact.is(machine::SERVICED) || fact.is(check_mass::CHECKED))
}

/// Whether it is told of a sheet that nobody may go by it.
fn is_barred(looked: &Looked<'_>, card: &CardDiff, alerts: &[Alert]) -> bool {
    let is_void = |alert: &Alert| alert.code == AlertCode::CalibrationVoid && alert.item == card.item;
    let is_outside = |one: &NewFinding| one.code == CHECK_MASS_OUT && one.item == card.item;
    alerts.iter().any(is_void) || looked.diff.findings.iter().any(is_outside)
}

/// What is wrong with its revision, and what of its head and foot is another where nothing else is.
fn unrevised(card: &CardDiff) -> Option<String> {
    let revision = match &card.revision {
        (_, Some(_)) => None,
        (Some(_), None) => Some("it states no revision any longer".to_owned()),
        (None, None) => Some("it states no revision".to_owned()),
    };
    let differs = || {
        let mut told = card.changes.iter().filter(|change| change.of != STAMP);
        let first = told.next().filter(|_| !card.is_done_otherwise())?;
        Some(match told.count() {
            0 => first.to_string(),
            more => format!("{first}; and {more} more"),
        })
    };
    revision.or_else(differs)
}

fn while_void(card: &CardDiff) -> &'static str {
    if card.is_void { ", while its calibration is void" } else { "" }
}

fn with_revision(alert: Alert, revision: Option<&str>) -> Alert {
    alert.note(in_words(revision))
}

fn in_words(revision: Option<&str>) -> String {
    revision.map_or_else(|| "without a revision".to_owned(), |revision| format!("revision \"{revision}\""))
}

/// A released setup that has come, or is no longer in the book.
pub(super) fn come_or_gone(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let (book, id, code) = match (looked.pair.old, looked.pair.new) {
        (Some(old), None) => (looked.old, old, AlertCode::ReleasedRemoved),
        (None, Some(new)) => (looked.new, new, AlertCode::SheetReleased),
        _ => return,
    };
    let item = book.item(id);
    if item.kind != Kind::Setup || item.choice(setup::STATUS) != Some(Status::Released) {
        return;
    }
    alerts.push(with_revision(Alert::new(code, &looked.diff.item, &[]), revision_of(book, id).as_deref()));
}
