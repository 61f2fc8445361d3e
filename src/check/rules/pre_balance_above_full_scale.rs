use crate::book::indication;
use crate::check::amounts::amount;
use crate::check::machine_limits::machine_name;
use crate::check::readings::readout;
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::units::Indication;
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(readout)) = (context.setup(), readout(context)) else { return };
    let (Some(field), Some(end)) = (setup.block.field(setup::PRE_BALANCE_TO), readout.end()) else { return };
    let FieldValue::Reading(reading) = &field.field.value else { return };
    let Some((value, _)) = indication(reading, Some(readout)) else { return };
    if value.value() <= end * (1.0 + 1e-9) {
        return;
    }
    let message = format!(
        "{} can never be seen on machine \"{}\", whose readout ends at {}",
        context.line(field),
        machine_name(setup),
        amount(Indication::new(end), readout.unit)
    );
    sink.report(context.beside(field, message).help("state a reading that is on the scale"));
}
