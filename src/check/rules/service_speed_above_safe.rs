use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::rotor;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let (Some(service), Some(safe)) = (rotor.service_speed.get(), rotor.safe_speed.get()) else { return };
    if service <= safe {
        return;
    }
    let message = format!(
        "the highest service speed {} is above the highest safe speed {}",
        rotors::given(service, rotor.service_speed.unit),
        rotors::given(safe, rotor.safe_speed.unit),
    );
    let safe = rotors::span_of(&rotor.block, &[rotor::HIGHEST_SAFE_SPEED.any()]);
    sink.report(
        context
            .draft(rotors::span_of(&rotor.block, &[rotor::HIGHEST_SERVICE_SPEED.any()]), message)
            .help("look at the data plate again: one of the two is not of this rotor")
            .related(context.id.file, safe, "never to be exceeded"),
    );
}
