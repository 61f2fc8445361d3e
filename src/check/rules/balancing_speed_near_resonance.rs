use crate::book::{EffectiveField, SetupResults};
use crate::check::amounts::{limit, percent, ratio};
use crate::check::machine_limits::machine_name;
use crate::check::solving::{Bound, keeping};
use crate::check::{Draft, ItemContext, Severity, Sink};
use crate::mechanics::drive;
use crate::sheet::FieldValue;
use crate::units::Ratio;
use crate::vocabulary::{machine, machine::Works, setup};

/// Soft supports move freely from twice their resonance on.
const FREE_FROM: f64 = 2.0;
/// Hard supports measure force up to this share of their resonance.
const STIFF_UP_TO: f64 = 0.3;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(machine) = &setup.machine else { return };
    let (Some(found), Some(times)) = (setup.block.field(setup::RESONANCE_FOUND_AT), setup.resonance_ratio.get()) else {
        return;
    };
    let draft = match machine.block.choice(machine::WORKS) {
        Some(Works::AboveResonance) => above(context, setup, times),
        Some(Works::BelowResonance) => below(context, setup, times),
        Some(Works::AtResonance) => at(context, setup, times),
        None => None,
    };
    sink.drafts.extend(draft.map(|draft| draft.about(found, "the resonance that was found")));
}

/// Balancing speed and resonance, as the sheet writes them.
fn speeds<'b>(context: &ItemContext<'b, '_>) -> Option<(EffectiveField<'b>, &'b str, &'b str)> {
    let block = &context.setup()?.block;
    let speed = block.field(setup::BALANCING_SPEED)?;
    Some((speed, context.written(speed), context.written(block.field(setup::RESONANCE_FOUND_AT)?)))
}

fn above(context: &ItemContext<'_, '_>, setup: &SetupResults<'_>, times: Ratio) -> Option<Draft> {
    if times.value() >= FREE_FROM {
        return None;
    }
    let (field, speed, resonance) = speeds(context)?;
    let name = machine_name(setup);
    let why = match drive::soft_support_factor(times) {
        Ok(factor) => format!(
            "only {} times the resonance found at {resonance}: the supports of machine \"{name}\" move {} times as \
             far as they would high above it",
            ratio(times.value()),
            ratio(factor.value())
        ),
        Err(_) => {
            format!(
                "{} times the resonance found at {resonance}, and machine \"{name}\" works above it",
                ratio(times.value())
            )
        }
    };
    let help = "run at twice the resonance or more, where a few turns of drift do not move the reading";
    let draft = context.beside(field, format!("the balancing speed of {speed} is {why}")).help(help);
    Some(offer_share(context, draft, field, FREE_FROM, Bound::AtLeast))
}

fn below(context: &ItemContext<'_, '_>, setup: &SetupResults<'_>, times: Ratio) -> Option<Draft> {
    if times.value() <= STIFF_UP_TO {
        return None;
    }
    let (field, speed, resonance) = speeds(context)?;
    let name = machine_name(setup);
    let why = match drive::hard_support_factor(times) {
        Ok(factor) => format!(
            "{} of the resonance found at {resonance}: machine \"{name}\" reads {} times the force that is there",
            percent(times.value()),
            ratio(factor.value())
        ),
        Err(_) => {
            format!(
                "{} times the resonance found at {resonance}, and machine \"{name}\" works below it",
                ratio(times.value())
            )
        }
    };
    let draft = context
        .beside(field, format!("the balancing speed of {speed} is {why}"))
        .help("run below three tenths of the resonance");
    Some(offer_share(context, draft, field, STIFF_UP_TO, Bound::AtMost))
}

/// Offers the speed that is this share of the resonance that was found.
fn offer_share(
    context: &ItemContext<'_, '_>,
    draft: Draft,
    field: EffectiveField<'_>,
    share: f64,
    bound: Bound,
) -> Draft {
    let found = context.setup().and_then(|setup| setup.block.field(setup::RESONANCE_FOUND_AT));
    match (found.map(|found| &found.field.value), context.setup()) {
        (Some(FieldValue::Quantity(found)), Some(setup)) => {
            draft.offer_value(context, field, &keeping(share * found.base, bound, setup.balancing_speed.unit))
        }
        _ => draft,
    }
}

/// Where a machine works at resonance, the speed is the one at which the reading peaks.
fn at(context: &ItemContext<'_, '_>, setup: &SetupResults<'_>, times: Ratio) -> Option<Draft> {
    let within = setup.same_speed_within.get()?.value();
    if (times.value() - 1.0).abs() <= within * (1.0 + 1e-9) {
        return None;
    }
    let (field, speed, resonance) = speeds(context)?;
    let message = format!(
        "the balancing speed of {speed} is {} times the resonance found at {resonance}, more than {} beside it, and \
         machine \"{}\" works at resonance",
        ratio(times.value()),
        limit(within),
        machine_name(setup)
    );
    let help = "set the speed to where the reading peaks, and write that speed down";
    Some(context.beside(field, message).help(help).weighing(Severity::Note))
}
