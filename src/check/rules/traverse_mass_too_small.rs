use crate::check::amounts::{amount, shown};
use crate::check::{ItemContext, Sink};
use crate::mechanics::machine::TEST_OVER_RESIDUAL;
use crate::units;
use crate::vocabulary::traverse;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for traverse in context.record().iter().flat_map(|record| &record.traverses) {
        let residual = traverse.residual.amount();
        let (Some(test), Some(found)) = (traverse.test.get(), residual.get()) else { continue };
        let Some(alike) = traverse.would_read_alike.get().filter(|_| test < found * TEST_OVER_RESIDUAL) else {
            continue;
        };
        let message = format!(
            "the test mass puts in {}, less than {} times the residual of {} that it finds; a residual of {} would \
             read the same",
            shown(&traverse.test),
            units::plainly(TEST_OVER_RESIDUAL),
            amount(found, residual.unit),
            amount(alike, residual.unit)
        );
        sink.report(
            context
                .beside_first(&traverse.block, &[traverse::MASS.any()], message)
                .help("traverse again with a test mass several times the residual, or correct the rotor first"),
        );
    }
}
