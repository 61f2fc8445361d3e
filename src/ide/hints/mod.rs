//! Results between the lines: what is computed, shown where it belongs.

mod inherited;
mod open_pins;
mod results;
#[cfg(test)]
mod tests;
mod times;
mod wording;

use crate::book::{Book, Computing, Entry, FileId, ItemId};
use crate::check::Place;
use crate::text::{Edit, Span};

/// Whether a hint would show this result.
pub(super) fn is_said(book: &Book, entry: &Entry) -> bool {
    wording::said(book, entry).is_some()
}

/// Which hints a person wants to see.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum HintsShown {
    #[default]
    All,
    /// Results, but nothing that was taken over.
    Results,
    Off,
}

/// A few words shown after a piece of text without being part of it.
#[derive(Clone, PartialEq, Debug)]
pub struct Hint {
    /// After which byte it is shown.
    pub at: u32,
    pub label: String,
    pub kind: HintKind,
    /// Markdown: formula, numbers, source.
    pub tooltip: String,
    /// What accepting it writes: the pinned lines, or the facts that were taken over.
    pub edits: Vec<Edit>,
    /// Where to go from it: the fact or item that things were taken over from.
    pub target: Option<Place>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum HintKind {
    /// A fact that was left out and is computed from the others.
    LeftOut,
    /// What is computed of the fact or block it comes after.
    Result,
    /// A reading as a multiple of the tolerance.
    TimesTolerance,
    /// What `like` brought.
    Inherited,
    /// What the change of a line moves.
    Moved,
}

/// The hints of a file that are in `range`, in the order of their places. A hole gives none.
pub fn hints(computing: &Computing<'_>, file: FileId, range: Span, shown: HintsShown) -> Vec<Hint> {
    let source = computing.book().file(file);
    if shown == HintsShown::Off || source.problem.is_some() {
        return Vec::new();
    }
    let mut hints = Vec::new();
    for (index, item) in source.sheet.items.iter().enumerate().filter(|(_, item)| item.span.touches(range)) {
        let id = ItemId { file, index: index as u32 };
        let computed = computing.item(id);
        results::of(computing.book(), id, item, &computed, &mut hints);
        open_pins::of(computing, id, item, &computed, &mut hints);
        times::of(item, &computed, &mut hints);
        if shown == HintsShown::All {
            inherited::of(computing, id, item, &computed, &mut hints);
        }
    }
    hints.retain(|hint| range.start <= hint.at && hint.at <= range.end);
    hints.sort_by_key(|hint| (hint.at, hint.kind));
    hints
}
