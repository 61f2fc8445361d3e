use crate::book::{EffectiveBlock, ReadoutFacts, SetupResults, Val, indication};
use crate::check::amounts::{amount, shown};
use crate::check::machine_limits::machine_name;
use crate::check::solving::{Bound, keeping};
use crate::check::{Draft, ItemContext, Severity, Sink};
use crate::check::{calibration, readings};
use crate::sheet::{FieldValue, StatedReading};
use crate::units::{Amount, Indication, Mass};
use crate::vocabulary::{AnyFact, calibrate, check_mass, readout, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    written_down(context, sink);
    let Some(setup) = context.setup() else { return };
    let Some(readout) = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()) else { return };
    for (calibration, block) in calibration::blocks(context) {
        let expected = Expected {
            block,
            of_what: format!("the mass in plane {}", calibration.plane),
            reading: calibration.stated_reading.as_ref().unwrap_or(&calibration.reading),
            most: None,
            mass: &calibration.mass,
            facts: OF_CALIBRATION,
        };
        sink.drafts.extend(judge_one(context, setup, readout, &expected));
    }
    let Some(check) = &setup.check_mass else { return };
    let reading = check.stated_reading.as_ref().unwrap_or(&check.reading);
    let expected = Expected {
        block: &check.block,
        of_what: "the check mass".to_owned(),
        reading,
        most: check.highest(),
        mass: &check.mass,
        facts: OF_CHECK_MASS,
    };
    sink.drafts.extend(judge_one(context, setup, readout, &expected));
}

/// What a mass must read, in a calibration or as a check.
struct Expected<'a, 'b> {
    block: &'a EffectiveBlock<'b>,
    of_what: String,
    reading: &'a Val<Indication>,
    /// The highest reading that is accepted, where that is more.
    most: Option<Indication>,
    mass: &'a Val<Mass>,
    /// The reading, the mass and what gives its radius.
    facts: [AnyFact; 4],
}

const OF_CALIBRATION: [AnyFact; 4] =
    [calibrate::READING.any(), calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()];
const OF_CHECK_MASS: [AnyFact; 4] =
    [check_mass::READING.any(), check_mass::MASS.any(), check_mass::RADIUS.any(), check_mass::DIAMETER.any()];

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
            sink.drafts.extend(
                finer_scale(readout, reading, value)
                    .map(|(message, help)| context.beside(field, message).weighing(Severity::Note).help(help)),
            );
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

/// A needle in the lower half of a scale that a finer one shows as well is unusual, and may stand on that one. Source: common
/// practice, no source.
const LOW_ON_FINER: f64 = 0.5;

/// What is said of a reading on a scale where a finer one shows it in its own lower half: which scale was switched on makes a
/// factor of several.
fn finer_scale(readout: &ReadoutFacts<'_>, reading: &StatedReading, value: Indication) -> Option<(String, String)> {
    let own = readout.scale_of(reading)?;
    let finer = readout.scales.iter().filter(|scale| scale.one_mark < own.one_mark);
    let shows = finer.filter(|scale| scale.end().is_some_and(|end| value.value() <= LOW_ON_FINER * end));
    let finest = shows.min_by(|a, b| a.one_mark.unwrap_or(0.0).total_cmp(&b.one_mark.unwrap_or(0.0)))?;
    let times = own.one_mark? / finest.one_mark?;
    let message = format!(
        "{} is read on scale {}, and scale {} shows up to {}",
        amount(value, readout.unit),
        own.name,
        finest.name,
        amount(Indication::new(finest.end()?), readout.unit)
    );
    let help = format!(
        "check which scale was switched on: noted on the wrong scale, a reading is wrong by a factor of {}; read a small \
         amount on the finest scale that shows it",
        crate::units::plainly(times)
    );
    Some((message, help))
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    setup: &SetupResults<'b>,
    readout: &ReadoutFacts<'b>,
    expected: &Expected<'_, 'b>,
) -> Option<Draft> {
    let Expected { block, of_what, reading, most, mass, facts } = expected;
    let read = reading.get()?.value();
    let value = most.map_or(read, Indication::value);
    let [of_reading, of_mass, ..] = *facts;
    let (end, of_scale) = match block.field(of_reading).map(|field| &field.field.value) {
        Some(FieldValue::Reading(stated)) => end_for(readout, stated)?,
        _ => end_of_all(readout)?,
    };
    if value <= end * (1.0 + 1e-9) {
        return None;
    }
    let up_to = match value > read {
        true => format!(" up to {}", amount(Indication::new(value), reading.unit)),
        false => format!(" {}", shown(reading)),
    };
    let message = format!(
        "{of_what} must read{up_to}, beyond the end of {of_scale}, {}",
        amount(Indication::new(end), readout.unit)
    );
    let draft = context.beside_first(block, facts, message);
    let fits = mass.get().map(|known| keeping(known.raw() * end / value, Bound::AtMost, mass.unit));
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
    let draft = match (block.field(of_mass), fits) {
        (Some(mass), Some(fits)) => draft.offer_value(context, mass, &fits),
        _ => draft,
    };
    Some(match end_of {
        Some(field) => draft.about(field, format!("full scale of machine \"{}\"", machine_name(setup))),
        None => draft,
    })
}

/// The end of the scale that a reading names, else of the whole readout.
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
