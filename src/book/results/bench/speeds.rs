//! The speeds of a setup: the band that counts as one speed, the motor by its belt, the distance to a resonance.

use super::machine::MachineFacts;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::drive;
use crate::units::{Length, Ratio, Speed, Unit};
use crate::vocabulary::machine::Supports;
use crate::vocabulary::{self, result, setup};

pub(in crate::book::results) fn speed_band<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    speed: &Val<Speed>,
) -> (Val<Ratio>, Option<[Val<Speed>; 2]>) {
    let within: Val<Ratio> = recorder.facts.quantity(block, setup::SAME_SPEED_WITHIN);
    let within = within.or(|| recorder.default(block, setup::SAME_SPEED_WITHIN, Ratio::percent(3.0), Unit::PERCENT));
    let spot =
        Spot::beside(block, id, block.field(setup::SAME_SPEED_WITHIN).or_else(|| block.field(setup::BALANCING_SPEED)));
    if let Err(missing) = &speed.known {
        let why = WhyNot::Lacks(missing.clone());
        recorder.not_asked(&spot, &[&result::LOWEST_SAME_SPEED, &result::HIGHEST_SAME_SPEED], why);
        return (within, None);
    }
    let specs =
        [(&result::LOWEST_SAME_SPEED, &by::SPEED_BAND_LOW), (&result::HIGHEST_SAME_SPEED, &by::SPEED_BAND_HIGH)];
    let band = [0, 1].map(|n| {
        let (spec, formula) = specs[n];
        recorder.work_out(&spot, spec, speed.unit, formula, (speed, &within), |(speed, within)| {
            drive::band_of_equal_speed(speed, within).map(|band| band[n])
        })
    });
    (within, Some(band))
}

pub(in crate::book::results) fn motor_speed_by_belt<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    machine: Option<&MachineFacts<'b>>,
    speed: &Val<Speed>,
) -> Option<Val<Speed>> {
    let spot = Spot::beside(block, id, block.field(setup::BELT_RUNS_ON));
    let (spec, unit) = (&result::MOTOR_SPEED, if speed.is_known() { speed.unit } else { Unit::RPM });
    let Some(machine) = machine else {
        recorder.not_asked(&spot, &[spec], recorder.no_such_item(block, setup::MACHINE));
        return None;
    };
    if block.field(setup::BELT_RUNS_ON).is_none() {
        recorder.not_asked(&spot, &[spec], WhyNot::LeftOut(setup::BELT_RUNS_ON.any()));
        return None;
    }
    let runs_on: Val<Length> = recorder.facts.quantity(block, setup::BELT_RUNS_ON);
    let pulley: Val<Length> = recorder.facts.quantity(block, setup::PULLEY);
    let pulley = pulley.or(|| recorder.facts.nth(&machine.block, vocabulary::machine::PULLEY, 0));
    if pulley.is_left_out() {
        recorder.not_asked(&spot, &[spec], WhyNot::LeftOut(setup::PULLEY.any()));
        return None;
    }
    let slip: Val<Ratio> = recorder.facts.quantity(&machine.block, vocabulary::machine::BELT_SLIP);
    let slip =
        slip.or(|| recorder.default(&machine.block, vocabulary::machine::BELT_SLIP, Ratio::new(0.0), Unit::PERCENT));
    let inputs = (speed, &runs_on, &pulley, &slip);
    let f = |(n, d, pulley, slip)| drive::motor_speed(n, pulley, d, slip);
    Some(recorder.work_out(&spot, spec, unit, &by::MOTOR_BY_BELT, inputs, f))
}

