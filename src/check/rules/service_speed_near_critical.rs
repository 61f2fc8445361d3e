use crate::check::{ItemContext, Sink, rotors};
use crate::mechanics::drive::RIGID_UP_TO;
use crate::units::{Ratio, Typed, Unit};
use crate::vocabulary::rotor;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some((field, critical)) = rotors::quantity(&rotor.block, rotor::FIRST_BENDING_CRITICAL) else { return };
    let Some(service) = rotor.service_speed.get() else { return };
    let share = service.base() / critical.base;
    if share <= RIGID_UP_TO {
        return;
    }
    let message = format!(
        "the highest service speed {} is {} of the first bending critical {}; up to {} a rotor is taken as rigid",
        rotors::given(service, rotor.service_speed.unit),
        rotors::percent(share),
        rotors::written(context, field),
        rotors::given(Ratio::new(RIGID_UP_TO), Unit::PERCENT),
    );
    sink.report(context.draft(rotors::span_of(&rotor.block, &[rotor::HIGHEST_SERVICE_SPEED.any()]), message).help(
        "balance it as a flexible rotor, in more planes and up to its service speed, or show that its \
                unbalance stays put",
    ));
}
