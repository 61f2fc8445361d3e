//! Readings as multiples of the tolerance of their plane.

use super::wording::{given, readout_shows, times};
use super::{Hint, HintKind};
use crate::book::{self, CalibrateResults, Computed, SetupResults};
use crate::sheet::{Block, Field, FieldValue, StatedReading};
use crate::syntax::Kind;
use crate::units::{Amount, Indication, Unit};
use crate::vocabulary::readout::Shown;

/// The readings of a proof, on a channel that reads a plane. Runs of a record have results of their own, and trial runs
/// come before the machine is calibrated: what they read is no multiple of anything.
pub(super) fn of(item: &Block, computed: &Computed<'_>, hints: &mut Vec<Hint>) {
    if let Computed::Setup(setup) = computed {
        item.inner(Kind::Proof).for_each(|proof| block(setup, proof, hints));
    }
}

fn block(setup: &SetupResults<'_>, block: &Block, hints: &mut Vec<Hint>) {
    hints.extend(block.fields.iter().filter_map(|field| hint(setup, field)));
    block.blocks.iter().for_each(|inner| self::block(setup, inner, hints));
}

fn hint(setup: &SetupResults<'_>, field: &Field) -> Option<Hint> {
    let channel = field.name.as_ref()?;
    let (_, plane) = setup.channels.iter().find(|(name, _)| **name == *channel.text)?;
    let calibration = setup.calibration(plane)?;
    let readings: &[StatedReading] = match &field.value {
        FieldValue::Reading(reading) => std::slice::from_ref(reading),
        FieldValue::Readings(readings) => readings,
        _ => return None,
    };
    let found: Option<Vec<Times>> = readings.iter().map(|reading| of_reading(setup, calibration, reading)).collect();
    let found = found.filter(|found| !found.is_empty())?;
    let labels: Vec<String> = found.iter().map(|found| crate::units::number(found.times, None)).collect();
    let tooltips: Vec<String> = found.iter().map(|found| found.tooltip.clone()).collect();
    Some(Hint {
        at: field.value_span.end,
        label: format!("{} × tolerance", labels.join(", ")),
        kind: HintKind::TimesTolerance,
        tooltip: tooltips.join("\n\n"),
        edits: Vec::new(),
        target: None,
    })
}

struct Times {
    times: f64,
    tooltip: String,
}

/// `None` where anything that it rests on is a hole, or the readout shows what only trial runs can tell.
fn of_reading(setup: &SetupResults<'_>, calibration: &CalibrateResults<'_>, reading: &StatedReading) -> Option<Times> {
    let readout = setup.machine.as_ref()?.readout.as_ref()?;
    let (amount, unit) = book::indication(reading, Some(readout))?;
    let tolerance = calibration.tolerance.get()?;
    let (at_tolerance, tolerance_unit) = match readout_shows(setup)? {
        Shown::Divisions => {
            let reads = tolerance / calibration.one_division.get()?;
            (Indication::new(reads.value()), Unit::DIVISION)
        }
        Shown::Unbalance => (Indication::new(tolerance.raw()), unit),
        Shown::MassAtSetRadius => {
            let radius = setup.rotor.as_ref()?.plane(calibration.plane)?.radius.get()?;
            (Indication::new((tolerance / radius).raw()), unit)
        }
        Shown::Displacement | Shown::Velocity => return None,
    };
    let times = amount.value() / at_tolerance.value();
    let (reads, at) = (given(amount.value(), unit), given(at_tolerance.value(), tolerance_unit));
    let plane = calibration.plane;
    let tolerance = book::display_value(tolerance.raw(), calibration.tolerance.unit, 0.0);
    let unbalance = book::display_value(times * calibration.tolerance.get()?.raw(), calibration.tolerance.unit, 0.0);
    let tooltip = format!(
        "**{}**: {unbalance} in plane `{plane}`, which may keep {tolerance}\n\n```text\nreading ÷ reading at \
         tolerance\n= {reads} ÷ {at}\n```",
        self::times(times)
    );
    times.is_finite().then_some(Times { times, tooltip })
}
