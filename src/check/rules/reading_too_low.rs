use crate::book::{CalibrateResults, EffectiveBlock, ReadoutFacts, ScaleFacts};
use crate::check::amounts::{amount, limit, percent, ratio, shown};
use crate::check::calibration;
use crate::check::solving::{Bound, keeping};
use crate::check::{Draft, ItemContext, Sink};
use crate::units::{Amount, Indication};
use crate::vocabulary::calibrate;

/// Below five steps of the readout one step more or less is a fifth of the reading; common practice, no source.
const STEPS: f64 = 5.0;
/// A pointer in the first twentieth of its scale; common practice, no source.
const SHARE: f64 = 0.05;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let readout = context.setup().and_then(|setup| setup.machine.as_ref()).and_then(|machine| machine.readout.as_ref());
    let Some(readout) = readout else { return };
    for (calibration, block) in calibration::blocks(context) {
        sink.drafts.extend(judge_one(context, readout, calibration, block));
    }
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    readout: &ReadoutFacts<'b>,
    calibration: &CalibrateResults<'b>,
    block: &EffectiveBlock<'b>,
) -> Option<Draft> {
    let reading = calibration.stated_reading.as_ref().unwrap_or(&calibration.reading);
    let value = reading.get()?.value();
    let (least, why) = match readout.smallest_step.get() {
        Some(step) if value / step.value() < STEPS => (
            STEPS * step.value(),
            format!(
                "is only {} of the readout's smallest steps of {}",
                ratio(value / step.value()),
                shown(&readout.smallest_step)
            ),
        ),
        // A readout with fine steps can be read at the very beginning of its scale.
        Some(_) => return None,
        None => {
            let scale = readout.scale_for(Indication::new(value));
            let end = scale.and_then(ScaleFacts::end).or_else(|| readout.end())?;
            if value >= SHARE * end {
                return None;
            }
            let end_is = amount(Indication::new(end), readout.unit);
            (SHARE * end, format!("is at {} of the scale, which ends at {end_is}", percent(value / end)))
        }
    };
    let message = format!("the reading of plane {}, {}, {why}", calibration.plane, shown(reading));
    let draft = context.beside_first(
        block,
        &[calibrate::READING.any(), calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()],
        message,
    );
    let draft = draft.help(format!(
        "take more mass, let `tolerance reads` be more, or read it on a finer scale: {} of a scale or {STEPS} steps \
         are the least",
        limit(SHARE)
    ));
    Some(match (block.field(calibrate::MASS), calibration.mass.get()) {
        (Some(field), Some(mass)) => {
            let shows = keeping(mass.raw() * least / value, Bound::AtLeast, calibration.mass.unit);
            draft.offer_value(context, field, &shows)
        }
        _ => draft,
    })
}
