//! Released sheets whose card says something else under the same revision, and what is released, withdrawn or gone.

use super::{Alert, AlertCode, Looked};
use crate::diff::cards::{CardDiff, revision_of};
use crate::syntax::Kind;
use crate::vocabulary::setup::{self, Status};

/// The cards of setups that say something else because of the item.
pub(super) fn cards(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let setups = looked.diff.cards.iter().filter(|card| card.item.kind == Kind::Setup);
    for card in setups {
        let alert = |code| Alert::new(code, &card.item, &[]);
        let (before, after) = &card.revision;
        match card.released {
            (true, true) if card.is_unrevised() => {
                let alert = alert(AlertCode::ReleasedWithoutNewRevision);
                alerts.push(alert.note(unrevised(card)).ratio(Some(card.ratio)));
            }
            (true, true) if before != after => {
                let was = before.as_deref().unwrap_or_default();
                let note = format!("revision \"{}\", was \"{was}\"", after.as_deref().unwrap_or_default());
                alerts.push(alert(AlertCode::SheetReleased).note(note));
            }
            (true, false) => alerts.push(with_revision(alert(AlertCode::ReleaseWithdrawn), before.as_deref())),
            (false, true) => alerts.push(with_revision(alert(AlertCode::SheetReleased), after.as_deref())),
            _ => {}
        }
    }
}

fn unrevised(card: &CardDiff) -> String {
    match &card.revision {
        (_, Some(revision)) => format!("its revision is still \"{revision}\""),
        (Some(_), None) => "it states no revision any longer".to_owned(),
        (None, None) => "it states no revision".to_owned(),
    }
}

fn with_revision(alert: Alert, revision: Option<&str>) -> Alert {
    match revision {
        Some(revision) => alert.note(format!("revision \"{revision}\"")),
        None => alert.note("without a revision"),
    }
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
