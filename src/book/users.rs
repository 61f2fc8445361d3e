//! Which items refer to which.

use super::effective::effective;
use super::files::{Book, ItemId};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{AnyFact, setup};

/// The items that refer to each item, in the order of the book.
#[derive(Clone, Copy, Debug)]
pub struct Users<'b> {
    pub(super) book: &'b Book,
}

impl Users<'_> {
    /// The setups of a rotor or on a machine, directly or through `like`.
    pub fn setups(&self, used: ItemId) -> Vec<ItemId> {
        let book = self.book;
        let item = book.item(used);
        let fact = if item.kind == Kind::Machine { setup::MACHINE.any() } else { setup::ROTOR.any() };
        let mut setups: Vec<ItemId> = Vec::new();
        let mut open = book.naming(item.kind, item.name_text()).to_vec();
        while let Some(id) = open.pop() {
            let is_setup = book.item(id).kind == Kind::Setup;
            if is_setup && !setups.contains(&id) && setup_reference(book, id, item.kind, fact) == Some(used) {
                setups.push(id);
                // Those that are like it may take it over.
                open.extend(book.naming(Kind::Setup, book.item(id).name_text()));
            }
        }
        setups.sort();
        setups
    }

    /// The assemblies that a rotor is a part of, once for each place it has in one.
    pub fn assemblies(&self, part: ItemId) -> Vec<ItemId> {
        let book = self.book;
        let name = book.item(part).name_text();
        if book.find(Kind::Rotor, name) != Ok(part) {
            return Vec::new();
        }
        let places = |id: &ItemId| {
            let item = book.item(*id);
            let rotor = Some(item).filter(|item| item.kind == Kind::Rotor);
            rotor.map_or(0, |item| item.inner(Kind::MadeOf).filter(|made_of| made_of.name_text() == name).count())
        };
        let users = book.naming(Kind::Rotor, name).iter();
        users.flat_map(|id| std::iter::repeat_n(*id, places(id))).collect()
    }
}

/// What a setup refers to by a key, by a line of its own or by one that it takes over.
fn setup_reference(book: &Book, setup: ItemId, kind: Kind, fact: AnyFact) -> Option<ItemId> {
    let own = book.item(setup).field(fact).map(|field| &field.value);
    let value = match own {
        Some(FieldValue::Name(_)) => own,
        _ => effective(book, setup).0.field(fact).map(|field| &field.field.value),
    };
    let Some(FieldValue::Name(name)) = value else { return None };
    book.find(kind, &name.text).ok()
}
