//! What binds a record to what it was run by.

use super::check_item;
use crate::book::{Computing, ItemId};
use crate::text::Edit;

/// The edits that write down what a record was run by, where its day allows no doubt of it; none where it says so already.
pub fn edits_that_bind(computing: &Computing<'_>, record: ItemId) -> Vec<Edit> {
    let found = check_item(computing, record);
    let fix = found.iter().find(|one| one.rule.code == "record-not-bound").and_then(|one| one.fixes.first());
    let own = fix.iter().flat_map(|fix| &fix.edits).filter(|edit| edit.file == record.file);
    own.map(|one| one.edit.clone()).collect()
}
