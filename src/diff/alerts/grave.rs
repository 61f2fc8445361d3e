//! Whether a change is grave, by what the vocabulary says of the fact or result.

use super::Looked;
use super::inherited::Affected;
use crate::diff::book::ItemName;
use crate::diff::facts::{FactChange, FactChangeKind};
use crate::diff::results::{Moved, MovedHow};
use crate::diff::value::{amounts_in, highest, lowest, near};
use crate::sheet::{FieldValue, StatedRange};
use crate::units::Unit;
use crate::vocabulary::rotor::{self, Rotation};
use crate::vocabulary::{AlertCode, Choice, Grave, ValueType};

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
        // What comes in the place of what was taken over, or gives way to it, is told as what is in force.
        let own = self.grave(code).filter(|fact| !self.is_in_force_beside(fact)).map(|fact| (&self.diff.item, fact));
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
        Some(Grave::WhenChanged) => is_changed && !is_same_rotation(fact),
        Some(Grave::WhenRemoved) => fact.change == FactChangeKind::Removed,
        // What was not known before is completed.
        Some(Grave::WhenRemovedOrChanged) => {
            is_changed && fact.old.is_some() && !matches!(fact.values.0, Some(FieldValue::Unknown))
        }
        Some(Grave::WhenOneIsGone) => is_one_gone(fact),
        Some(Grave::WhenFreed) => is_freed(fact),
        // A fact says nothing of what no longer holds.
        Some(Grave::WhenVoid) | None => false,
    }
}

/// Whether it is the same sense of rotation, said from the other end.
fn is_same_rotation(fact: &FactChange) -> bool {
    let rotation = |value: &Option<FieldValue>| match value {
        Some(FieldValue::Choice(words)) => Rotation::of(words),
        _ => None,
    };
    let both = rotation(&fact.values.0).zip(rotation(&fact.values.1));
    fact.is(rotor::ROTATION) && both.is_some_and(|(old, new)| old.is_same_as(new))
}

/// Four digits are printed of a result: what is less than half of the last is no change to anybody.
const LAST_DIGIT: f64 = 5e-5;

/// Whether what moved of a result is grave under this code.
pub(super) fn has_moved_gravely(moved: &Moved, code: AlertCode) -> bool {
    // Where all that changed are last digits, nobody has set anything else.
    let is_rounding = || !moved.because.is_empty() && moved.because.iter().all(|one| one.is_rounding);
    let is_raised = || moved.amounts.is_some_and(|(old, new)| new > old * (1.0 + LAST_DIGIT)) && !is_rounding();
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
            | Grave::WhenRemovedOrChanged
            | Grave::WhenOneIsGone
            | Grave::WhenFreed,
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

/// Whether an amount that was listed no longer is.
fn is_one_gone(fact: &FactChange) -> bool {
    let amounts = |value: &Option<FieldValue>| -> Vec<f64> {
        value.iter().flat_map(|value| amounts_in(value).into_iter().map(|one| one.base)).collect()
    };
    let (was, is) = (amounts(&fact.values.0), amounts(&fact.values.1));
    was.iter().any(|old| !is.iter().any(|new| near(*old, *new)))
}

/// Narrower than this, an angle is what is left of another unit.
const NO_ANGLE: f64 = 1e-4;

/// Whether some angle was in a range and is in none any longer; what was not known before is completed.
fn is_freed(fact: &FactChange) -> bool {
    let turn = std::f64::consts::TAU;
    let ranges = |value: &Option<FieldValue>| match value {
        Some(FieldValue::Ranges(ranges)) => {
            let ends = |one: &StatedRange| Some((one.low.as_ref()?.base, one.high.as_ref()?.base));
            let ends = ranges.iter().filter_map(ends);
            ends.map(|(low, high)| (low.rem_euclid(turn), (high - low).rem_euclid(turn))).collect()
        }
        _ => Vec::new(),
    };
    let (was, is) = (ranges(&fact.values.0), ranges(&fact.values.1));
    let mut ends: Vec<f64> =
        was.iter().chain(&is).flat_map(|(low, wide)| [*low, (low + wide).rem_euclid(turn)]).collect();
    ends.sort_by(f64::total_cmp);
    let next = ends.iter().skip(1).copied().chain(ends.first().map(|first| first + turn));
    let holds =
        |ranges: &[(f64, f64)], angle: f64| ranges.iter().any(|(low, wide)| (angle - low).rem_euclid(turn) < *wide);
    let parts = ends.iter().copied().zip(next).filter(|(from, to)| to - from > NO_ANGLE);
    parts.map(|(from, to)| f64::midpoint(from, to)).any(|middle| holds(&was, middle) && !holds(&is, middle))
}

fn stands_lower(fact: &FactChange) -> bool {
    let Some(ValueType::Choice(choices)) = fact.key.map(|key| key.value) else { return false };
    let place = |value: &Option<FieldValue>| match value {
        Some(FieldValue::Choice(choice)) => choices.words.iter().position(|word| word == choice).unwrap_or(0),
        _ => 0,
    };
    place(&fact.values.1) > place(&fact.values.0)
}
