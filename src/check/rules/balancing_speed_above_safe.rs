use crate::check::machine_limits::rotor_name;
use crate::check::{ItemContext, Sink};
use crate::units::Amount;
use crate::vocabulary::{rotor, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let (Some(rotor), Some(field)) = (&setup.rotor, setup.block.field(setup::BALANCING_SPEED)) else { return };
    let (Some(speed), Some(safe)) = (setup.balancing_speed.get(), rotor.safe_speed.get()) else { return };
    let Some(limit) = rotor.block.field(rotor::HIGHEST_SAFE_SPEED) else { return };
    if speed.raw() <= safe.raw() * (1.0 + 1e-9) {
        return;
    }
    let message = format!(
        "the balancing speed of {} exceeds the highest safe speed of rotor \"{}\", {}",
        context.written(field),
        rotor_name(setup),
        context.written(limit)
    );
    sink.report(
        context
            .beside(field, message)
            .help("balance it at a speed that the rotor withstands; see whether the service speed was written here")
            .about(limit, "never to be exceeded")
            .offer_value(context, field, context.written(limit)),
    );
}
