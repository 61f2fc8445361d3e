//! The item that somebody means who asks from a line: the one around it, else the next one below, else the last.

use crate::book::{Book, FileId, ItemId};
use crate::syntax::Kind;

/// The nearest item of one of the wanted kinds; `None` where the file has none.
pub fn item_near(book: &Book, file: FileId, offset: u32, is_wanted: impl Fn(Kind) -> bool) -> Option<ItemId> {
    let items = &book.file(file).sheet.items;
    let mut wanted = items.iter().enumerate().filter(|(_, item)| is_wanted(item.kind)).peekable();
    wanted.peek()?;
    let last = wanted.clone().last();
    let (index, _) = wanted.find(|(_, item)| offset <= item.span.end).or(last)?;
    Some(ItemId { file, index: index as u32 })
}
