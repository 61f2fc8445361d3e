//! What comes before any correction: readings by which nothing may be corrected, and an arbor that is still in them.

use crate::book::{DoesNotCount, IndexResults, PlaneRun, ReadsLikeMass, RecordResults, SeatInDoubt, Val, VectorVal};
use crate::mechanics::verdict::Verdict;
use crate::vocabulary::record;

/// Readings by which nothing may be corrected.
const STOPS: [DoesNotCount; 6] = [
    DoesNotCount::SeatInDoubt,
    DoesNotCount::NotTurned,
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
    let is_despite = record.block.field(record::DESPITE).is_some();
    let of_verdict = record.verdict.iter().flat_map(|verdict| &verdict.does_not_count);
    let stops =
        of_verdict.filter(|one| STOPS.contains(&one.why) && !(is_despite && one.why == DoesNotCount::CalibrationVoid));
    let last = record.runs.len().checked_sub(1);
    let like_mass = like_mass(record).filter(|like| Some(like.run) == last);
    let like_mass = like_mass.map(|like| like.words(record.runs[like.run].name));
    let words: Vec<String> = stops.map(|one| one.words.clone()).chain(like_mass).collect();
    (!words.is_empty()).then(|| words.join("; "))
}

/// What the runs since the last correction read like, where nobody knows yet whether it was still on.
pub fn like_mass<'r, 'b>(record: &'r RecordResults<'b>) -> impl Iterator<Item = &'r ReadsLikeMass<'b>> {
    record.like_mass.iter().filter(|like| record.last_state.contains(&like.run))
}

/// Why the rotor is to be turned half a turn on its arbor, and run again.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum HalfTurn {
    /// The arbor's unbalance is still in what is read: nothing is corrected before.
    Separates,
    /// The last run seems good, or sits in doubt; the final two runs together tell.
    IsFinal,
}

impl HalfTurn {
    pub fn why(self) -> &'static str {
        match self {
            Self::Separates => {
                "Then run it again: the two runs together separate the rotor's unbalance from the arbor's."
            }
            Self::IsFinal => "Then run it again: the final two runs together are judged.",
        }
    }
}

/// Whether the next run is one with the rotor turned half a turn on its arbor.
pub fn half_turn(record: &RecordResults<'_>) -> Option<HalfTurn> {
    record.setup.as_deref().filter(|setup| setup.is_told_by_half_sums())?;
    let (last, in_doubt) = (record.runs.last()?, seat_in_doubt(record).is_some());
    if stop(record).is_some() && !in_doubt {
        return None;
    }
    // Amounts alone do not separate the two, however the rotor is turned; neither does what is not known.
    if !last.readings.iter().any(|reading| reading.angle.is_some()) {
        return None;
    }
    let is_untold =
        |plane: &PlaneRun<'_>| plane.rotor.is_none() && plane.unbalance.vector().is_some_and(VectorVal::is_known);
    if last.planes.iter().any(is_untold) {
        return Some(HalfTurn::Separates);
    }
    let is_pair = |index: &IndexResults<'_>| index.runs.iter().all(|run| record.last_state.contains(run));
    let is_one_run = !record.last_state.is_empty() && record.index.as_ref().is_some_and(|index| !is_pair(index));
    let is_over = |plane: &PlaneRun<'_>| {
        plane.times_tolerance.as_ref().and_then(Val::get).is_none_or(|times| times.value() > 1.0)
    };
    let word = record.verdict.as_ref().map(|verdict| verdict.verdict);
    let seems_good =
        word.is_some_and(|word| word.is_good() || word == Verdict::NotShown && !last.planes.iter().any(is_over));
    (is_one_run && (seems_good || in_doubt)).then_some(HalfTurn::IsFinal)
}

/// The last run, where it reads as if the rotor sat otherwise on its arbor than it says.
pub fn seat_in_doubt<'r>(record: &'r RecordResults<'_>) -> Option<&'r SeatInDoubt> {
    let last = record.runs.len().checked_sub(1)?;
    let counts = record.verdict.iter().any(|verdict| verdict.not_counted(DoesNotCount::SeatInDoubt).next().is_some());
    record.in_doubt.iter().find(|doubt| doubt.run == last).filter(|_| counts)
}
