use crate::check::amounts::{ratio, shown};
use crate::check::calibration::{self, AT_LEAST, Finding};
use crate::check::{ItemContext, Sink};
use crate::units;
use crate::vocabulary::calibrate;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let lowest = calibration::wanted(context).0.min(AT_LEAST);
    for (calibration, block) in calibration::blocks(context) {
        let Some(times) = calibration.times_tolerance.get().filter(|_| calibration::is_too_small(context, calibration))
        else {
            continue;
        };
        let message = format!(
            "the calibration unbalance of plane {}, {}, is only {} times its tolerance of {}, where {} times is the \
             least that shows",
            calibration.plane,
            shown(&calibration.unbalance),
            ratio(times.value()),
            shown(&calibration.tolerance),
            units::plainly(lowest)
        );
        let draft = context.beside_first(
            block,
            &[calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()],
            message,
        );
        let better = calibration::advice(context, calibration, block, Finding::TooSmall);
        let draft = draft.help(better.unwrap_or_else(|| "take more mass or a larger radius".to_owned()));
        sink.report(calibration::offer_better(context, draft, calibration, block));
    }
}
