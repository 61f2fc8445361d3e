//! What is rehearsed of a setup whose calibration may be void.

use std::sync::Arc;

use crate::book::{Book, Computing, EffectiveBlock, ItemId, effective};
use crate::syntax::Kind;
use crate::text::{Edit, apply};

/// The book that a setup is rehearsed in.
pub struct Subject {
    pub book: Book,
    /// Why its calibration is void; what its proof says is then not in the book.
    pub void: Vec<String>,
}

impl Subject {
    /// A setup whose calibration is void is rehearsed as if it had never been proven: what was proven then is not what the
    /// sheet says now, and records would be judged by it.
    pub fn of(book: &Book, setup: ItemId) -> Self {
        let computing = Computing::without_explanations(book);
        let causes = computing.setup(setup).map_or_else(Vec::new, |results| results.void_causes.clone());
        let void: Vec<String> = causes.into_iter().map(|cause| cause.what).collect();
        let unproven = if void.is_empty() { None } else { never_proven(book, setup) };
        Self { book: unproven.unwrap_or_else(|| book.clone()), void }
    }

    /// What is to be said of it first.
    pub fn warning(&self) -> Option<String> {
        let void = self.void.join("; ");
        (!void.is_empty())
            .then(|| format!("Its calibration is void ({void}); it is rehearsed as if it was never proven."))
    }
}

/// Without the proofs of a setup. They stand in its own block: none is taken over from another setup.
fn never_proven(book: &Book, setup: ItemId) -> Option<Book> {
    let (whole, ..) = effective(book, setup);
    let proofs = whole.inner(Kind::Proof).filter(|proof| proof.item == setup);
    let edits: Vec<Edit> = proofs.map(|proof: &EffectiveBlock<'_>| Edit::delete(proof.written.span)).collect();
    let source = book.shared_file(setup.file);
    let text = apply(&source.text, &edits).ok()?;
    Some(book.with_file(Arc::new(source.changed(text))))
}
