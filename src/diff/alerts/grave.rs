//! Whether a change is grave, by what the vocabulary says of the fact or result.

use super::Looked;
use super::inherited::Affected;
use crate::diff::book::ItemName;
use crate::diff::facts::{FactChange, FactChangeKind};
use crate::diff::results::{Moved, MovedHow};
use crate::diff::value::{highest, lowest, near};
use crate::sheet::FieldValue;
use crate::units::Unit;
use crate::vocabulary::{AlertCode, Grave, ValueType};

impl Looked<'_> {
    /// The facts whose change is grave under this code.
    pub(super) fn grave(&self, code: AlertCode) -> impl Iterator<Item = &FactChange> {
        self.diff.facts.iter().filter(move |fact| is_grave(fact, code))
    }

    /// The same, with those that setups take over through `like`; each with the item that it now holds in.
    pub(super) fn grave_with<'l>(
        &'l self,
        affected: &'l [Affected],
        code: AlertCode,
    ) -> impl Iterator<Item = (&'l ItemName, &'l FactChange)> {
        let own = self.grave(code).map(|fact| (&self.diff.item, fact));
        let taken_over = affected.iter().flat_map(|setup| setup.facts.iter().map(|fact| (&setup.item, fact)));
        own.chain(taken_over.filter(move |(_, fact)| is_grave(fact, code)))
    }
}

/// Whether a change of a fact is grave under this code.
pub(super) fn is_grave(fact: &FactChange, code: AlertCode) -> bool {
    let is_changed = fact.change != FactChangeKind::Precision;
    match fact.key.and_then(|key| key.alerts_as(code)) {
        Some(Grave::WhenRaised) => is_raised(fact),
        Some(Grave::WhenRaisedOrRemoved) => is_raised(fact) || fact.new.is_none(),
        Some(Grave::WhenReducedOrRemoved) => is_lowered(fact) || fact.new.is_none(),
        Some(Grave::WhenWidened) => is_raised(fact) || is_lowered(fact),
        Some(Grave::WhenLowered) => stands_lower(fact),
        Some(Grave::WhenChanged) => is_changed,
        Some(Grave::WhenRemoved) => fact.change == FactChangeKind::Removed,
        // What was not known before is completed.
        Some(Grave::WhenRemovedOrChanged) => {
            is_changed && fact.old.is_some() && !matches!(fact.values.0, Some(FieldValue::Unknown))
        }
        // A fact says nothing of what no longer holds.
        Some(Grave::WhenVoid) | None => false,
    }
}

/// Whether what moved of a result is grave under this code.
pub(super) fn has_moved_gravely(moved: &Moved, code: AlertCode) -> bool {
    // Where all that changed are last digits, nobody has set anything else.
    let is_rounding = || !moved.because.is_empty() && moved.because.iter().all(|one| one.is_rounding);
    let is_raised = || moved.amounts.is_some_and(|(old, new)| grew(old, new)) && !is_rounding();
    match moved.spec.and_then(|spec| spec.alerts_as(code)) {
        Some(Grave::WhenRaised) => moved.how == MovedHow::Value && is_raised(),
        Some(Grave::WhenChanged) => moved.how != MovedHow::Pin,
        Some(Grave::WhenVoid) => moved.how != MovedHow::Pin && moved.is_void,
        Some(
            Grave::WhenRaisedOrRemoved
            | Grave::WhenReducedOrRemoved
            | Grave::WhenWidened
            | Grave::WhenLowered
            | Grave::WhenRemoved
            | Grave::WhenRemovedOrChanged,
        )
        | None => false,
    }
}

fn grew(old: f64, new: f64) -> bool {
    new > old && !near(old, new)
}

fn is_raised(fact: &FactChange) -> bool {
    !fact.is_rounding() && both(fact, highest).is_some_and(|(old, new)| grew(old, new))
}

fn is_lowered(fact: &FactChange) -> bool {
    !fact.is_rounding() && both(fact, lowest).is_some_and(|(old, new)| grew(new, old))
}

fn both(fact: &FactChange, end: impl Fn(&FieldValue) -> Option<f64>) -> Option<(f64, f64)> {
    let stands_for = |value: &Option<FieldValue>| value.as_ref().map_or_else(|| default_of(fact), &end);
    stands_for(&fact.values.0).zip(stands_for(&fact.values.1))
}

/// What holds where nothing is said, in base units: `3 %`.
fn default_of(fact: &FactChange) -> Option<f64> {
    let (number, unit) = fact.key?.default?.split_once(' ')?;
    Some(Unit::parse(unit).ok()?.to_base(number.parse().ok()?))
}

fn stands_lower(fact: &FactChange) -> bool {
    let Some(ValueType::Choice(choices)) = fact.key.map(|key| key.value) else { return false };
    let place = |value: &Option<FieldValue>| match value {
        Some(FieldValue::Choice(choice)) => choices.words.iter().position(|word| word == choice).unwrap_or(0),
        _ => 0,
    };
    place(&fact.values.1) > place(&fact.values.0)
}
