//! Who is worked out from whom: the items that name an item, and those that it names. And which setup is like which.

use super::item_near;
use crate::book::{Book, FileId, ItemId, references};
use crate::sheet::{Block, FieldValue, NameAt};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::setup;

/// An item with the places of the names that lead to it or from it; they are in the item that names.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Related {
    pub item: ItemId,
    pub names: Vec<Span>,
}

/// The item that is at an offset: the one named there, else the one around it.
pub fn item_meant(book: &Book, file: FileId, offset: u32) -> Option<ItemId> {
    let around = item_near(book, file, offset, |_| true)?;
    let named = references(book.item(around)).into_iter().find(|reference| {
        let span = reference.name.span;
        span.start <= offset && offset <= span.end
    });
    named.and_then(|reference| book.find(reference.kind, &reference.name.text).ok()).or(Some(around))
}

/// The items that are worked out from an item.
pub fn worked_out_from(book: &Book, item: ItemId) -> Vec<Related> {
    let block = book.item(item);
    let users = book.naming(block.kind, block.name_text()).iter();
    let names = |user: &ItemId| {
        let of_item = references(book.item(*user)).into_iter();
        let names = of_item.filter(|found| book.find(found.kind, &found.name.text) == Ok(item));
        Related { item: *user, names: names.map(|found| found.name.span).collect() }
    };
    let mut found: Vec<Related> = users.map(names).filter(|related| !related.names.is_empty()).collect();
    found.sort_by_key(|related| related.item);
    found.dedup();
    found
}

/// The items that an item is worked out from, in the order in which it names them.
pub fn rests_on(book: &Book, item: ItemId) -> Vec<Related> {
    let mut found: Vec<Related> = Vec::new();
    for reference in references(book.item(item)) {
        let Ok(named) = book.find(reference.kind, &reference.name.text) else { continue };
        match found.iter_mut().find(|related| related.item == named) {
            Some(related) => related.names.push(reference.name.span),
            None => found.push(Related { item: named, names: vec![reference.name.span] }),
        }
    }
    found
}

/// The setup that a setup is like.
pub fn like_which(book: &Book, item: ItemId) -> Option<ItemId> {
    book.find(Kind::Setup, &like(book.item(item))?.text).ok()
}

/// The setups that are like a setup.
pub fn like_this(book: &Book, item: ItemId) -> Vec<ItemId> {
    let users = book.naming(Kind::Setup, book.item(item).name_text()).iter().copied();
    let mut found: Vec<ItemId> = users.filter(|user| like_which(book, *user) == Some(item)).collect();
    found.sort();
    found.dedup();
    found
}

fn like(block: &Block) -> Option<&NameAt> {
    let field = if block.kind == Kind::Setup { block.field(setup::LIKE)? } else { return None };
    match &field.value {
        FieldValue::Name(name) => Some(name),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    fn names(book: &Book, found: &[Related]) -> Vec<String> {
        found.iter().map(|related| book.item(related.item).name_text().to_owned()).collect()
    }

    #[test]
    fn what_is_worked_out_from_a_rotor_leads_on_to_its_records() {
        let more = "#! more.rotor\nrecord r {\n  setup: \"wheel on the soft bench\"\n}\nsetup twin {\n  like: \"wheel on the soft bench\"\n}\n";
        let text = format!("{SHOP}{SETUP}}}\n{more}").replace("rotor: wheel", "rotor: wh$0eel");
        let fixture = fixture(&text);
        let book = &fixture.book;
        // The rotor that is named, not the setup that names it.
        let rotor = item_meant(book, fixture.file, fixture.offset).unwrap();
        assert_eq!(book.item(rotor).kind, Kind::Rotor);
        let setups = worked_out_from(book, rotor);
        assert_eq!(names(book, &setups), ["wheel on the soft bench"]);
        let setup = setups[0].item;
        let mut on = names(book, &worked_out_from(book, setup));
        on.sort();
        assert_eq!(on, ["r", "twin"]);
        assert_eq!(names(book, &rests_on(book, setup)), ["wheel", "soft bench"]);
        let twin = like_this(book, setup);
        assert_eq!(book.item(twin[0]).name_text(), "twin");
        assert_eq!(like_which(book, twin[0]), Some(setup));
        assert_eq!(like_which(book, rotor), None);
    }
}
