use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::rotor;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(centre) = rotor.mass_centre.get() else { return };
    let Some(rotors::Beyond { beyond, low, high }) = rotors::centre_beyond_everything(rotor) else { return };
    let unit = rotor.mass_centre.unit;
    let message = format!(
        "the mass centre at {} lies {} beyond the bearings and planes, which are at {} to {}",
        rotors::in_unit(centre, unit),
        rotors::in_unit(beyond, unit),
        rotors::given(low, unit),
        rotors::given(high, unit),
    );
    sink.report(
        context
            .draft(rotors::span_of(&rotor.block, &[rotor::MASS_CENTRE.any(), rotor::WEIGHED.any()]), message)
            .help("look whether it counts from the rotor's `datum`, and whether its unit is right"),
    );
}
