use crate::book;
use crate::check::amounts::{is_within, ranges};
use crate::check::machine_limits::{machine_fact, machine_name};
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::vocabulary::{machine, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((setup, range)) = machine_fact(context, machine::BETWEEN_SUPPORTS) else { return };
    let Some(places) = setup.block.field(setup::SUPPORTS_AT) else { return };
    let FieldValue::Quantities(list) = &places.field.value else { return };
    let [left, right] = list[..] else { return };
    let distance = (right.base - left.base).abs();
    let reaches = ranges(&range.field.value);
    if reaches.is_empty() || is_within(&reaches, distance, 0.0) {
        return;
    }
    let message = format!(
        "{} puts the supports {} apart, but those of machine \"{}\" can be set to {}",
        context.line(places),
        book::display_value(distance, left.unit, 0.0),
        machine_name(setup),
        context.written(range)
    );
    sink.report(
        context
            .beside(places, message)
            .help("support the rotor elsewhere, or take another machine")
            .about(range, "what the supports can be set to"),
    );
}
