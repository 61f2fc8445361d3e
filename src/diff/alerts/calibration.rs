//! Calibrations that no longer hold because of what they were made with.

use super::{Alert, AlertCode, Looked};
use crate::book::{Book, EffectiveBlock, ItemId, effective};
use crate::diff::book::ItemName;
use crate::diff::facts::{FactChange, FactChangeKind};
use crate::diff::results::MovedHow;
use crate::syntax::Kind;

/// Facts of a plane that say where it lies and at which radius it is corrected.
const PLANE: [&str; 6] = ["at", "radius", "diameter", "surface diameter", "surface radius", "pitch diameter"];

/// Facts of a setup under which its calibration was made.
const SETUP: [&str; 8] =
    ["machine", "rotor", "balancing speed", "supports at", "belt runs on", "arbor", "pulley", "channel"];

/// A plane or radius moved, or the setup is run otherwise than when it was calibrated.
pub(super) fn void(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    match looked.diff.item.kind {
        Kind::Rotor => by_planes(looked, alerts),
        Kind::Setup => by_the_setup(looked, alerts),
        _ => {}
    }
    // What the sheets themselves say against their proof.
    for moved in looked.diff.results.iter().filter(|moved| moved.item.kind == Kind::Setup) {
        let is_void = moved.path == ["calibration"]
            && moved.how != MovedHow::Pin
            && moved.new.as_deref().is_some_and(|new| new.starts_with("void"));
        // A plane that moved has said which setups it concerns.
        let by_plane = looked.diff.item.kind == Kind::Rotor;
        let said = |one: &Alert| one.code == AlertCode::CalibrationVoid && (by_plane || one.item == moved.item);
        let said = alerts.iter().any(said);
        if is_void && !said {
            alerts
                .push(Alert::new(AlertCode::CalibrationVoid, &moved.item, &moved.path).values(&moved.old, &moved.new));
        }
    }
}

fn by_planes(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let is_moved = |fact: &&FactChange| {
        fact.within == Kind::Plane
            && fact.path.len() == 2
            && PLANE.contains(&fact.key)
            && fact.change != FactChangeKind::Precision
            // A plane that is new was never calibrated.
            && (fact.change == FactChangeKind::Changed || fact.old.is_some() || !is_new_plane(looked, fact))
    };
    let moved: Vec<&FactChange> = looked.diff.facts.iter().filter(is_moved).collect();
    for fact in moved {
        let alert = Alert::new(AlertCode::CalibrationVoid, &looked.diff.item, &fact.path).values(&fact.old, &fact.new);
        let plane = fact.path[0].strip_prefix("plane ").unwrap_or(&fact.path[0]);
        let setups = setups_calibrated(looked.new, &looked.diff.item.name, plane);
        alerts.push(match setups.as_slice() {
            [] => continue,
            [one] => alert.note(format!("concerns {one}")),
            [one, rest @ ..] => alert.note(format!("concerns {one} and {} more", rest.len())),
        });
    }
}

fn is_new_plane(looked: &Looked<'_>, fact: &FactChange) -> bool {
    let Some(old) = looked.pair.old.map(|id| looked.old.item(id)) else { return true };
    !old.inner(Kind::Plane).any(|plane| crate::book::heading(plane) == fact.path[0])
}

/// The setups of a rotor that are calibrated in this plane, or by trial runs.
fn setups_calibrated(book: &Book, rotor: &str, plane: &str) -> Vec<ItemName> {
    let is_setup = |id: &&ItemId| book.item(**id).kind == Kind::Setup;
    let mut setups: Vec<ItemId> = book.naming(Kind::Rotor, rotor).iter().filter(is_setup).copied().collect();
    // Those that are like one of them, and like those.
    let mut next = 0;
    while let Some(id) = setups.get(next).copied() {
        let like = book.naming(Kind::Setup, book.item(id).name_text()).iter().filter(is_setup);
        let new: Vec<ItemId> = like.filter(|id| !setups.contains(id)).copied().collect();
        setups.extend(new);
        next += 1;
    }
    let calibrated = setups.into_iter().filter(|id| is_calibrated(book, *id, Some(plane)));
    calibrated.map(|id| ItemName::of(book, id)).collect()
}

fn is_calibrated(book: &Book, setup: ItemId, plane: Option<&str>) -> bool {
    let block = effective(book, setup).0;
    let by_trials = |inner: &EffectiveBlock<'_>| {
        inner.kind == Kind::Trial && inner.fields.iter().any(|f| f.field.key.name == "mass in")
    };
    block.blocks.iter().any(|inner| match inner.kind {
        Kind::Calibrate => plane.is_none_or(|plane| inner.name_text() == plane),
        Kind::Proof => plane.is_none(),
        _ => by_trials(inner),
    })
}

fn by_the_setup(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let (Some(_), Some(id)) = (looked.pair.old, looked.pair.new) else { return };
    let proven_anew = looked.diff.facts.iter().any(|fact| fact.path == ["proof", "date"] && fact.new.is_some());
    if proven_anew || !is_calibrated(looked.new, id, None) {
        return;
    }
    let is_cause = |fact: &&FactChange| {
        fact.within == Kind::Setup && SETUP.contains(&fact.key) && fact.change != FactChangeKind::Precision
    };
    if let Some(fact) = looked.diff.facts.iter().find(is_cause) {
        let alert = Alert::new(AlertCode::CalibrationVoid, &looked.diff.item, &fact.path);
        alerts.push(alert.values(&fact.old, &fact.new).note("it was not proven anew"));
    }
}
