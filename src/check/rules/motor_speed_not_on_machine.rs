use crate::check::amounts::{amount, is_within, ranges};
use crate::check::machine_limits::{machine_fact, machine_name};
use crate::check::solving::{keeping, nearest_end};
use crate::check::{ItemContext, Sink};
use crate::units::{Amount, Ratio};
use crate::vocabulary::{machine, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((setup, range)) = machine_fact(context, machine::MOTOR_SPEED) else { return };
    let (Some(speed), turns) = (setup.motor_speed.get(), ranges(&range.field.value)) else { return };
    let band = setup.same_speed_within.get().map_or(0.0, Ratio::value);
    if turns.is_empty() || is_within(&turns, speed.raw(), band) {
        return;
    }
    let why = match setup.block.field(setup::MOTOR_SPEED) {
        Some(_) => "is stated",
        None => "is what belt and pulley ask for",
    };
    let message = format!(
        "a motor speed of {} {why}, but the motor of machine \"{}\" turns at {}",
        amount(speed, setup.motor_speed.unit),
        machine_name(setup),
        context.written(range)
    );
    let draft = context
        .beside_first(&setup.block, &[setup::MOTOR_SPEED.any(), setup::BELT_RUNS_ON.any()], message)
        .help("run the belt on another diameter, take another step of the pulley, or another balancing speed")
        .about(range, "the motor's speeds");
    sink.report(match (setup.block.field(setup::MOTOR_SPEED), nearest_end(&turns, speed.raw())) {
        (Some(field), Some((end, bound))) => {
            draft.offer_value(context, field, &keeping(end, bound, setup.motor_speed.unit))
        }
        _ => draft,
    });
}
