use crate::check::{ItemContext, Sink, rotors};
use crate::sheet::FieldValue;
use crate::units::{self, Length, Typed};
use crate::vocabulary::rotor;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(field) = rotor.block.field(rotor::WEIGHED) else { return };
    let FieldValue::Weighing(pairs) = &field.field.value else { return };
    let [(_, first), (_, second)] = &**pairs;
    if !units::is_same(first.base, second.base) {
        return;
    }
    let place = rotors::given(Length::from_base(first.base), first.unit);
    sink.report(
        context
            .draft(field.field.value_span, format!("both scales are said to be at {place}"))
            .help("give the axial position at which each scale carries the rotor, measured from the rotor's `datum`"),
    );
}
