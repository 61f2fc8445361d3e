//! Proofs that are not what they were.

use super::{Alert, AlertCode, Looked};
use crate::book::Step;
use crate::diff::proofs;
use crate::syntax::Kind;

/// Described or dated otherwise though they read the same, read otherwise under the same date, or gone.
pub(super) fn rewritten(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let (Some(old), Some(new)) = (looked.pair.old, looked.pair.new) else { return };
    let (old, new) = ((looked.old, old), (looked.new, new));
    let mut push = |name: &str, note: String| {
        let path = [Step::named(Kind::Proof, name).to_string()];
        alerts.push(Alert::new(AlertCode::ProofRewritten, &looked.diff.item, &path).note(note));
    };
    for one in proofs::rewritten(old, new, looked.renames) {
        push(one.name, one.how.note(&one.heads));
    }
    for name in proofs::gone(old, new, looked.renames) {
        push(name, "the proof is gone".to_owned());
    }
}
