//! Sheets that no longer pass the check because of a change.

use super::{Alert, AlertCode, Looked};
use crate::check::Severity;
use crate::diff::book::ItemName;
use crate::diff::findings::NewFinding;

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
    let Some(first) = errors.first() else { return };
    let mut items: Vec<&ItemName> = Vec::new();
    for one in &errors {
        if !items.contains(&&one.item) {
            items.push(&one.item);
        }
    }
    let count = match errors.len() {
        1 => "1 error".to_owned(),
        count => format!("{count} errors"),
    };
    let place = match items.as_slice() {
        [one] if **one == looked.diff.item => String::new(),
        [one] => format!(" in {one}"),
        several => format!(" in {} items", several.len()),
    };
    let first =
        if errors.len() > 1 { format!("; the first: {}", first.message) } else { format!(": {}", first.message) };
    alerts
        .push(Alert::new(AlertCode::CheckFails, &looked.diff.item, &[]).note(format!("brings {count}{place}{first}")));
}