/// Pulley step or diameter under the belt, where the motor speed is stated and one of them is left out.
pub(in crate::book::results) fn left_out_of_belt<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    machine: Option<&MachineFacts<'b>>,
    speed: &Val<Speed>,
) {
    let spot = Spot::beside(block, id, block.field(setup::MOTOR_SPEED));
    let motor: Val<Speed> = recorder.facts.quantity(block, setup::MOTOR_SPEED);
    let given = [setup::PULLEY, setup::BELT_RUNS_ON].map(|fact| block.field(fact).is_some());
    let specs = [&result::PULLEY, &result::BELT_RUNS_ON];
    let Some(machine) = machine.filter(|_| block.field(setup::MOTOR_SPEED).is_some()) else {
        return recorder.not_asked(&spot, &specs, WhyNot::LeftOut(setup::MOTOR_SPEED.any()));
    };
    let slip: Val<Ratio> = recorder.facts.quantity(&machine.block, vocabulary::machine::BELT_SLIP);
    let slip =
        slip.or(|| recorder.default(&machine.block, vocabulary::machine::BELT_SLIP, Ratio::new(0.0), Unit::PERCENT));
    match given {
        [false, true] => {
            let runs_on: Val<Length> = recorder.facts.quantity(block, setup::BELT_RUNS_ON);
            let (inputs, unit) = ((speed, &runs_on, &motor, &slip), runs_on.unit);
            let f = |(n, d, motor, slip)| drive::pulley(n, motor, d, slip);
            recorder.work_out(&spot, &result::PULLEY, unit, &by::PULLEY_BY_BELT, inputs, f);
            recorder.not_asked(&spot, &[&result::BELT_RUNS_ON], WhyNot::Given(setup::BELT_RUNS_ON.any()));
        }
        [true, false] => {
            let pulley: Val<Length> = recorder.facts.quantity(block, setup::PULLEY);
            let (inputs, unit) = ((&motor, &pulley, &slip, speed), pulley.unit);
            let f = |(motor, pulley, slip, n)| drive::belt_runs_on(n, motor, pulley, slip);
            recorder.work_out(&spot, &result::BELT_RUNS_ON, unit, &by::BELT_BY_PULLEY, inputs, f);
            recorder.not_asked(&spot, &[&result::PULLEY], WhyNot::Given(setup::PULLEY.any()));
        }
        [true, true] => {
            recorder.not_asked(&spot, &[&result::PULLEY], WhyNot::Given(setup::PULLEY.any()));
            recorder.not_asked(&spot, &[&result::BELT_RUNS_ON], WhyNot::Given(setup::BELT_RUNS_ON.any()));
        }
        [false, false] => {
            recorder.not_asked(&spot, &[&result::PULLEY], WhyNot::LeftOut(setup::BELT_RUNS_ON.any()));
            recorder.not_asked(&spot, &[&result::BELT_RUNS_ON], WhyNot::LeftOut(setup::PULLEY.any()));
        }
    }
}

/// How much more supports show than far from their resonance: soft ones above it, hard ones below.
pub(in crate::book::results) fn amplification<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    machine: Option<&MachineFacts<'b>>,
    ratio: &Val<Ratio>,
) {
    let spot = Spot::beside(block, id, block.field(setup::RESONANCE_FOUND_AT));
    let spec = &result::AMPLIFICATION;
    let r = match &ratio.known {
        Ok(ratio) => ratio.value(),
        Err(missing) => return recorder.not_asked(&spot, &[spec], WhyNot::Lacks(missing.clone())),
    };
    match machine.and_then(|machine| machine.block.choice(vocabulary::machine::SUPPORTS)) {
        Some(Supports::Soft) if r > 1.0 => {
            let f = |(r,)| drive::soft_support_factor(r);
            recorder.work_out(&spot, spec, Unit::ONE, &by::SOFT_AMPLIFICATION, (ratio,), f);
        }
        Some(Supports::Hard) if r < 1.0 => {
            let f = |(r,)| drive::hard_support_factor(r);
            recorder.work_out(&spot, spec, Unit::ONE, &by::HARD_AMPLIFICATION, (ratio,), f);
        }
        _ => recorder.not_asked(&spot, &[spec], "it is of soft supports above resonance, and of hard ones below"),
    }
}

pub(in crate::book::results) fn resonance<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    speed: &Val<Speed>,
) -> Val<Ratio> {
    let found: Val<Speed> = recorder.facts.quantity(block, setup::RESONANCE_FOUND_AT);
    let spot = Spot::beside(block, id, block.field(setup::RESONANCE_FOUND_AT));
    if found.is_left_out() {
        let why = WhyNot::LeftOut(setup::RESONANCE_FOUND_AT.any());
        recorder.not_asked(&spot, &[&result::RESONANCE_RATIO], why);
        return Val::missing(found.origin, Reason::NotGiven, Unit::ONE);
    }
    recorder.work_out(
        &spot,
        &result::RESONANCE_RATIO,
        Unit::ONE,
        &by::OVER_RESONANCE,
        (speed, &found),
        |(n, resonance)| drive::ratio_to_resonance(n, resonance),
    )
}
