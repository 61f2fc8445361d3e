//! How many steps it takes to the tolerance, at the ratio that the machine was tested to.

use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::plane::PlaneResults;
use crate::book::results::setup::SetupResults;
use crate::book::results::values::entry::{Outcome, Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::machine;
use crate::units::{Ratio, Unbalance, Unit};
use crate::vocabulary::{self, result};

/// What a step leaves and how many are needed, at the ratio that the machine was tested to.
pub(in crate::book::results) fn steps<'b>(
    recorder: &mut Recorder<'b>,
    setup: &SetupResults<'b>,
    spot: &Spot,
    plane: &PlaneResults<'b>,
    amount: &Val<Unbalance>,
) {
    let specs = [&result::STEPS_NEEDED, &result::LEFT_AFTER_STEP];
    if let Err(missing) = &plane.tolerance.known {
        return recorder.not_asked(spot, &specs, WhyNot::Lacks(missing.clone()));
    }
    let Some(machine) = &setup.machine else {
        let why = recorder.no_such_item(&setup.block, vocabulary::setup::MACHINE);
        return recorder.not_asked(spot, &specs, why);
    };
    let ratio: Val<Ratio> = recorder.facts.quantity(&machine.block, vocabulary::machine::UNBALANCE_REDUCTION_RATIO);
    if ratio.is_left_out() {
        return recorder.not_asked(spot, &specs, "the machine does not state its unbalance reduction ratio");
    }
    let steps = recorder.on_the_way(
        spot,
        &result::STEPS_NEEDED,
        Unit::ONE,
        &by::STEPS,
        (&plane.tolerance, amount, &ratio),
        |(tolerance, amount, ratio)| {
            machine::steps_needed(amount, tolerance, ratio).map(|steps| Ratio::new(f64::from(steps)))
        },
    );
    let count = match &steps.known {
        Ok(steps) => steps.value() as u32,
        Err(missing) => return recorder.not_asked(spot, &specs, WhyNot::Lacks(missing.clone())),
    };
    recorder.push(spot, &result::STEPS_NEEDED, Outcome::Count(count), steps.derivation.clone());
    if count > 0 {
        let spec = &result::LEFT_AFTER_STEP;
        let inputs = (amount, &ratio);
        recorder.work_out(spot, spec, amount.unit, &by::AFTER_ONE_STEP, inputs, |(amount, ratio)| {
            machine::residual_after_step(amount, ratio)
        });
    } else {
        recorder.not_asked(spot, &[&result::LEFT_AFTER_STEP], "the tolerance is kept already");
    }
}
