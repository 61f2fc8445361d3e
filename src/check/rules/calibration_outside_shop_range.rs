use crate::check::amounts::{ratio, shown};
use crate::check::calibration::{self, AT_LEAST, Finding};
use crate::check::{ItemContext, Sink};
use crate::units;
use crate::vocabulary::calibrate;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (low, high) = calibration::wanted(context);
    for (calibration, block) in calibration::blocks(context) {
        let Some(times) = calibration.times_tolerance.get().map(units::Ratio::value) else { continue };
        let too_small = times < low * (1.0 - 1e-9);
        // Less than that is a warning of its own.
        if times < AT_LEAST.min(low) || !too_small && times <= high * (1.0 + 1e-9) {
            continue;
        }
        let message = format!(
            "the calibration unbalance of plane {}, {}, is {} times its tolerance; the shop keeps to {} to {} times",
            calibration.plane,
            shown(&calibration.unbalance),
            ratio(times),
            units::plainly(low),
            units::plainly(high)
        );
        let draft = context.beside_first(
            block,
            &[calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()],
            message,
        );
        sink.report(match calibration::advice(context, calibration, block, Finding::OutsideShopRange) {
            Some(better) => calibration::offer_better(context, draft.help(better), calibration, block),
            None => draft,
        });
    }
}
