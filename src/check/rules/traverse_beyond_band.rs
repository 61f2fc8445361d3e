use crate::check::amounts::{limit, percent};
use crate::check::{ItemContext, Sink};
use crate::mechanics::machine::TRAVERSE_BAND;
use crate::vocabulary::traverse;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for traverse in context.record().iter().flat_map(|record| &record.traverses) {
        let Some(departure) = traverse.departure.get().filter(|_| traverse.passes == Some(false)) else { continue };
        let message = format!(
            "with ten times the machine's smallest residual the readings depart by {} from their mean, more than {}",
            percent(departure.value()),
            limit(TRAVERSE_BAND)
        );
        sink.report(context.beside_first(&traverse.block, &[traverse::READINGS.any()], message).help(
            "correct the rotor further and traverse again; if it stays, the machine does not reach what it states",
        ));
    }
}
