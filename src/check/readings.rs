//! What rules on readings share: every reading of a setup, and the readout that shows it.

use super::context::ItemContext;
use crate::book::{EffectiveBlock, EffectiveField, ReadoutFacts};
use crate::sheet::{FieldValue, StatedReading};

/// The readout of the setup's machine.
pub fn readout<'b, 'c>(context: &ItemContext<'b, 'c>) -> Option<&'c ReadoutFacts<'b>> {
    context.setup()?.machine.as_ref()?.readout.as_ref()
}

/// Every reading of an item, those of its inner blocks included, with the fact it stands in.
pub fn all<'b>(context: &ItemContext<'b, '_>) -> Vec<(EffectiveField<'b>, &'b StatedReading)> {
    let mut found = Vec::new();
    collect(context.effective(), &mut found);
    found
}

fn collect<'b>(block: &EffectiveBlock<'b>, found: &mut Vec<(EffectiveField<'b>, &'b StatedReading)>) {
    for field in &block.fields {
        match &field.field.value {
            FieldValue::Reading(reading) => found.push((*field, reading)),
            FieldValue::Readings(readings) => found.extend(readings.iter().map(|reading| (*field, reading))),
            _ => {}
        }
    }
    for inner in &block.blocks {
        collect(inner, found);
    }
}
