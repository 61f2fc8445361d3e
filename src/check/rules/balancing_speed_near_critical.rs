use crate::check::amounts::{limit, percent};
use crate::check::machine_limits::rotor_name;
use crate::check::solving::{Bound, keeping};
use crate::check::{ItemContext, Sink};
use crate::mechanics::drive::RIGID_UP_TO;
use crate::sheet::FieldValue;
use crate::units::Amount;
use crate::vocabulary::{rotor, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let (Some(rotor), Some(field)) = (&setup.rotor, setup.block.field(setup::BALANCING_SPEED)) else { return };
    let (Some(speed), Some(critical)) = (setup.balancing_speed.get(), rotor.block.field(rotor::FIRST_BENDING_CRITICAL))
    else {
        return;
    };
    let FieldValue::Quantity(stated) = &critical.field.value else { return };
    let share = speed.raw() / stated.base;
    if share <= RIGID_UP_TO {
        return;
    }
    let slower = keeping(RIGID_UP_TO * stated.base, Bound::AtMost, setup.balancing_speed.unit);
    let message = format!(
        "the balancing speed of {} is {} of the first bending critical of rotor \"{}\", {}; up to {} it bends too \
         little to matter",
        context.written(field),
        percent(share),
        rotor_name(setup),
        context.written(critical),
        limit(RIGID_UP_TO)
    );
    sink.report(
        context
            .beside(field, message)
            .help(format!("balance it at {slower} or below: two planes can only balance a rotor that does not bend"))
            .about(critical, "the critical speed")
            .offer_value(context, field, &slower),
    );
}
