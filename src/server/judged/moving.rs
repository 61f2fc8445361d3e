//! Places in what is said, moved along with the text they speak of.

use crate::book::{Difference, FileId};
use crate::check::{Diagnostic, FileEdit, Place};
use crate::text::Edit;

/// Moves the places in `file`; `false` when one of them stood in something that has changed.
pub(super) fn within(said: &mut [Diagnostic], file: FileId, difference: &Difference) -> bool {
    let mut all = true;
    each_place(said, |place| {
        if place.file == file {
            match difference.moved(place.span) {
                Some(span) => place.span = span,
                None => all = false,
            }
        }
    });
    all
}

/// The same of what is said of the book as a whole, which holds while items are typed into. What stood in what was
/// typed over is dropped; `false` when something was.
pub(super) fn along(said: &mut Vec<Diagnostic>, file: FileId, difference: &Difference) -> bool {
    let before = said.len();
    said.retain_mut(|one| {
        let mut stands = true;
        each_place(std::slice::from_mut(one), |place| {
            if place.file == file {
                match difference.moved(place.span).or_else(|| difference.carried(place.span)) {
                    Some(span) => place.span = span,
                    None => stands = false,
                }
            }
        });
        stands
    });
    said.len() == before
}

/// Gives the files their new numbers. What speaks of a file that is gone is dropped; `false` when something was.
pub(super) fn to_files(said: &mut Vec<Diagnostic>, now: &[Option<FileId>]) -> bool {
    let before = said.len();
    said.retain_mut(|one| {
        let mut stands = true;
        each_place(std::slice::from_mut(one), |place| match now[place.file.0 as usize] {
            Some(file) => place.file = file,
            None => stands = false,
        });
        stands
    });
    said.len() == before
}

/// The other files that what is said of `file` points into.
pub(super) fn others(said: &[Diagnostic], file: FileId) -> impl Iterator<Item = FileId> {
    let related = said.iter().flat_map(|one| one.related.iter().map(|related| related.place.file));
    let edited = said.iter().flat_map(|one| &one.fixes).flat_map(|fix| fix.edits.iter().map(|edit| edit.file));
    related.chain(edited).filter(move |other| *other != file)
}

fn each_place(said: &mut [Diagnostic], mut visit: impl FnMut(&mut Place)) {
    for Diagnostic { place, related, fixes, .. } in said {
        visit(place);
        related.iter_mut().for_each(|other| visit(&mut other.place));
        for FileEdit { file, edit: Edit { span, .. } } in fixes.iter_mut().flat_map(|fix| &mut fix.edits) {
            let mut place = Place { file: *file, span: *span };
            visit(&mut place);
            (*file, *span) = (place.file, place.span);
        }
    }
}
