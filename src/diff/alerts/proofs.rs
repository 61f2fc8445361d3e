//! Proofs that were described or dated otherwise, and read the same.

use super::{Alert, AlertCode, Looked};
use crate::book::Step;
use crate::check::and_list;
use crate::diff::proofs;
use crate::syntax::Kind;

pub(super) fn rewritten(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let (Some(old), Some(new)) = (looked.pair.old, looked.pair.new) else { return };
    for one in proofs::rewritten((looked.old, old), (looked.new, new), looked.renames) {
        let path = [Step::named(Kind::Proof, one.name).to_string()];
        let heads: Vec<String> = one.heads.iter().map(|head| format!("`{head}`")).collect();
        let note = format!("{} {} now said otherwise, and no reading differs", and_list(&heads), are(heads.len()));
        alerts.push(Alert::new(AlertCode::ProofRewritten, &looked.diff.item, &path).note(note));
    }
}

fn are(many: usize) -> &'static str {
    if many == 1 { "is" } else { "are" }
}
