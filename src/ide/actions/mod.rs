//! What can be done at a place: fixes of what is wrong there, and other ways to write what stands there.

mod columns;
mod convert;
mod diameter;
mod fixes;
mod masses;
mod missing;
mod pins;
mod rank;
mod take_over;

#[cfg(test)]
mod tests;

pub use fixes::fix_all;
pub(super) use masses::masses_of;
pub use pins::pin_all;

use super::asked::Asked;
use super::place::Place;
use crate::book::{Computing, FileId};
use crate::check::{Diagnostic, FileEdit};
use crate::text::{Edit, Span};

/// One thing that can be done, and the edits that do it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Action {
    /// What it does, as a person would say it: `Write 134.2 mm`.
    pub title: String,
    pub kind: ActionKind,
    /// In any file of the book.
    pub edits: Vec<FileEdit>,
    /// For a quick fix, which of the diagnostics handed in it puts right.
    pub diagnostic: Option<usize>,
    /// Whether it is the one that an editor should apply without asking which.
    pub preferred: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ActionKind {
    /// Puts a diagnostic right.
    QuickFix,
    /// Has the shop rank a diagnostic otherwise.
    Rank,
    /// Says the same in another way.
    Rewrite,
    /// Puts in lines that the sheet lacks or takes over.
    Insert,
    /// Begins a sheet.
    Begin,
    /// Everything of one kind in the file.
    FixAll,
}

/// What can be done where `range` lies in a file. `diagnostics` are those of the file, as the check gave them.
pub fn actions(computing: &Computing<'_>, file: FileId, range: Span, diagnostics: &[Diagnostic]) -> Vec<Action> {
    let mut found = fixes::at(file, range, diagnostics);
    let book = computing.book();
    if book.file(file).problem.is_some() {
        return found;
    }
    let Some(place) = Place::at(book, file, range.start) else { return found };
    let asked = Asked::new(computing, place, range.start);
    found.extend(columns::at(&asked));
    found.extend(convert::at(&asked));
    found.extend(diameter::at(&asked));
    found.extend(masses::at(&asked));
    found.extend(pins::at(&asked));
    found.extend(take_over::at(&asked));
    found.extend(missing::at(&asked));
    found.extend(rank::at(book, file, range, diagnostics));
    found.sort_by_key(|action| action.kind.turn());
    found
}

impl ActionKind {
    /// What puts something right comes before what says it in another way.
    const fn turn(self) -> u8 {
        match self {
            ActionKind::QuickFix => 0,
            ActionKind::FixAll => 1,
            ActionKind::Rank => 2,
            ActionKind::Rewrite | ActionKind::Insert | ActionKind::Begin => 3,
        }
    }
}

impl Asked<'_, '_> {
    /// An action with edits of this file alone.
    fn action(&self, kind: ActionKind, title: impl Into<String>, edits: Vec<Edit>) -> Action {
        let file = self.place.file;
        let edits = edits.into_iter().map(|edit| FileEdit { file, edit }).collect();
        Action { title: title.into(), kind, edits, diagnostic: None, preferred: false }
    }
}
