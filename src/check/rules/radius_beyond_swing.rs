use crate::check::amounts::amount;
use crate::check::calibration::{self, half_swing};
use crate::check::machine_limits::machine_name;
use crate::check::{ItemContext, Sink};
use crate::units::Amount;
use crate::vocabulary::calibrate;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some((half, swing))) = (context.setup(), half_swing(context)) else { return };
    for (calibration, block) in calibration::blocks(context) {
        let (Some(radius), Some(field)) =
            (calibration.radius.get(), block.field(calibrate::RADIUS).or_else(|| block.field(calibrate::DIAMETER)))
        else {
            continue;
        };
        if radius.raw() <= half.raw() * (1.0 + 1e-9) {
            continue;
        }
        let message = format!(
            "{} puts the calibration mass of plane {} beyond half the swing of machine \"{}\", {}",
            context.line(field),
            calibration.plane,
            machine_name(setup),
            amount(half, calibration.radius.unit)
        );
        sink.report(
            context
                .beside(field, message)
                .help("see whether a diameter was written as a radius: that is what `diameter:` is for")
                .about(swing, "what clears the bed"),
        );
    }
}
