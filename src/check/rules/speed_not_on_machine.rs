use crate::check::amounts::{is_within, ranges};
use crate::check::machine_limits::{machine_fact, machine_name};
use crate::check::solving::{keeping, nearest_end};
use crate::check::{ItemContext, Sink};
use crate::units::{Amount, Ratio};
use crate::vocabulary::{machine, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((setup, range)) = machine_fact(context, machine::BALANCING_SPEED) else { return };
    let Some(field) = setup.block.field(setup::BALANCING_SPEED) else { return };
    let (Some(speed), measures) = (setup.balancing_speed.get(), ranges(&range.field.value)) else { return };
    let band = setup.same_speed_within.get().map_or(0.0, Ratio::value);
    if measures.is_empty() || is_within(&measures, speed.raw(), band) {
        return;
    }
    let message = format!(
        "the balancing speed is {}, but machine \"{}\" measures at {}",
        context.written(field),
        machine_name(setup),
        context.written(range)
    );
    let draft = context
        .beside(field, message)
        .help("choose a balancing speed that the machine has; the calibration then holds for that speed")
        .about(range, "the machine's balancing speeds");
    sink.report(match nearest_end(&measures, speed.raw()) {
        Some((end, bound)) => draft.offer_value(context, field, &keeping(end, bound, setup.balancing_speed.unit)),
        None => draft,
    });
}
