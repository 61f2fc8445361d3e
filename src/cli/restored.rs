//! Proofs that are again as an earlier commit had them, word for word: what is put back, as `git revert` does, was not
//! rewritten.

use rustc_hash::FxHashSet;

use super::versions::{Ground, Version};
use crate::book::{Book, ItemId, Step};
use crate::check::Diagnostic;
use crate::diff::BookDiff;
use crate::git::Blobs;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::vocabulary::AlertCode;

const REWRITTEN: &str = "proof-rewritten";

/// The earlier texts of sheets, read once somebody asks.
pub(super) struct Earlier<'g> {
    ground: &'g Ground,
    commit: Option<String>,
    texts: Option<Vec<String>>,
}

impl<'g> Earlier<'g> {
    /// Before a version and in it; of a folder, nothing is earlier.
    pub fn than(ground: &'g Ground, old: &Version) -> Self {
        let commit = match old {
            Version::Commit { commit, .. } => Some(commit.clone()),
            _ => None,
        };
        Self { ground, commit, texts: None }
    }

    /// Takes out of what a check found what says that a restored proof was rewritten.
    pub fn take_out_of_check(&mut self, book: &Book, found: &mut Vec<Diagnostic>) {
        let is_restored = |one: &Diagnostic| {
            let items = book.items().filter(|id| id.file == one.place.file);
            let mut proofs = items.flat_map(|id| proofs(book, id));
            let proof = proofs.find(|proof| proof.heading == one.place.span).map(|proof| (one.place.file, proof));
            proof.is_some_and(|(file, proof)| self.had(proof.span.of(&book.file(file).text)))
        };
        let mut is_restored = is_restored;
        found.retain(|one| one.rule.code != REWRITTEN || !is_restored(one));
    }

    /// The same of a comparison.
    pub fn take_out_of_diff(&mut self, book: &Book, diff: &mut BookDiff) {
        for item in &mut diff.items {
            let mut restored = Vec::new();
            for alert in item.alerts.iter().filter(|alert| alert.code == AlertCode::ProofRewritten) {
                let Ok(id) = book.find(alert.item.kind, &alert.item.name) else { continue };
                let named = |proof: &&Block| {
                    alert.path.first() == Some(&Step::named(Kind::Proof, proof.name_text()).to_string())
                };
                let Some(proof) = proofs(book, id).find(named) else { continue };
                if self.had(proof.span.of(&book.file(id.file).text)) {
                    restored.push((alert.path.clone(), proof.name_text().to_owned()));
                }
            }
            let is_of = |path: &[String]| restored.iter().any(|(other, _)| *other == path);
            // Nor is a calibration void by a proof that is again what it was.
            let codes = [AlertCode::ProofRewritten, AlertCode::CalibrationVoid];
            item.alerts.retain(|alert| !codes.contains(&alert.code) || !is_of(&alert.path));
            let is_said = |said: &str| restored.iter().any(|(_, name)| said.contains(&crate::check::quoted(name)));
            item.findings.retain(|one| one.code != REWRITTEN || !is_said(&one.message));
        }
    }

    fn had(&mut self, text: &str) -> bool {
        if self.texts.is_none() {
            self.texts = Some(self.read().unwrap_or_default());
        }
        self.texts.iter().flatten().any(|earlier| earlier.contains(text))
    }

    /// Every text that a sheet has had; git reads each once.
    fn read(&self) -> Option<Vec<String>> {
        let repository = self.ground.repository().ok()?;
        let edges = repository.edges(&repository.commits(self.commit.as_ref()?).ok()?).ok()?;
        let changes = edges.iter().flatten().flat_map(|edge| &edge.changes);
        let objects: FxHashSet<&str> = changes.filter_map(|change| change.new.as_deref()).collect();
        let objects: Vec<&str> = objects.into_iter().collect();
        let read = Blobs::of(repository).ok()?.read_all(&objects).into_iter();
        Some(read.filter_map(|bytes| String::from_utf8(bytes.ok()?).ok()).collect())
    }
}

fn proofs(book: &Book, id: ItemId) -> impl Iterator<Item = &Block> {
    book.item(id).inner(Kind::Proof)
}
