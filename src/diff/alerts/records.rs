//! Records, which are measured and signed: any change of one is told.

use super::{Alert, AlertCode, Looked, measured};
use crate::card::{CardChange, CardChangeKind, STAMP};
use crate::diff::cards::CardDiff;
use crate::diff::facts::{FactChange, Written};
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::{Silent, Standing};

/// What it said is named fact by fact where it reads otherwise; what is only added at its end continues it.
pub(super) fn altered(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let (Some(old), Some(new)) = (looked.pair.old, looked.pair.new) else { return };
    if looked.diff.item.kind != Kind::Record {
        return;
    }
    let end = End::of(looked, looked.old.item(old), looked.new.item(new));
    let (continued, altered): (Vec<&FactChange>, Vec<&FactChange>) =
        looked.diff.facts.iter().partition(|fact| end.continues(fact));
    alerts.extend(measured::said_otherwise(looked, AlertCode::RecordAltered, &altered));
    let Some(first) = continued.first() else { return };
    let mut at: Vec<String> = Vec::new();
    for fact in &continued {
        let place = if fact.path.len() > 1 { &fact.path[..1] } else { &fact.path[..] };
        if !at.contains(&place[0]) {
            at.push(place[0].clone());
        }
    }
    let alert = Alert::new(AlertCode::RecordContinued, &looked.diff.item, &[]);
    alerts.push(match continued.len() {
        1 => Alert { path: first.path.clone(), ..alert }.values(&first.old, &first.new),
        _ => alert.note(at.join(", ")),
    });
}

/// Where a record ended, and what may come after that.
struct End<'b> {
    /// Its last run or correction, as it is now, and those that have come after it.
    last: Option<&'b Block>,
    come: Vec<&'b Block>,
}

impl<'b> End<'b> {
    fn of(looked: &Looked<'_>, old: &Block, new: &'b Block) -> Self {
        let is_work = |block: &&Block| matches!(block.kind, Kind::Run | Kind::Correction);
        let renames = match looked.pair.old {
            Some(id) => looked.renames.within(looked.old, id),
            None => looked.renames.clone(),
        };
        let before: Vec<(Kind, &str)> = old
            .blocks
            .iter()
            .filter(is_work)
            .map(|block| (block.kind, renames.block_now(block.kind, block.name_text())))
            .collect();
        let now: Vec<&Block> = new.blocks.iter().filter(is_work).collect();
        let stays =
            before.len() <= now.len() && before.iter().zip(&now).all(|(was, is)| *was == (is.kind, is.name_text()));
        match stays {
            true => {
                Self { last: before.len().checked_sub(1).map(|last| now[last]), come: now[before.len()..].to_vec() }
            }
            false => Self { last: None, come: Vec::new() },
        }
    }

    /// Whether a fact only goes on after what was said.
    fn continues(&self, fact: &FactChange) -> bool {
        if fact.old.is_some() && !matches!(fact.values.0, Some(FieldValue::Unknown)) {
            return false;
        }
        let is_within =
            |block: &Block, (_, span): Written| block.span.start <= span.start && span.end <= block.span.end;
        let is_of_new = match fact.places.1 {
            Some(place) => self.come.iter().any(|block| is_within(block, place)),
            None => self.come.iter().any(|block| fact.path.first() == Some(&crate::book::heading(block))),
        };
        let is_signature = || {
            let silent = fact.key.and_then(|key| key.silent);
            matches!(silent, Some(Silent::Identity | Silent::Remark))
        };
        let is_measured = || fact.key.is_some_and(|key| key.standing == Standing::Measured);
        let is_of_last = || self.last.zip(fact.places.1).is_some_and(|(last, place)| is_within(last, place));
        let was_open = fact.old.is_some();
        is_of_new || was_open || is_signature() || (is_measured() && is_of_last())
    }
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
        let changes: Vec<&CardChange> = card.changes.iter().filter(|change| !is_barred(change)).collect();
        // The one that moved most, else the first.
        let most = changes.iter().rev().max_by(|a, b| a.reach().total_cmp(&b.reach()));
        let Some(first) = most.filter(|_| !alerts.iter().any(is_told)) else { continue };
        let rest = match changes.len() - 1 {
            0 => String::new(),
            more => format!("; and {more} more"),
        };
        let alert = Alert::new(AlertCode::RecordReadsOtherwise, &card.item, &[]);
        alerts.push(alert.note(format!("{first}{rest}")).ratio(Some(card.ratio)));
    }
}
