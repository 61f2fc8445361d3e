//! Where a sheet names items of the book.

use super::effective::EffectiveBlock;
use crate::sheet::{Block, Field, FieldValue, NameAt};
use crate::syntax::Kind;
use crate::vocabulary::{Fact, KeySpec, NameOf, ValueType};

/// A name of an item of a kind, where it is written.
#[derive(Clone, Copy, Debug)]
pub struct Reference<'b> {
    pub kind: Kind,
    pub name: &'b NameAt,
    /// The fact that names it; `None` in the heading of a block.
    by: Option<&'static KeySpec>,
}

impl Reference<'_> {
    pub fn is_by<T: ?Sized>(&self, fact: Fact<T>) -> bool {
        self.by.is_some_and(|key| key.is(fact))
    }
}

/// All references of a block and of the blocks in it, as they are written there.
pub fn references(block: &Block) -> Vec<Reference<'_>> {
    let mut found = Vec::new();
    each(block, &mut |reference| found.push(reference));
    found
}

/// All references of a block as it holds, with those that it takes over.
pub fn references_in_force<'b>(block: &EffectiveBlock<'b>) -> Vec<Reference<'b>> {
    let mut found: Vec<Reference<'b>> = by_heading(block.written).into_iter().collect();
    found.extend(block.fields.iter().filter_map(|one| by_fact(one.field)));
    found.extend(block.blocks.iter().flat_map(references_in_force));
    found
}

pub(super) fn each<'b>(block: &'b Block, found: &mut dyn FnMut(Reference<'b>)) {
    by_heading(block).into_iter().chain(block.fields.iter().filter_map(by_fact)).for_each(&mut *found);
    for inner in &block.blocks {
        each(inner, found);
    }
}

fn by_heading(block: &Block) -> Option<Reference<'_>> {
    match (block.spec().name, &block.name) {
        (Some(NameOf::Item(kind)), Some(name)) => Some(Reference { kind, name, by: None }),
        _ => None,
    }
}

fn by_fact(field: &Field) -> Option<Reference<'_>> {
    match (field.key.value, &field.value) {
        (ValueType::Reference(kind), FieldValue::Name(name)) => Some(Reference { kind, name, by: Some(field.key) }),
        _ => None,
    }
}
