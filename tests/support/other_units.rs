//! A book whose quantities are written in other units.

use std::sync::Arc;

use rotorbook::book::{Book, Computing, EffectiveBlock, ItemId, SourceFile};
use rotorbook::sheet::FieldValue;
use rotorbook::text::{Edit, apply};
use rotorbook::units::{Dimension, Indication, Unit};

/// Another unit for each dimension.
fn other_unit(dimension: Dimension, unit: Unit) -> Option<Unit> {
    let candidates: &[&str] = match dimension {
        Dimension::MASS => &["oz", "lb", "mg"],
        Dimension::LENGTH => &["in", "cm", "mil"],
        Dimension::UNBALANCE => &["oz·in", "g·in"],
        Dimension::SPEED => &["Hz", "rad/s"],
        Dimension::ANGLE => &["rad"],
        Dimension::DENSITY => &["lb/in³", "kg/m³"],
        _ => return None,
    };
    candidates.iter().map(|unit| Unit::parse(unit).unwrap()).find(|other| *other != unit)
}

/// Every single quantity of a block in another unit, with its uncertainty written out.
fn rewritten(computing: &Computing<'_>, id: ItemId, block: &EffectiveBlock<'_>, edits: &mut Vec<Edit>) {
    // What is taken over from another item is rewritten where it is.
    for field in block.fields.iter().filter(|field| field.item == id) {
        let FieldValue::Quantity(stated) = &field.field.value else { continue };
        // The digits of a zero say how well it was read, in the unit it was read in.
        let Some(unit) = other_unit(stated.dimension(), stated.unit).filter(|_| stated.base != 0.0) else { continue };
        let origin = computing.facts().origin_of(block, *field);
        let value = computing.facts().stated::<Indication>(block, *field, stated, origin);
        let amount = unit.from_base(stated.base);
        let expanded = value.expanded_uncertainty() / unit.factor();
        let limits = if expanded > 0.0 { format!(" ± {expanded} {unit} (k=2)") } else { String::new() };
        edits.push(Edit::replace(field.field.value_span, format!("{amount} {unit}{limits}")));
    }
    for inner in &block.blocks {
        rewritten(computing, id, inner, edits);
    }
}

pub fn in_other_units(book: &Book) -> Book {
    let computing = Computing::new(book);
    let files = book.files().map(|(file, source)| {
        let mut edits = Vec::new();
        for id in book.items().filter(|id| id.file == file) {
            let item = computing.item(id);
            // A set's masses are recognised by their values, which other digits would hide: the set stays as it is.
            rewritten(&computing, id, item.effective(), &mut edits);
        }
        Arc::new(SourceFile::read(&*source.path, apply(&source.text, &edits).unwrap()))
    });
    Book::new(files.collect())
}
