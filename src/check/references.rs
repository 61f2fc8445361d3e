//! Where a sheet names items of the book.

use crate::sheet::schema::{NameOf, ValueType};
use crate::sheet::{Block, FieldValue, NameAt};
use crate::syntax::Kind;

/// A name of an item of a kind, where it is written.
#[derive(Clone, Copy)]
pub struct Reference<'b> {
    pub kind: Kind,
    pub name: &'b NameAt,
}

/// All references of a block and of the blocks in it, as they are written there.
pub fn of(block: &Block) -> Vec<Reference<'_>> {
    let mut found = Vec::new();
    if let (Some(NameOf::Item(kind)), Some(name)) = (block.spec().name, &block.name) {
        found.push(Reference { kind, name });
    }
    for field in &block.fields {
        if let (ValueType::Reference(kind), FieldValue::Name(name)) = (field.key.value, &field.value) {
            found.push(Reference { kind, name });
        }
    }
    found.extend(block.blocks.iter().flat_map(of));
    found
}
