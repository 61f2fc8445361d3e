//! Proofs that say something else than they did, and are not other proofs.

use super::{Alert, AlertCode, Looked};
use crate::book::Step;
use crate::check::{and_list, unchanged_readings};
use crate::diff::facts::FactChangeKind;
use crate::diff::proofs;
use crate::syntax::Kind;
use crate::vocabulary::proof;

/// Described or dated otherwise though they read the same, read otherwise under the same date, or gone.
pub(super) fn rewritten(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let (Some(old), Some(new)) = (looked.pair.old, looked.pair.new) else { return };
    let mut push = |name: &str, note: String| {
        let path = [Step::named(Kind::Proof, name).to_string()];
        alerts.push(Alert::new(AlertCode::ProofRewritten, &looked.diff.item, &path).note(note));
    };
    let rewritten = proofs::rewritten((looked.old, old), (looked.new, new), looked.renames);
    for one in &rewritten {
        let heads: Vec<String> = one.heads.iter().map(|head| format!("`{head}`")).collect();
        let same = unchanged_readings(one.same, one.readings);
        push(one.name, format!("{} {} changed though {same}", and_list(&heads), have(heads.len())));
    }
    if looked.diff.item.kind != Kind::Setup {
        return;
    }
    let (before, after) = (looked.old.item(old), looked.new.item(new));
    for then in before.inner(Kind::Proof) {
        let name = then.name_text();
        let is_told = || rewritten.iter().any(|one| one.name == name);
        let Some(now) = after.inner(Kind::Proof).find(|now| now.name_text() == name) else {
            // One that has another name now was told, or says the same.
            if !after.inner(Kind::Proof).any(|now| proofs::reads_the_same(then, now, looked.renames)) {
                push(name, "the proof is gone".to_owned());
            }
            continue;
        };
        let heading = Step::named(Kind::Proof, name).to_string();
        let is_of_it = |path: &[String]| path.first() == Some(&heading) && path.len() > 1;
        let is_reading = |fact: &&crate::diff::FactChange| {
            fact.change != FactChangeKind::Precision
                && is_of_it(&fact.path)
                && fact.old.is_some()
                && !proofs::is_beside_the_point(fact.key)
        };
        let altered: Vec<String> = looked
            .diff
            .facts
            .iter()
            .filter(is_reading)
            .map(|fact| format!("`{}`", fact.path[1..].join(" / ")))
            .collect();
        let day = |block: &crate::sheet::Block| block.field(proof::DATE).map(|field| field.value.clone());
        if !altered.is_empty() && day(then) == day(now) && !is_told() {
            push(name, format!("{} {} changed under the same date", and_list(&altered), have(altered.len())));
        }
    }
}

fn have(many: usize) -> &'static str {
    if many == 1 { "has" } else { "have" }
}
