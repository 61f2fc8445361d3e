//! Items, cards and alerts that changed alike, told together: what stands out comes before what many have in common.

use std::collections::HashMap;
use std::hash::Hash;

use crate::card::{CardChange, CardChangeKind};
use crate::diff::{Alert, AlertCode, CardDiff, FactChange, FactChangeKind, ItemDiff};

/// So many that changed alike are a change of the whole book, and come after all others.
const MANY: usize = 8;

/// Items that change alike are told one by one up to so many.
const FEW: usize = 3;

/// Things of one signature together: those that few have in common first, else in their order.
fn by<'d, T, S: Eq + Hash + Clone>(
    things: impl Iterator<Item = &'d T>,
    signature: impl Fn(&'d T) -> S,
) -> Vec<Vec<&'d T>> {
    let mut groups: Vec<Vec<&'d T>> = Vec::new();
    let mut known: HashMap<S, usize> = HashMap::new();
    for thing in things {
        let at = *known.entry(signature(thing)).or_insert(groups.len());
        match groups.get_mut(at) {
            Some(group) => group.push(thing),
            None => groups.push(vec![thing]),
        }
    }
    groups.sort_by_key(|group| group.len() > MANY);
    groups
}

/// About how many times as large something is: within some five per cent.
fn about(ratio: f64) -> i32 {
    (ratio.ln() / 0.05).round() as i32
}

/// Changed items; with `all`, each by itself.
pub(super) fn items(items: &[ItemDiff], all: bool) -> Vec<Vec<&ItemDiff>> {
    if all {
        return items.iter().map(|item| vec![item]).collect();
    }
    let groups = by(items.iter(), |item| {
        let mut alerts: Vec<_> = item.alerts.iter().map(|alert| alert.code).collect();
        alerts.sort_unstable();
        alerts.dedup();
        let facts: Vec<_> = match item.change.word() {
            "added" | "removed" => Vec::new(),
            _ => item.facts.iter().map(fact).collect(),
        };
        (item.item.kind, item.change.word(), alerts, facts)
    });
    groups.into_iter().flat_map(split).collect()
}

/// Each by itself where they are few.
fn split(group: Vec<&ItemDiff>) -> Vec<Vec<&ItemDiff>> {
    match group.len() > FEW {
        true => vec![group],
        false => group.into_iter().map(|item| vec![item]).collect(),
    }
}

/// What a changed fact has in common with others: where it is, and about how much, or what is said.
fn fact(fact: &FactChange) -> (&[String], &'static str, Option<i32>, [Option<&str>; 2]) {
    let ratio = fact.ratio().filter(|_| fact.change == FactChangeKind::Changed).map(about);
    let said = match ratio {
        Some(_) => [None, None],
        None => [fact.old.as_deref(), fact.new.as_deref()],
    };
    (&fact.path, fact.change.word(), ratio, said)
}

/// Cards of released sheets.
pub(super) fn cards<'d>(cards: &[&'d CardDiff]) -> Vec<Vec<&'d CardDiff>> {
    by(cards.iter().copied(), |card| {
        let of = |change: &'d CardChange| {
            let letters: String = change.of.chars().filter(|c| !c.is_ascii_digit()).collect();
            let is_sentence = change.what == CardChangeKind::Sentence;
            let said = |side: &'d Option<String>| side.as_deref().filter(|_| is_sentence);
            (change.what, letters, [said(&change.old), said(&change.new)])
        };
        let mut changes: Vec<_> = card.changes.iter().map(of).collect();
        changes.sort();
        changes.dedup();
        (about(card.ratio), changes)
    })
}

/// Alerts, which are in the order of their codes.
pub(super) fn alerts<'d>(alerts: &[&'d Alert]) -> Vec<Vec<&'d Alert>> {
    let mut groups = by(alerts.iter().copied(), |alert| {
        let ratio = alert.ratio.map(about);
        let said = |side: &Option<crate::diff::AsRead>| {
            let text = side.as_deref().filter(|_| ratio.is_none())?;
            // Void for one reason, whatever the day of each proof.
            let is_void = alert.code == AlertCode::CalibrationVoid;
            Some(text.chars().filter(|c| !is_void || !c.is_ascii_digit()).collect::<String>())
        };
        // What each record says is its own.
        let note = alert.note.as_ref().filter(|_| alert.code != AlertCode::RecordReadsOtherwise);
        (alert.code, &alert.path, note, ratio, [said(&alert.old), said(&alert.new)])
    });
    groups.sort_by_key(|group| group.first().map(|alert| alert.code));
    groups
}
