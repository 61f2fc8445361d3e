//! Sheets that no longer pass the check because of a change.

use super::{Alert, AlertCode, Looked};
use crate::book::Book;
use crate::check::Severity;
use crate::diff::book::ItemName;
use crate::diff::findings::NewFinding;
use crate::syntax::Kind;
use crate::vocabulary::setup::{self, Status};

/// A check mass reads outside its band: whoever goes on by the sheet corrects by numbers that no longer hold.
pub(super) fn check_masses(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    for one in looked.diff.findings.iter().filter(|one| one.code == "check-mass-drifted") {
        alerts.push(Alert::new(AlertCode::CheckMassOut, &one.item, &[]).note(one.message.clone()));
    }
}

/// One alert for all errors that a change brings, in whichever sheets.
pub(super) fn sheets(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let is_told = |one: &&NewFinding| {
        let code = match one.code {
            "calibration-void" => AlertCode::CalibrationVoid,
            "conflict-markers" => AlertCode::ConflictLeft,
            "proof-rewritten" => AlertCode::ProofRewritten,
            "revision-goes-back" => AlertCode::RevisionGoesBack,
            "tolerance-loosened" => AlertCode::ToleranceLoosened,
            _ => return false,
        };
        alerts.iter().any(|alert| alert.code == code)
    };
    let errors: Vec<&NewFinding> = looked.diff.findings.iter().filter(|one| one.severity == Severity::Error).collect();
    let errors: Vec<&NewFinding> = errors.into_iter().filter(|one| !is_told(one) && !one.is_stale_pin()).collect();
    alerts.extend(brings(looked, AlertCode::CheckFails, &errors));
}

/// One alert for all warnings that a change brings to sheets that were released, and are, unless something graver is told of
/// it.
pub(super) fn released(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    if !alerts.is_empty() {
        return;
    }
    let is_released = |book: &Book, item: &ItemName| {
        let found = book.find(item.kind, &item.name).ok();
        found.is_some_and(|id| book.item(id).choice(setup::STATUS) == Some(Status::Released))
    };
    let was_called = |item: &ItemName| {
        let was = looked.diff.was.clone().filter(|_| *item == looked.diff.item);
        ItemName { name: was.unwrap_or_else(|| item.name.clone()), kind: item.kind }
    };
    let is_of_released = |one: &&NewFinding| {
        one.severity == Severity::Warning
            && one.item.kind == Kind::Setup
            && !one.is_stale_pin()
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
