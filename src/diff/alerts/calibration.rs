//! Calibrations that no longer hold because of what they were made with.

use super::grave::{guarded, has_moved_gravely, is_grave};
use super::inherited::Affected;
use super::{Alert, AlertCode, Looked};
use crate::book::{Book, Day, EffectiveBlock, ItemId, effective, heading};
use crate::check::and_list;
use crate::diff::book::ItemName;
use crate::diff::facts::FactChange;
use crate::diff::proofs;
use crate::diff::renames::Renames;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::vocabulary::{Grave, proof, trial};

/// Setups named, before the rest is only counted.
const MOST_NAMED: usize = 3;

/// A plane or radius moved, or the setup is run otherwise than when it was calibrated.
pub(super) fn void(looked: &Looked<'_>, affected: &[Affected], alerts: &mut Vec<Alert>) {
    match looked.diff.item.kind {
        // A rotor that is gone as a whole is told of as such.
        Kind::Rotor if looked.pair.old.is_some() && looked.pair.new.is_some() => by_planes(looked, alerts),
        Kind::Setup => by_the_setup(looked, affected, alerts),
        _ => {}
    }
    // What the sheets themselves say against their proof.
    for moved in looked.diff.results.iter().filter(|moved| moved.item.kind == Kind::Setup) {
        // A plane that moved has said which setups it concerns.
        let by_plane = looked.diff.item.kind == Kind::Rotor;
        let said = |one: &Alert| one.code == AlertCode::CalibrationVoid && (by_plane || one.item == moved.item);
        let said = alerts.iter().any(said);
        if has_moved_gravely(moved, AlertCode::CalibrationVoid) && !said {
            alerts
                .push(Alert::new(AlertCode::CalibrationVoid, &moved.item, &moved.path).values(&moved.old, &moved.new));
        }
    }
}

fn by_planes(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let is_moved = |fact: &&FactChange| {
        // A plane that is new was never calibrated.
        let was_there = || looked.pair.old.and_then(|id| plane_of(looked.old, id, fact)).is_some();
        fact.within == Kind::Plane && (fact.old.is_some() || was_there())
    };
    for fact in looked.grave(AlertCode::CalibrationVoid).filter(is_moved) {
        let alert = Alert::new(AlertCode::CalibrationVoid, &looked.diff.item, &fact.path).values(&fact.old, &fact.new);
        let after = looked.pair.new.and_then(|id| plane_of(looked.new, id, fact));
        let Some(plane) = after.or(looked.pair.old.and_then(|id| plane_of(looked.old, id, fact))) else { continue };
        let setups = setups_calibrated(looked, plane);
        let names: Vec<String> = setups.iter().take(MOST_NAMED).map(ItemName::to_string).collect();
        alerts.push(match setups.len().saturating_sub(MOST_NAMED) {
            _ if names.is_empty() => continue,
            0 => alert.note(format!("concerns {}", and_list(&names))),
            more => alert.note(format!("concerns {} and {more} more", names.join(", "))),
        });
    }
}

/// The name of the plane that a fact of a rotor stands in.
fn plane_of<'b>(book: &'b Book, rotor: ItemId, fact: &FactChange) -> Option<&'b str> {
    let is_it = |plane: &&Block| fact.path.first().is_some_and(|block| heading(plane) == *block);
    book.item(rotor).inner(Kind::Plane).find(is_it).map(Block::name_text)
}

/// The setups of a rotor, through `like` too, that are calibrated in this plane or by trial runs.
fn setups_calibrated(looked: &Looked<'_>, plane: &str) -> Vec<ItemName> {
    let Some(rotor) = looked.pair.new else { return Vec::new() };
    let setups = looked.new.users().setups(rotor).into_iter();
    let calibrated = setups.filter(|id| is_calibrated(looked.new, *id, Some(plane)));
    calibrated.map(|id| ItemName::of(looked.new, id)).collect()
}

fn is_calibrated(book: &Book, setup: ItemId, plane: Option<&str>) -> bool {
    let block = effective(book, setup).0;
    let by_trials = |inner: &EffectiveBlock<'_>| inner.kind == Kind::Trial && inner.field(trial::MASS_IN).is_some();
    block.blocks.iter().any(|inner| match inner.kind {
        Kind::Calibrate => plane.is_none_or(|plane| inner.name_text() == plane),
        Kind::Proof => plane.is_none(),
        _ => by_trials(inner),
    })
}

/// The setup itself and those that take over from it what changed.
fn by_the_setup(looked: &Looked<'_>, affected: &[Affected], alerts: &mut Vec<Alert>) {
    let (Some(old), Some(new)) = (looked.pair.old, looked.pair.new) else { return };
    let own = (&looked.diff.item, old, new, looked.diff.facts.as_slice());
    let others = affected.iter().map(|setup| (&setup.item, setup.old, setup.new, setup.facts.as_slice()));
    for (item, old, new, facts) in std::iter::once(own).chain(others) {
        let said = alerts.iter().any(|one| one.code == AlertCode::CalibrationVoid && one.item == *item);
        if said
            || !is_calibrated(looked.new, new, None)
            || is_proven_anew((looked.old, old), (looked.new, new), looked.renames)
        {
            continue;
        }
        let has_proof = proof(looked.old, old).is_some() && proof(looked.new, new).is_some();
        let is_cause = |fact: &&FactChange| {
            // Without a proof, nothing was measured yet with what is set and put on.
            let waits = guarded(fact, AlertCode::CalibrationVoid) == Some(Grave::WhenChangedSinceProof) && !has_proof;
            !waits && is_grave(fact, AlertCode::CalibrationVoid)
        };
        if let Some(fact) = facts.iter().find(is_cause) {
            let alert = Alert::new(AlertCode::CalibrationVoid, item, &fact.path);
            alerts.push(alert.values(&fact.old, &fact.new).note("it was not proven anew"));
        }
    }
}

/// The day of a setup's latest proof; `None` without a proof, `Some(None)` where it does not say its day.
fn proof(book: &Book, setup: ItemId) -> Option<Option<Day>> {
    Some(effective(book, setup).0.latest_proof()?.day(proof::DATE))
}

/// Whether the latest proof is of another day than before, and not the old one under another date.
fn is_proven_anew(old: (&Book, ItemId), new: (&Book, ItemId), renames: &Renames) -> bool {
    let day = proof(new.0, new.1).flatten();
    let rewritten = || proofs::rewritten(old, new, renames);
    let latest = || effective(new.0, new.1).0.latest_proof().map(|proof| proof.name_text().to_owned());
    day.is_some_and(|day| proof(old.0, old.1).flatten() != Some(day))
        && !rewritten().iter().any(|one| Some(one.name) == latest().as_deref())
}
