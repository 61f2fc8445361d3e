//! What channels may read with the rotor in place.

use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::origin::Reason;
use crate::book::readers::Facts;
use crate::book::results::bench::machine::ReadoutFacts;
use crate::book::results::rotor::kept::keeps_any;
use crate::sheet::{FieldValue, NameAt};
use crate::units::Indication;
use crate::vocabulary::{proven_with, setup};

/// What one channel may read.
#[derive(Clone, Debug)]
pub struct VibrationLimit<'b> {
    pub channel: &'b NameAt,
    pub limit: Val<Indication>,
}

/// Of the day where a proof or a record has kept limits, else of the sheet.
pub(super) fn limits<'b>(
    facts: &Facts<'b>,
    setup: &EffectiveBlock<'b>,
    kept: Option<&EffectiveBlock<'b>>,
    readout: Option<&ReadoutFacts<'b>>,
) -> Vec<VibrationLimit<'b>> {
    let (block, fact) = match kept.filter(|kept| keeps_any(kept)) {
        Some(kept) => (kept, proven_with::LIMIT_ON),
        None => (setup, setup::VIBRATION_LIMIT),
    };
    let limit = |(channel, field): (&'b NameAt, EffectiveField<'b>)| {
        let FieldValue::Quantity(stated) = &field.field.value else { return None };
        let origin = facts.origin(block, fact, Some(field));
        let limit = facts.stated(block, field, stated, origin);
        // Nothing that is read can be held against a limit of another dimension.
        let limit = match readout.filter(|readout| stated.dimension() != readout.unit.dimension()) {
            Some(readout) => {
                let why = format!("the limit is in {}, and the readout shows {}", stated.unit, readout.unit);
                Val::missing(limit.origin, Reason::Impossible(why.into()), readout.unit)
            }
            None => limit,
        };
        Some(VibrationLimit { channel, limit })
    };
    block.named(fact).filter_map(limit).collect()
}
