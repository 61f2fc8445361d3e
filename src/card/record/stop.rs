//! What comes before any correction: readings by which nothing may be corrected, and an arbor that is still in them.

use crate::book::{DoesNotCount, PlaneRun, RecordResults, RunResults, SetupResults};
use crate::vocabulary::{record, run};

/// Readings by which nothing may be corrected.
const STOPS: [DoesNotCount; 4] = [
    DoesNotCount::CalibrationMassesOn,
    DoesNotCount::SpeedOutOfBand,
    DoesNotCount::ProofFails,
    DoesNotCount::CalibrationVoid,
];

/// Why nothing is to be corrected by what was read; what the record says that it was run despite does not stop it again.
pub fn stop(record: &RecordResults<'_>) -> Option<String> {
    if record.traverses.iter().any(|traverse| traverse.passes == Some(false)) {
        return Some(
            "the traverse shows that the machine does not read what it must: nothing is corrected by it".to_owned(),
        );
    }
    if let Some(plane) = sits_half_a_turn_off(record) {
        return Some(format!(
            "plane {plane} is off what the corrections let expect by twice what the arbor puts in: does the rotor sit on its \
             arbor as the run says? `back`, or correct `{}` in the record",
            run::TURNED_ON_ARBOR_BY
        ));
    }
    let is_despite = record.block.field(record::DESPITE).is_some();
    let of_verdict = record.verdict.iter().flat_map(|verdict| &verdict.does_not_count);
    let stops =
        of_verdict.filter(|one| STOPS.contains(&one.why) && !(is_despite && one.why == DoesNotCount::CalibrationVoid));
    let words: Vec<&str> = stops.map(|one| &*one.words).collect();
    (!words.is_empty()).then(|| words.join("; "))
}

/// A plane of the last run that reads as if the rotor sat half a turn from where the run says on its arbor.
fn sits_half_a_turn_off<'b>(record: &RecordResults<'b>) -> Option<&'b str> {
    let last = record.runs.len().checked_sub(1)?;
    let foretold = record.steps.iter().filter(|step| step.to == last).flat_map(|step| &step.foretold);
    foretold.filter(|plane| plane.as_if_half_a_turn_off).map(|plane| plane.plane).next()
}

/// Whether the rotor must be turned on its arbor before anything is corrected: the arbor's unbalance is still in what is read.
pub fn wants_half_turn(record: &RecordResults<'_>) -> bool {
    let on_arbor = record.setup.as_deref().is_some_and(SetupResults::is_told_by_half_sums);
    // Amounts alone do not separate the two, however the rotor is turned.
    let with_angles = |last: &RunResults<'_>| last.readings.iter().any(|reading| reading.angle.is_some());
    let untold = |last: &RunResults<'_>| {
        let is_untold = |plane: &PlaneRun<'_>| plane.rotor.is_none() && plane.unbalance.vector().is_some();
        with_angles(last) && last.planes.iter().any(is_untold)
    };
    on_arbor && record.runs.last().is_some_and(untold)
}
