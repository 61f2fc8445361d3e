use super::diameter_as_radius_in_calibration::twin;
use crate::check::calibration::{self, half_swing};
use crate::check::{ItemContext, Sink, rotors};
use crate::units::{Amount, Length, Typed};
use crate::vocabulary::{calibrate, rotor};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.setup().and_then(|setup| setup.rotor.as_ref()) else { return };
    let Some((whole, largest)) = rotors::quantity(&rotor.block, rotor::LARGEST_DIAMETER) else { return };
    for (calibration, block) in calibration::blocks(context) {
        let Some(field) = block.field(calibrate::RADIUS).or_else(|| block.field(calibrate::DIAMETER)) else { continue };
        let Some(radius) = calibration.radius.get() else { continue };
        let said_elsewhere = twin(rotor, calibration.plane, radius.raw()).is_some()
            || half_swing(context).is_some_and(|(half, _)| radius.raw() > half.raw());
        if said_elsewhere || radius.raw() <= largest.base / 2.0 * (1.0 + 1e-9) {
            continue;
        }
        let message = format!(
            "{} puts the calibration mass of plane {} beyond the rotor's largest radius of {}",
            context.line(field),
            calibration.plane,
            rotors::given(Length::from_base(largest.base / 2.0), largest.unit)
        );
        sink.report(
            context
                .beside(field, message)
                .help("see whether a diameter was written as a radius, or a figure slipped; measure from the axis to the mass centre of the mass")
                .about(whole, "the rotor's largest diameter"),
        );
    }
}
