//! Results between the lines: what is computed, shown where it belongs.

use crate::book::{Computing, FileId};
use crate::check::Place;
use crate::text::{Edit, Span};

/// Which hints a person wants to see.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum HintsShown {
    #[default]
    All,
    /// Results, but nothing that was taken over.
    Results,
    Off,
}

/// A few words shown behind a piece of text without being part of it.
#[derive(Clone, PartialEq, Debug)]
pub struct Hint {
    /// Behind which byte it is shown.
    pub at: u32,
    pub label: String,
    pub kind: HintKind,
    /// Markdown: formula, numbers, source.
    pub tooltip: String,
    /// What accepting it writes: the pinned line, or the fact that was taken over.
    pub edits: Vec<Edit>,
    /// Where to go from it: the fact that was taken over.
    pub target: Option<Place>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum HintKind {
    /// What is computed of the fact or block it stands behind.
    Result,
    /// A fact that was left out and is computed from the others.
    LeftOut,
    /// What `like` brought.
    Inherited,
    /// A reading as a multiple of the tolerance.
    TimesTolerance,
}

/// The hints of a file that stand in `range`, in the order of their places. A hole gives none.
pub fn hints(computing: &Computing<'_>, file: FileId, range: Span, shown: HintsShown) -> Vec<Hint> {
    let _ = (computing, file, range, shown);
    Vec::new()
}
