//! Calibrations that no longer hold.

use super::grave::has_moved_gravely;
use super::{Alert, AlertCode, Looked};
use crate::book::Step;
use crate::check::Rewriting;
use crate::diff::proofs::{self, Rewritten};
use crate::syntax::Kind;
use crate::vocabulary::proof;

/// What the sheets themselves say against their proof, with every cause; what was void before is not told again.
pub(super) fn void(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    for moved in looked.diff.results.iter().filter(|moved| moved.item.kind == Kind::Setup) {
        if has_moved_gravely(moved, AlertCode::CalibrationVoid) {
            let alert = Alert::new(AlertCode::CalibrationVoid, &moved.item, &moved.path);
            alerts.push(alert.values(&moved.old, &moved.new));
        }
    }
    by_rewriting(looked, alerts);
}

/// A proof that follows the sheet, and reads the same, proves nothing again.
fn by_rewriting(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let (Some(old), Some(new)) = (looked.pair.old, looked.pair.new) else { return };
    let is_told = |one: &Alert| one.code == AlertCode::CalibrationVoid && one.item == looked.diff.item;
    let says_otherwise = |head: &String| head != proof::DATE.words();
    let rewritten = proofs::rewritten((looked.old, old), (looked.new, new), looked.renames);
    let follows = |one: &Rewritten<'_>| {
        matches!(one.how, Rewriting::MadeOtherwise { .. }) && one.heads.iter().any(says_otherwise)
    };
    let Some(one) = rewritten.into_iter().find(follows).filter(|_| !alerts.iter().any(is_told)) else { return };
    // By its path it is told from others: a proof that an earlier commit had just so was not made to follow.
    let path = [Step::named(Kind::Proof, one.name).to_string()];
    let alert = Alert::new(AlertCode::CalibrationVoid, &looked.diff.item, &path);
    alerts.push(alert.note("it was made to follow the sheet, and was not made again"));
}
