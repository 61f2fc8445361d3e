//! Where a sheet names items of the book.

use crate::sheet::{Block, FieldValue, NameAt};
use crate::syntax::Kind;
use crate::vocabulary::{NameOf, ValueType};

/// A name of an item of a kind, where it is written.
#[derive(Clone, Copy, Debug)]
pub struct Reference<'b> {
    pub kind: Kind,
    pub name: &'b NameAt,
}

/// All references of a block and of the blocks in it, as they are written there.
pub fn references(block: &Block) -> Vec<Reference<'_>> {
    let mut found = Vec::new();
    each(block, &mut |reference| found.push(reference));
    found
}

pub(super) fn each<'b>(block: &'b Block, found: &mut dyn FnMut(Reference<'b>)) {
    if let (Some(NameOf::Item(kind)), Some(name)) = (block.spec().name, &block.name) {
        found(Reference { kind, name });
    }
    for field in &block.fields {
        if let (ValueType::Reference(kind), FieldValue::Name(name)) = (field.key.value, &field.value) {
            found(Reference { kind, name });
        }
    }
    for inner in &block.blocks {
        each(inner, found);
    }
}
