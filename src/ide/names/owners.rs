//! The items whose inner names an item may use: its rotor, its machine, the shop.

use crate::book::{Book, EffectiveBlock, ItemId, effective};
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::{Fact, OfKind, To, record, setup};

/// The items whose inner names an item may use.
#[derive(Clone, Copy)]
pub(in crate::ide) struct Owners {
    pub rotor: Option<ItemId>,
    pub machine: Option<ItemId>,
    pub setup: Option<ItemId>,
    pub shop: Option<ItemId>,
    /// The rotor that the block at hand is a part of an assembly by.
    pub part: Option<ItemId>,
}

impl Owners {
    pub fn new(book: &Book, item: ItemId) -> Self {
        let block = book.item(item);
        let shop = book.shop_id();
        let alone = Self { rotor: None, machine: None, setup: None, shop, part: None };
        match block.kind {
            Kind::Rotor => Self { rotor: Some(item), ..alone },
            Kind::Machine => Self { machine: Some(item), ..alone },
            Kind::Setup => Self::of_setup(book, item, alone),
            Kind::Record => match reference(book, block, record::SETUP) {
                Some(setup) => Self::of_setup(book, setup, alone),
                None => alone,
            },
            _ => alone,
        }
    }

    fn of_setup(book: &Book, setup: ItemId, alone: Self) -> Self {
        let block = book.item(setup);
        let alone = Self { setup: Some(setup), ..alone };
        if block.field(setup::LIKE).is_none() {
            let (rotor, machine) = (reference(book, block, setup::ROTOR), reference(book, block, setup::MACHINE));
            return Self { rotor, machine, ..alone };
        }
        let (block, _) = effective(book, setup);
        let rotor = effective_reference(book, &block, setup::ROTOR);
        let machine = effective_reference(book, &block, setup::MACHINE);
        Self { rotor, machine, ..alone }
    }
}

/// The item that a fact of a block names.
pub(super) fn reference<B: OfKind>(book: &Book, block: &Block, fact: Fact<To<B>>) -> Option<ItemId> {
    let FieldValue::Name(name) = &block.field(fact)?.value else { return None };
    book.find(B::KIND, &name.text).ok()
}

/// The same with facts taken over.
fn effective_reference<B: OfKind>(book: &Book, block: &EffectiveBlock<'_>, fact: Fact<To<B>>) -> Option<ItemId> {
    let FieldValue::Name(name) = &block.field(fact)?.field.value else { return None };
    book.find(B::KIND, &name.text).ok()
}
