use crate::book::TraverseResults;
use crate::check::amounts::{amount, shown};
use crate::check::{Draft, ItemContext, Severity, Sink, readings};
use crate::mechanics::machine::TEST_OVER_RESIDUAL;
use crate::units::{self, Unbalance};
use crate::vocabulary::traverse;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for traverse in context.record().iter().flat_map(|record| &record.traverses) {
        let residual = traverse.residual.amount();
        let (Some(test), Some(found)) = (traverse.test.get(), residual.get()) else { continue };
        let Some(alike) = traverse.would_read_alike.get() else { continue };
        if test >= found * TEST_OVER_RESIDUAL {
            sink.drafts.extend(untold(context, traverse, (found, alike)));
            continue;
        }
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

/// Nothing tells two residuals apart where nobody knows what a division means.
fn untold<'b>(
    context: &ItemContext<'b, '_>,
    traverse: &TraverseResults<'b>,
    (found, alike): (Unbalance, Unbalance),
) -> Option<Draft> {
    let unit = traverse.would_read_alike.unit;
    let message = format!(
        "the readings of this traverse are those of a residual of {}, and of one of {}: nothing says what they are in {unit}",
        amount(found, unit),
        amount(alike, unit),
    );
    let help = "make sure that the residual is smaller than the test mass: a larger test mass must read more";
    let draft = context.beside_first(&traverse.block, &[traverse::MASS.any()], message);
    let by_trials = readings::setup(context).is_some_and(|setup| setup.worked_by.is_by_trials());
    (!traverse.is_told && !by_trials && traverse.counts.is_none() && alike.is_finite())
        .then(|| draft.help(help).weighing(Severity::Note))
}
