use std::cmp::Ordering;

use crate::book::{FileId, revision_order};
use crate::check::{Draft, wording};
use crate::text::Span;

/// Of a released setup in two versions of a book: its revisions then and now.
pub fn say(file: FileId, revision: Span, was: &str, is: &str) -> Draft {
    let message = match revision_order(is, was) == Some(Ordering::Equal) {
        true => format!("on paper, revision {} cannot be told from {}", wording::quoted(is), wording::quoted(was)),
        false => format!("the revision goes back from {} to {}", wording::quoted(was), wording::quoted(is)),
    };
    Draft::new(file, revision, message)
        .help(format!("use a revision that comes after {}: `rotorbook release` finds it", wording::quoted(was)))
}
