use crate::check::{ItemContext, Sink, rotors};
use crate::units::{self, Typed};
use crate::vocabulary::rotor;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let (Some(a), Some(b)) = (rotor.bearings[0].get(), rotor.bearings[1].get()) else { return };
    if !units::is_same(a.base(), b.base()) {
        return;
    }
    let place = rotors::given(a, rotor.bearings[0].unit);
    let draft = context
        .draft(
            rotors::span_of(&rotor.block, &[rotor::BEARINGS.any()]),
            format!(
                "bearings A and B are both said to be \
                at {place}"
            ),
        )
        .help("write the place of each from the rotor's `datum`: `bearings: 0 mm, 164 mm`");
    sink.report(match rotor.block.field(rotor::BEARINGS) {
        Some(bearings) => draft.offer_value(context, bearings, "?"),
        None => draft,
    });
}
