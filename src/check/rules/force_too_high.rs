use crate::check::amounts::{amount, limit, percent, ratio, shown};
use crate::check::calibration;
use crate::check::solving::{Bound, keeping};
use crate::check::{ItemContext, Severity, Sink};
use crate::mechanics::force::weight;
use crate::units::{Amount, Unit};
use crate::vocabulary::calibrate;

/// A tenth is usual for a trial mass, and ten times the tolerance of a fan comes to a little more: common practice, no
/// source.
const WORTH_KNOWING: f64 = 0.25;
/// From here on the rotor begins to lift off its supports once its own unbalance points the same way.
const TOO_MUCH: f64 = 0.5;
/// Above the whole weight nothing keeps the rotor on its supports: mostly a unit is wrong, kg for g.
const WHOLE_WEIGHT: f64 = 1.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(mass) = context.setup().and_then(|setup| setup.mass_on_machine.get()) else { return };
    let Ok(weight) = weight(mass) else { return };
    for (calibration, block) in calibration::blocks(context) {
        let Some(force) = calibration.force.get() else { continue };
        let share = force.raw() / weight.raw();
        if share <= WORTH_KNOWING {
            continue;
        }
        let part =
            if share > WHOLE_WEIGHT { format!("{} times", ratio(share)) } else { format!("{} of", percent(share)) };
        let message = format!(
            "the calibration mass of plane {} pulls with {} at balancing speed, {part} the {} that rest on the supports",
            calibration.plane,
            shown(&calibration.force),
            amount(weight, context.book().rules().shown(Unit::NEWTON))
        );
        let help =
            format!("take less mass or a lower speed; a tenth of the weight is usual, {} is much", limit(TOO_MUCH));
        let draft = context
            .beside_first(block, &[calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()], message)
            .help(help);
        let draft = match (block.field(calibrate::MASS), calibration.mass.get()) {
            (Some(field), Some(mass)) => {
                let less = keeping(mass.raw() * WORTH_KNOWING / share, Bound::AtMost, calibration.mass.unit);
                draft.offer_value(context, field, &less)
            }
            _ => draft,
        };
        sink.report(match share {
            share if share > WHOLE_WEIGHT => draft.weighing(Severity::Error),
            share if share > TOO_MUCH => draft,
            _ => draft.weighing(Severity::Note),
        });
    }
}
