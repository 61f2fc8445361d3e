//! What the proof of a setup shows, in one word for all who say it.

use super::SetupResults;
use super::proof_fails::failures;
use crate::book::results::measuring::Measuring;
use crate::book::shop::ShopRules;
use crate::syntax::Kind;
use crate::vocabulary::machine::Supports;
use crate::vocabulary::{proof, separation};

/// What the latest proof of a setup shows.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ProofShows {
    /// It was read in full, and within what the shop accepts.
    Proven,
    /// What was read is beyond that.
    Failed,
    /// Readings that it must hold are missing.
    Unfinished,
    /// There is no proof.
    Never,
    /// There is none, and trial runs in the rotor's own bearings or a static stand want none.
    NoneWanted,
}

impl ProofShows {
    pub fn words(self) -> &'static str {
        match self {
            ProofShows::Proven => "proven",
            ProofShows::Failed => "failed",
            ProofShows::Unfinished => "unfinished",
            ProofShows::Never => "never",
            ProofShows::NoneWanted => "not wanted",
        }
    }
}

impl SetupResults<'_> {
    pub fn proof_shows(&self, shop: &ShopRules) -> ProofShows {
        // Whatever a sheet keeps as a proof: nothing was read on it.
        let Some(proof) = self.proof.as_ref().filter(|_| !self.is_on_stand()) else {
            return if self.wants_no_proof() { ProofShows::NoneWanted } else { ProofShows::Never };
        };
        if !self.proof_failures(shop).is_empty() {
            return ProofShows::Failed;
        }
        let masses = proof.block.blocks.iter().filter(|block| matches!(block.kind, Kind::Separation | Kind::Linearity));
        let is_read = masses.into_iter().all(|block| block.named(separation::READING).next().is_some());
        match is_read && proof.lacks(&self.channels).is_empty() {
            true => ProofShows::Proven,
            false => ProofShows::Unfinished,
        }
    }

    /// What of its latest proof is beyond what the shop accepts, in words.
    pub fn proof_failures(&self, shop: &ShopRules) -> Vec<String> {
        let measuring = Measuring::of(self.sheet(), &self.contradictions);
        let proof = self.proof.as_ref().filter(|_| !self.is_on_stand());
        proof.map(|proof| failures(proof, &measuring, shop)).unwrap_or_default()
    }

    /// A stand is not set to anything; in its own bearings a rotor has trials that are its proof.
    pub fn wants_no_proof(&self) -> bool {
        self.is_on_stand() || self.supports() == Some(Supports::InPlace) && self.trials.is_some()
    }

    /// The same in words, with the day of the proof: `proven 2026-04-14`, `never proven`.
    pub fn proof_in_words(&self, shop: &ShopRules) -> String {
        let shows = self.proof_shows(shop);
        let day = self.proof.as_ref().map(|proof| match proof.block.day(proof::DATE) {
            Some(day) => day.to_string(),
            None => "undated".to_owned(),
        });
        let day = day.unwrap_or_default();
        match shows {
            ProofShows::Proven => format!("proven {day}"),
            ProofShows::Failed => format!("proof {day} fails"),
            ProofShows::Unfinished => format!("proof {day} unfinished"),
            ProofShows::Never => "never proven".to_owned(),
            ProofShows::NoneWanted if self.is_on_stand() => "a static stand, which is not proven".to_owned(),
            ProofShows::NoneWanted => "by trial runs, without a proof".to_owned(),
        }
    }
}
