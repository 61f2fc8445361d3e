//! Records, which are measured and signed: any change of one is told.

use super::{Alert, AlertCode, Looked};
use crate::card::{CardChange, CardChangeKind, STAMP};
use crate::diff::cards::CardDiff;
use crate::diff::facts::{FactChange, FactChangeKind};
use crate::syntax::Kind;
use crate::vocabulary::correction;

/// Its own facts are others.
pub(super) fn altered(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    if looked.diff.item.kind != Kind::Record {
        return;
    }
    // What was said is another thing; what is said for the first time may complete it.
    let facts = &looked.diff.facts;
    let Some(first) = facts.iter().find(|fact| fact.old.is_some()).or(facts.first()) else { return };
    let alert = Alert::new(AlertCode::RecordAltered, &looked.diff.item, &first.path).values(&first.old, &first.new);
    // Of a correction that is gone, what was cut or put on says more than after which run.
    let of_first =
        |fact: &&FactChange| fact.path.split_last().map(|(_, at)| at) == first.path.split_last().map(|(_, at)| at);
    let is_gone = first.within == Kind::Correction
        && facts.iter().filter(of_first).all(|fact| fact.change == FactChangeKind::Removed);
    if is_gone {
        let at = &first.path[..first.path.len() - 1];
        let said = |fact: &FactChange| Some(format!("{} {}", fact.path.last()?, fact.old.as_ref()?));
        let work = facts.iter().filter(of_first).filter(|fact| !fact.is(correction::AFTER)).filter_map(said);
        let work = work.collect::<Vec<_>>().join(", ");
        alerts.push(Alert::new(AlertCode::RecordAltered, &looked.diff.item, at).note(format!("gone: {work}")));
        return;
    }
    alerts.push(match facts.len() - 1 {
        0 => alert,
        1 => alert.note("and 1 more fact"),
        more => alert.note(format!("and {more} more facts")),
    });
}

pub(super) fn removed(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    if looked.diff.item.kind == Kind::Record && looked.pair.new.is_none() {
        alerts.push(Alert::new(AlertCode::RecordRemoved, &looked.diff.item, &[]));
    }
}

/// Records that say something else because of other items.
pub(super) fn read_otherwise(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let is_own = |card: &CardDiff| card.item == looked.diff.item && !looked.diff.facts.is_empty();
    for card in looked.diff.cards.iter().filter(|card| card.item.kind == Kind::Record && !is_own(card)) {
        let is_told = |one: &Alert| one.code == AlertCode::VerdictChanged && one.item == card.item;
        let is_barred = |change: &&CardChange| change.of == STAMP && change.what == CardChangeKind::Sentence;
        let mut changes = card.changes.iter().filter(|change| !is_barred(change));
        let Some(first) = changes.next().filter(|_| !alerts.iter().any(is_told)) else { continue };
        let rest = match changes.count() {
            0 => String::new(),
            more => format!("; and {more} more"),
        };
        let alert = Alert::new(AlertCode::RecordReadsOtherwise, &card.item, &[]);
        alerts.push(alert.note(format!("{first}{rest}")).ratio(Some(card.ratio)));
    }
}
