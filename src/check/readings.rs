//! What rules on readings share: every reading of a setup or record, and the readout that shows it.

use super::context::ItemContext;
use super::diagnostic::Draft;
use super::wording;
use crate::book::{EffectiveBlock, EffectiveField, ReadoutFacts, SetupResults};
use crate::sheet::{FieldValue, StatedReading};
use crate::syntax::Kind;
use crate::vocabulary::setup;

/// The setup whose readout shows the readings of an item: the setup itself, or that of a record.
pub fn setup<'b, 'c>(context: &ItemContext<'b, 'c>) -> Option<&'c SetupResults<'b>> {
    context.setup().or_else(|| context.record()?.setup.as_deref())
}

/// The readout of that setup's machine.
pub fn readout<'b, 'c>(context: &ItemContext<'b, 'c>) -> Option<&'c ReadoutFacts<'b>> {
    setup(context)?.machine.as_ref()?.readout.as_ref()
}

/// Every reading of an item, those of its inner blocks included, with the fact it is in.
pub fn all<'b>(context: &ItemContext<'b, '_>) -> Vec<(EffectiveField<'b>, &'b StatedReading)> {
    let mut found = Vec::new();
    collect(context.effective(), &mut found);
    found
}

fn collect<'b>(block: &EffectiveBlock<'b>, found: &mut Vec<(EffectiveField<'b>, &'b StatedReading)>) {
    for field in &block.fields {
        match &field.field.value {
            FieldValue::Reading(reading) => found.push((*field, reading)),
            FieldValue::OfDay(checked) => found.push((*field, &checked.reading)),
            FieldValue::Readings(readings) => found.extend(readings.iter().map(|reading| (*field, reading))),
            _ => {}
        }
    }
    // A stated error is nothing that a readout shows.
    for inner in block.blocks.iter().filter(|inner| inner.kind != Kind::BalanceError) {
        collect(inner, found);
    }
}

/// Offers the channels of the machine that read no plane yet for one that is not read.
pub fn reading_channels(context: &ItemContext<'_, '_>, draft: Draft, setup: &SetupResults<'_>, plane: &str) -> Draft {
    let channels = setup.machine.as_ref().map_or(&[][..], |machine| &machine.channels);
    let free = channels.iter().filter(|channel| setup.channels.iter().all(|(taken, _)| taken != *channel));
    free.fold(draft, |draft, channel| {
        let line =
            format!("{} {}: {}", setup::CHANNEL, wording::name_as_written(channel), wording::name_as_written(plane));
        draft.offer_in(context.book(), setup.block.place(), &[&line])
    })
}

/// Offers both ways in which two channels may read two planes.
pub fn pairings(context: &ItemContext<'_, '_>, draft: Draft, channels: &[&str], planes: &[&str]) -> Draft {
    let ([a, b], [left, right]) = (channels, planes) else { return draft };
    let line = |channel: &str, plane: &str| {
        format!("{} {}: {}", setup::CHANNEL, wording::name_as_written(channel), wording::name_as_written(plane))
    };
    [(left, right), (right, left)]
        .into_iter()
        .fold(draft, |draft, (first, second)| draft.offer(context, &[&line(a, first), &line(b, second)]))
}
