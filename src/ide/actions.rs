//! What can be done at a place: fixes of what is wrong there, and other ways to write what stands there.

use crate::book::{Computing, FileId, ItemId};
use crate::check::{self, Diagnostic, FileEdit, ItemContext, PinState};
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
    /// Says the same in another way.
    Rewrite,
    /// Puts in lines that the sheet lacks or takes over.
    Insert,
    /// Everything of one kind in the file.
    FixAll,
}

/// What can be done where `range` lies in a file. `diagnostics` are those of the file, as the check gave them.
pub fn actions(computing: &Computing<'_>, file: FileId, range: Span, diagnostics: &[Diagnostic]) -> Vec<Action> {
    let _ = computing;
    let mut found = Vec::new();
    for (index, diagnostic) in diagnostics.iter().enumerate() {
        if diagnostic.place.file != file || !diagnostic.place.span.touches(range) {
            continue;
        }
        let only = diagnostic.fixes.len() == 1;
        found.extend(diagnostic.fixes.iter().map(|fix| Action {
            title: fix.title.clone(),
            kind: ActionKind::QuickFix,
            edits: fix.edits.clone(),
            diagnostic: Some(index),
            preferred: only,
        }));
    }
    found
}

/// The edits that put right every diagnostic of the file that has an obvious fix; of one code alone where it is given.
/// Fixes that would touch the same text as one before them are left for the next time.
pub fn fix_all(diagnostics: &[Diagnostic], file: FileId, code: Option<&str>) -> Vec<FileEdit> {
    let mut edits: Vec<FileEdit> = Vec::new();
    let wanted = diagnostics.iter().filter(|found| found.place.file == file);
    for diagnostic in wanted.filter(|found| code.is_none_or(|code| code == found.rule.code)) {
        let [fix] = &diagnostic.fixes[..] else { continue };
        let free =
            |new: &FileEdit| edits.iter().all(|old| old.file != new.file || !old.edit.span.touches(new.edit.span));
        if fix.edits.iter().all(free) {
            edits.extend(fix.edits.iter().cloned());
        }
    }
    edits
}

/// Refreshes every stale pin of a file.
pub fn pin_all(computing: &Computing<'_>, file: FileId) -> Vec<Edit> {
    let items = 0..computing.book().file(file).sheet.items.len() as u32;
    let pins = items.flat_map(|index| {
        let id = ItemId { file, index };
        let computed = computing.item(id);
        check::pins(&ItemContext { computing, id, block: computing.book().item(id), computed: &computed })
    });
    let edits = pins.filter_map(|(pin, state)| match state {
        PinState::Stale { refreshed, .. } | PinState::WrongDimension { refreshed, .. } => {
            Some(Edit::replace(pin.value_span, refreshed))
        }
        _ => None,
    });
    edits.collect()
}
