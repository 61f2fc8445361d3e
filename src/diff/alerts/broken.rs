//! Sheets that no longer pass the check because of a change.

use super::{Alert, AlertCode, Looked};
use crate::book::Book;
use crate::check::Severity;
use crate::diff::book::ItemName;
use crate::diff::findings::NewFinding;
use crate::syntax::Kind;
use crate::vocabulary::setup::{self, Status};

/// What is said of a check mass that reads outside its band.
pub(super) const CHECK_MASS_OUT: &str = "check-mass-drifted";

/// A check mass reads outside its band: whoever goes on by the sheet corrects by numbers that no longer hold.
pub(super) fn check_masses(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    for one in looked.diff.findings.iter().filter(|one| one.code == CHECK_MASS_OUT) {
        alerts.push(Alert::new(AlertCode::CheckMassOut, &one.item, &[]).note(one.message.clone()));
    }
}

/// What is said of a sheet or record with the readings of another.
const COPIED: &str = "readings-copied";

/// Readings of another. What is only repeated by another has no part in it.
pub(super) fn copies(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    if looked.pair.old.is_some() && looked.diff.facts.is_empty() {
        return;
    }
    let own = looked.diff.findings.iter().filter(|one| one.code == COPIED && one.item == looked.diff.item);
    alerts.extend(own.map(|one| Alert::new(AlertCode::ReadingsCopied, &one.item, &[]).note(one.message.clone())));
}

/// The alert that tells of the same as a finding.
fn told_as(code: &str) -> Option<AlertCode> {
    Some(match code {
        "calibration-void" => AlertCode::CalibrationVoid,
        CHECK_MASS_OUT => AlertCode::CheckMassOut,
        "conflict-markers" => AlertCode::ConflictLeft,
        "proof-rewritten" => AlertCode::ProofRewritten,
        COPIED => AlertCode::ReadingsCopied,
        "released-without-revision" => AlertCode::ReleasedWithoutNewRevision,
        "revision-goes-back" => AlertCode::RevisionGoesBack,
        "safe-speed-unknown" => AlertCode::SpeedRaised,
        "tolerance-loosened" => AlertCode::ToleranceLoosened,
        _ => return None,
    })
}

/// One alert for all errors that a change brings, in whichever sheets.
pub(super) fn sheets(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let is_told =
        |one: &&NewFinding| told_as(one.code).is_some_and(|code| alerts.iter().any(|alert| alert.code == code));
    let errors: Vec<&NewFinding> = looked.diff.findings.iter().filter(|one| one.severity == Severity::Error).collect();
    let errors: Vec<&NewFinding> = errors.into_iter().filter(|one| !is_told(one) && !one.is_stale_pin()).collect();
    alerts.extend(brings(looked, AlertCode::CheckFails, &errors));
}

/// One alert for all warnings that a change brings to sheets that were released, and are, unless an alert of their sheet or of
/// what changed tells of the same.
pub(super) fn released(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let is_released = |book: &Book, item: &ItemName| {
        let found = book.find(item.kind, &item.name).ok();
        found.is_some_and(|id| book.item(id).choice(setup::STATUS) == Some(Status::Released))
    };
    let was_called = |item: &ItemName| {
        let was = looked.diff.was.clone().filter(|_| *item == looked.diff.item);
        ItemName { name: was.unwrap_or_else(|| item.name.clone()), kind: item.kind }
    };
    let is_told = |one: &NewFinding| {
        let is_it = |code: AlertCode| {
            alerts.iter().any(|alert| alert.code == code && [&one.item, &looked.diff.item].contains(&&alert.item))
        };
        told_as(one.code).is_some_and(is_it)
    };
    let is_of_released = |one: &&NewFinding| {
        one.severity == Severity::Warning
            && one.item.kind == Kind::Setup
            && !one.is_stale_pin()
            && !is_told(one)
            && is_released(looked.new, &one.item)
            && is_released(looked.old, &was_called(&one.item))
    };
    let warnings: Vec<&NewFinding> = looked.diff.findings.iter().filter(is_of_released).collect();
    alerts.extend(brings(looked, AlertCode::ReleasedWarned, &warnings));
}

/// How many findings of one severity, where, and the first of them.
fn brings(looked: &Looked<'_>, code: AlertCode, found: &[&NewFinding]) -> Option<Alert> {
    let first = found.first()?;
    let mut items: Vec<&ItemName> = Vec::new();
    for one in found {
        if !items.contains(&&one.item) {
            items.push(&one.item);
        }
    }
    let what = first.severity.word();
    let count = if found.len() == 1 { format!("1 {what}") } else { format!("{} {what}s", found.len()) };
    let place = match items.as_slice() {
        [one] if **one == looked.diff.item => String::new(),
        [one] => format!(" in {one}"),
        several => format!(" in {} items", several.len()),
    };
    let first = match found.len() {
        1 => format!(": {}", first.message),
        _ => format!("; the first: {}", first.message),
    };
    Some(Alert::new(code, &looked.diff.item, &[]).note(format!("brings {count}{place}{first}")))
}
