//! What was measured on a day, and is in a sheet: check masses, trial runs, services, tests.

use super::{Alert, AlertCode, Looked};
use crate::book::{Book, ItemId, heading};
use crate::diff::facts::{FactChange, FactChangeKind, Written};
use crate::sheet::{Block, Field, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::{arbor, check_mass, correction, machine, proof, trial};

/// Measured facts that read otherwise under their day, or are gone.
pub(super) fn altered(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let facts: Vec<&FactChange> =
        looked.grave(AlertCode::MeasurementAltered).filter(|fact| !is_measured_again(looked, fact)).collect();
    alerts.extend(said_otherwise(looked, AlertCode::MeasurementAltered, &facts));
}

/// Whether it was measured on another day, or was not measured before.
fn is_measured_again(looked: &Looked<'_>, fact: &FactChange) -> bool {
    let facts = &looked.diff.facts;
    // Only a later date counts as a new measurement. ISO dates compare as text.
    let is_later = |one: &FactChange| one.new.is_some() && one.new > one.old;
    match fact.within {
        Kind::Arbor => facts.iter().any(|one| one.is(arbor::DATE) && is_later(one)),
        Kind::Machine => {
            !fact.is(machine::SERVICED) && facts.iter().any(|one| one.is(machine::TESTED) && is_later(one))
        }
        Kind::Calibrate => {
            facts.iter().any(|one| one.within == Kind::Proof && one.is(proof::DATE) && one.old.is_none())
        }
        // A trial that was planned, and not run.
        Kind::Trial => !was_read(looked, fact),
        // What it read on its days is judged by what it is now.
        Kind::CheckMass => !fact.is(check_mass::CHECKED) && !keeps_a_check(looked),
        _ => false,
    }
}

/// Whether the check mass has a day of before still.
fn keeps_a_check(looked: &Looked<'_>) -> bool {
    let days = |book: &Book, id: Option<ItemId>| -> Vec<_> {
        let masses = id.into_iter().flat_map(|id| book.item(id).inner(Kind::CheckMass));
        let day = |field: &Field| match &field.value {
            FieldValue::OfDay(one) if field.key.is(check_mass::CHECKED) => Some((one.year, one.month, one.day)),
            _ => None,
        };
        masses.flat_map(|mass| mass.fields.iter().filter_map(day)).collect()
    };
    let before = days(looked.old, looked.pair.old);
    days(looked.new, looked.pair.new).iter().any(|day| before.contains(day))
}

fn was_read(looked: &Looked<'_>, fact: &FactChange) -> bool {
    let block = block_of(looked, fact);
    block.is_none_or(|trial| {
        trial.fields.iter().any(|field| field.key.is(trial::READING.any()) || field.key.is(trial::SHOWS.any()))
    })
}

/// An alert for each fact that says something else; of a block that is gone, one for all that it said.
pub(super) fn said_otherwise(looked: &Looked<'_>, code: AlertCode, facts: &[&FactChange]) -> Vec<Alert> {
    let whole = |fact: &FactChange| block_of(looked, fact).map(|block| block.span);
    let is_one_block = |a: &&FactChange, b: &&FactChange| whole(a).is_some() && whole(a) == whole(b);
    let mut alerts = Vec::new();
    for group in facts.chunk_by(is_one_block) {
        match gone_with(looked, group) {
            Some(alert) => alerts.push(Alert { code, ..alert }),
            None => alerts.extend(group.iter().map(|fact| {
                let alert = Alert::new(code, &looked.diff.item, &fact.path);
                alert.values(&fact.old, &fact.new).ratio(fact.ratio())
            })),
        }
    }
    alerts
}

/// All that a block said, where it is gone as a whole.
fn gone_with(looked: &Looked<'_>, facts: &[&FactChange]) -> Option<Alert> {
    let first = facts.first()?;
    let block = block_of(looked, first)?;
    let stays = |block: &Block| {
        let new = looked.pair.new.map(|id| looked.new.item(id));
        new.is_some_and(|new| new.blocks.iter().any(|other| heading(other) == heading(block)))
    };
    let is_gone = facts.iter().all(|fact| fact.change == FactChangeKind::Removed);
    if !is_gone || facts.len() < 2 || (facts.len() < block.fields.len() && stays(block)) {
        return None;
    }
    // What was cut or put on says more than after which run.
    let said = |fact: &&&FactChange| !fact.is(correction::AFTER);
    let said =
        facts.iter().filter(said).filter_map(|fact| Some(format!("{} {}", fact.path.last()?, fact.old.as_ref()?)));
    let said = said.collect::<Vec<_>>().join(", ");
    let at = &first.path[..first.path.len() - 1];
    Some(Alert::new(AlertCode::RecordAltered, &looked.diff.item, at).note(format!("gone: {said}")))
}

/// The block of the old item in which a fact was written; `None` for a fact of the item itself.
fn block_of<'d>(looked: &Looked<'d>, fact: &FactChange) -> Option<&'d Block> {
    let (_, span): Written = fact.places.0?;
    let item = looked.pair.old.map(|id| looked.old.item(id))?;
    let holds = |block: &&Block| block.span.start <= span.start && span.end <= block.span.end;
    let mut found = item.blocks.iter().find(holds)?;
    while let Some(inner) = found.blocks.iter().find(holds) {
        found = inner;
    }
    Some(found)
}
