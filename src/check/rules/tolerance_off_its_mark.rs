use crate::book::{CalibrateResults, SaidBy};
use crate::check::agreement::Reckoned;
use crate::check::amounts::{amount, shown};
use crate::check::{ItemContext, Sink, calibration};
use crate::units::{Amount, Indication, Unit};
use crate::vocabulary::{calibrate, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for (one, block) in calibration::blocks(context) {
        let found = moved(context, one);
        let fact = [calibrate::READING.any(), calibrate::MASS.any()];
        sink.drafts.extend(found.map(|(message, help)| context.beside_first(block, &fact, message).help(help)));
    }
}

/// A reading that was set and proven, and what it would have to be with the tolerance of today.
fn moved(context: &ItemContext<'_, '_>, one: &CalibrateResults<'_>) -> Option<(String, String)> {
    let set = one.set_to.as_ref().filter(|set| set.said_by == SaidBy::Proof)?;
    let half_step = 3f64.sqrt() * set.reading.standard_uncertainty();
    let again = Reckoned::of(&one.should_read)?;
    if !again.disagrees_with(set.reading.get()?.raw(), half_step) {
        return None;
    }
    let (tolerance, division) = (one.tolerance.get()?, one.one_division.get()?);
    let reads = amount(Indication::new((tolerance / division).value()), Unit::DIVISION);
    let demanded = context.setup()?.block.field(setup::TOLERANCE_READS).map(|field| context.line(field))?;
    let message = format!(
        "the tolerance of plane {} no longer reads what the sheet says: {} reads {reads}, the sheet says {demanded}",
        one.plane,
        shown(&one.tolerance)
    );
    let calibrated = again.shown();
    let help = format!(
        "a division stays {}, as it was set on the day of the proof; when the plane is calibrated again, set {}",
        shown(&one.one_division),
        calibrated
    );
    Some((message, help))
}
