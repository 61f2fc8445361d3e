use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::vocabulary::traverse;

/// Source: residual unbalance work sheet of API 610 and 617 (from memory).
const FEWEST: u32 = 6;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record().filter(|_| context.is_read_whole()) else { return };
    for traverse in &record.traverses {
        let places = match traverse.block.field(traverse::PLACES).map(|field| &field.field.value) {
            Some(FieldValue::Places { count, .. }) => *count,
            _ => FEWEST,
        };
        if places < FEWEST {
            let message = format!("the traverse has {places} places, and it takes {FEWEST} or more to tell a residual");
            let help = "put the test mass at six or twelve places in turn, at equal steps: `places: 12 from 0 deg`";
            sink.report(context.beside_first(&traverse.block, &[traverse::PLACES.any()], message).help(help));
            continue;
        }
        let Some((readings, places)) = traverse.counts.filter(|(_, places)| *places > 0) else { continue };
        let message = format!("there are {readings} readings for {places} places");
        let help = "give one reading for each place, in the order of the angles";
        sink.report(context.beside_first(&traverse.block, &[traverse::READINGS.any()], message).help(help));
    }
}
