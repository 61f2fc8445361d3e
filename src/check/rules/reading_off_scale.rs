use crate::book::{CalibrateResults, EffectiveBlock, ReadoutFacts, SetupResults, indication};
use crate::check::amounts::{amount, shown};
use crate::check::machine_limits::machine_name;
use crate::check::solving::{Bound, keeping};
use crate::check::{Draft, ItemContext, Severity, Sink};
use crate::check::{calibration, readings};
use crate::sheet::{FieldValue, StatedReading};
use crate::units::{Amount, Indication};
use crate::vocabulary::{calibrate, readout, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    written_down(context, sink);
    let Some(setup) = context.setup() else { return };
    let Some(readout) = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()) else { return };
    for (calibration, block) in calibration::blocks(context) {
        sink.drafts.extend(judge_one(context, setup, readout, calibration, block));
    }
}

/// Readings of runs, trials and proofs that no scale of the readout can have shown.
fn written_down(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(readout) = readings::readout(context) else { return };
    for (field, reading) in readings::all(context) {
        // What is still to be set is judged with its calibration.
        let is_to_set = field.field.key.is(calibrate::READING) || field.field.key.is(setup::PRE_BALANCE_TO);
        if is_to_set && field.field.name.is_none() {
            continue;
        }
        let Some((value, unit)) = indication(reading, Some(readout)) else { continue };
        let Some((end, of_what)) = end_for(readout, reading) else { continue };
        if value.value() <= end * (1.0 + 1e-9) {
            continue;
        }
        let message = format!(
            "{} is read beyond the end of {of_what}, {}",
            amount(value, unit),
            amount(Indication::new(end), readout.unit)
        );
        sink.report(context.beside(field, message).weighing(Severity::Warning).help(
            "write down what the readout showed: a needle on its stop shows nothing; change the range, or correct coarsely \
             first",
        ));
    }
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    setup: &SetupResults<'b>,
    readout: &ReadoutFacts<'b>,
    calibration: &CalibrateResults<'b>,
    block: &EffectiveBlock<'b>,
) -> Option<Draft> {
    let reading = calibration.stated_reading.as_ref().unwrap_or(&calibration.reading);
    let value = reading.get()?.value();
    let (end, of_what) = end(readout, block)?;
    if value <= end * (1.0 + 1e-9) {
        return None;
    }
    let message = format!(
        "the reading of plane {}, {}, is beyond the end of {of_what}, {}",
        calibration.plane,
        shown(reading),
        amount(Indication::new(end), readout.unit)
    );
    let draft = context.beside_first(
        block,
        &[calibrate::READING.any(), calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()],
        message,
    );
    let fits =
        calibration.mass.get().map(|mass| keeping(mass.raw() * end / value, Bound::AtMost, calibration.mass.unit));
    let help = match &fits {
        Some(mass) => format!("take {mass} or less at this radius"),
        None => "take less mass or a smaller radius".to_owned(),
    };
    let help = if setup.block.field(setup::TOLERANCE_READS).is_some() {
        format!("{help}, or let `tolerance reads` be less")
    } else {
        help
    };
    let end_of = readout.block.field(readout::FULL_SCALE);
    let draft = draft.help(help);
    let draft = match (block.field(calibrate::MASS), fits) {
        (Some(mass), Some(fits)) => draft.offer_value(context, mass, &fits),
        _ => draft,
    };
    Some(match end_of {
        Some(field) => draft.about(field, format!("full scale of machine \"{}\"", machine_name(setup))),
        None => draft,
    })
}

/// The end of the scale that the sheet names, else of the whole readout.
fn end(readout: &ReadoutFacts<'_>, block: &EffectiveBlock<'_>) -> Option<(f64, String)> {
    match block.field(calibrate::READING).map(|field| &field.field.value) {
        Some(FieldValue::Reading(reading)) => end_for(readout, reading),
        _ => end_of_all(readout),
    }
}

fn end_for(readout: &ReadoutFacts<'_>, reading: &StatedReading) -> Option<(f64, String)> {
    match readout.scale_of(reading) {
        Some(scale) => Some((scale.end()?, format!("scale {}", scale.name))),
        None => end_of_all(readout),
    }
}

fn end_of_all(readout: &ReadoutFacts<'_>) -> Option<(f64, String)> {
    let of_what = if readout.scales.is_empty() { "the readout's scale" } else { "the widest scale" };
    Some((readout.end()?, of_what.to_owned()))
}
