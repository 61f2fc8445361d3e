//! Two changes of one file brought together, fact by fact.
//!
//! Git merges lines, and edits of neighbouring lines conflict, however little they have to do with each other. Here blocks
//! are paired by kind and name and facts by their heads: what one side left as it was is taken from the other. Order and
//! comments are kept; of a pin either side will do, because `pin` works it out again. What is left is a question to the
//! authors, and is between git's marks, that fact alone. So does work that both sides went on with in one record.

mod entries;
mod order;
mod three_way;
mod work;

pub use three_way::{Labels, Merged};

use crate::book::SourceFile;
use entries::Body;
use three_way::Merging;

/// The versions of a file that both sides began with, and what each made of it. `None` where one of them cannot be told
/// apart into facts, or where facts alone do not make a sheet: lines have to be merged then.
pub fn merge(base: &str, ours: &str, theirs: &str, labels: &Labels) -> Option<Merged> {
    let read = |text: &str| SourceFile::read("", text);
    let [base, ours, theirs] = [read(base), read(ours), read(theirs)];
    let bodies = [Body::of(&base)?, Body::of(&ours)?, Body::of(&theirs)?];
    let [base, ours, theirs] = &bodies;
    let mut merging = Merging::new(labels);
    merging.body(Some(base), ours, theirs);
    let merged = merging.finish();
    let is_whole = !merged.conflicts.is_empty() || SourceFile::read("", &*merged.text).errors.is_empty();
    is_whole.then_some(merged)
}
