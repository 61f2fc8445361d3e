use super::speed_with_three_decimals::is_doubtful;
use crate::check::{ItemContext, Sink, rotors};
use crate::text::Edit;
use crate::units::{Speed, Unit, plainly};
use crate::vocabulary::rotor;

/// Slower rotors have tolerances that nobody measures. Common practice, no source.
const SLOWEST_RPM: f64 = 30.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(results) = context.rotor() else { return };
    let Some(field) = results.block.field(rotor::HIGHEST_SERVICE_SPEED) else { return };
    let is_slow = results.service_speed.get().is_some_and(|speed| speed < Speed::rpm(SLOWEST_RPM));
    if !is_slow || is_doubtful(context, field.field) {
        return;
    }
    let written = context.text(context.id.file, field.field.value_span);
    let message =
        format!("`{written}` is most likely not the service speed: hardly any rotor that is balanced turns so slowly");
    let mut draft = context.draft(field.field.value_span, message).help(
        "look for a lost digit, a point between thousands, or `rpm` in place of `Hz`; every tolerance rests on it",
    );
    if let Some(stated) = rotors::stated(field.field).filter(|stated| stated.unit == Unit::RPM) {
        let number = plainly(Unit::RPM.from_base(stated.base));
        let thousands = plainly(1000.0 * Unit::RPM.from_base(stated.base));
        for other in [format!("{number} Hz"), format!("{thousands} rpm")] {
            draft = draft.fix(format!("Write {other}"), Edit::replace(field.field.value_span, other));
        }
    }
    sink.report(draft);
}
