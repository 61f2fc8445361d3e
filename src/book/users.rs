//! Which items refer to which.

use rustc_hash::FxHashMap;

use super::effective::chain;
use super::files::{Book, ItemId};
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;

/// The items that refer to each item, in the order of the book.
#[derive(Clone, Debug, Default)]
pub struct Users {
    setups: FxHashMap<ItemId, Vec<ItemId>>,
    assemblies: FxHashMap<ItemId, Vec<ItemId>>,
}

impl Users {
    pub(super) fn of(book: &Book) -> Self {
        let mut users = Self::default();
        for id in book.items() {
            let item = book.item(id);
            match item.kind {
                Kind::Setup => {
                    for (kind, key) in [(Kind::Rotor, "rotor"), (Kind::Machine, "machine")] {
                        let Some(used) = setup_reference(book, id, kind, key) else { continue };
                        users.setups.entry(used).or_default().push(id);
                    }
                }
                Kind::Rotor => {
                    for part in
                        item.inner(Kind::MadeOf).filter_map(|part| book.find(Kind::Rotor, part.name_text()).ok())
                    {
                        users.assemblies.entry(part).or_default().push(id);
                    }
                }
                _ => {}
            }
        }
        users
    }

    /// The setups of a rotor or on a machine, directly or through `like`.
    pub fn setups(&self, used: ItemId) -> &[ItemId] {
        self.setups.get(&used).map_or(&[], |setups| setups)
    }

    /// The assemblies that a rotor is a part of, once for each place it has in one.
    pub fn assemblies(&self, part: ItemId) -> &[ItemId] {
        self.assemblies.get(&part).map_or(&[], |assemblies| assemblies)
    }
}

/// What a setup refers to by a key, its own or the nearest one that `like` leads to.
fn setup_reference(book: &Book, setup: ItemId, kind: Kind, key: &str) -> Option<ItemId> {
    let name = |block: &Block| match &block.field(key)?.value {
        FieldValue::Name(name) => Some(name.text.clone()),
        _ => None,
    };
    let own = name(book.item(setup));
    let name = own.or_else(|| chain(book, setup).into_iter().find_map(|link| name(book.item(link.to))))?;
    book.find(kind, &name).ok()
}
