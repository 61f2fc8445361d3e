//! What channels may read with the rotor in place.

use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::origin::Reason;
use crate::book::readers::Facts;
use crate::book::results::bench::machine::ReadoutFacts;
use crate::book::results::rotor::kept::keeps_any;
use crate::sheet::NameAt;
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
    let of_day = kept.filter(|kept| keeps_any(kept));
    let (block, fact) = match of_day {
        Some(kept) => (kept, proven_with::LIMIT_ON),
        None => (setup, setup::VIBRATION_LIMIT),
    };
    let limit = |(channel, field): (&'b NameAt, EffectiveField<'b>)| {
        let origin = facts.origin(block, fact, Some(field));
        let limit: Val<Indication> = facts.quantity_of(block, field, origin);
        // Nothing that is read can be held against a limit of another dimension.
        let other = readout.filter(|readout| limit.is_known() && limit.unit.dimension() != readout.unit.dimension());
        let limit = match other {
            Some(readout) => {
                let why = format!("the limit is in {}, and the readout shows {}", limit.unit, readout.unit);
                Val::missing(limit.origin, Reason::Impossible(why.into()), readout.unit)
            }
            None => limit,
        };
        VibrationLimit { channel, limit }
    };
    block.named(fact).map(limit).collect()
}
