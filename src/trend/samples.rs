//! What the records of a machine show of its channels: each correction, and the run after it.

use num_complex::Complex64;

use super::line::Seen;
use crate::book::{Computed, Computing, Day, ItemId, RecordResults, RunResults, StepResults};
use crate::syntax::Kind;
use crate::units::{Typed, Unbalance, Vector};
use crate::vocabulary::record;

/// One correction as one channel saw it.
#[derive(Clone, Debug)]
pub struct Sample {
    pub day: Day,
    pub record: String,
    pub setup: ItemId,
    pub plane: String,
    pub seen: Seen,
    /// What the correction of this plane alone did in the other, as a share; `None` where both were corrected.
    pub in_other: Option<f64>,
}

/// A rotor as it came.
#[derive(Clone, Debug)]
pub struct AsFound {
    pub part: ItemId,
    pub plane: String,
    pub vector: Vector<Unbalance>,
}

/// What all records of a machine tell.
#[derive(Default)]
pub struct Collected {
    /// Channel and sample.
    pub samples: Vec<(String, Sample)>,
    pub as_found: Vec<AsFound>,
    pub records: usize,
}

/// A correction that is smaller over what it is known to says too little.
const TELLING: f64 = 0.2;

pub fn of_machine(computing: &Computing<'_>, machine: ItemId) -> Collected {
    let book = computing.book();
    let mut found = Collected::default();
    for id in book.items().filter(|id| book.item(*id).kind == Kind::Record) {
        let Computed::Record(results) = computing.item(id) else { continue };
        let Some(setup) = results.setup.as_deref() else { continue };
        if setup.machine.as_ref().map(|machine| machine.id) != Some(machine) {
            continue;
        }
        found.records += 1;
        if let (Some(rotor), Some(run)) = (setup.rotor.as_deref(), results.runs.first()) {
            found.as_found.extend(as_found(run, rotor.id));
        }
        let Some(day) = results.block.day(record::DATE) else { continue };
        for step in &results.steps {
            let name = book.item(id).name_text();
            found.samples.extend(of_step(&results, step, (day, name, setup.id), &setup.channels));
        }
    }
    found
}

fn as_found(run: &RunResults<'_>, part: ItemId) -> Vec<AsFound> {
    let planes = run.planes.iter().filter_map(|plane| Some((plane.name, plane.own_vector()?.get()?)));
    planes.map(|(plane, vector)| AsFound { part, plane: plane.to_owned(), vector }).collect()
}

fn complex(vector: Vector<Unbalance>) -> Complex64 {
    Complex64::new(vector.x.base(), vector.y.base())
}

/// One sample for each plane that was corrected.
fn of_step(
    results: &RecordResults<'_>,
    step: &StepResults<'_>,
    (day, record, setup): (Day, &str, ItemId),
    channels: &[(&str, &str)],
) -> Vec<(String, Sample)> {
    let (from, to) = (&results.runs[step.from], &results.runs[step.to]);
    let before = |plane: &str| from.plane(plane).and_then(|plane| plane.own_vector()?.get()).map(complex);
    // What was put on in each plane, and what was then read more.
    let planes: Option<Vec<(&str, Complex64, Complex64)>> = step
        .foretold
        .iter()
        .map(|one| {
            let before = before(one.plane)?;
            Some((one.plane, complex(one.expected) - before, complex(one.read) - before))
        })
        .collect();
    let Some(planes) = planes.filter(|planes| planes.len() <= 2) else { return Vec::new() };
    // A slip of the hand says nothing of the machine.
    if step.foretold.iter().any(|one| one.is_contradicted) {
        return Vec::new();
    }
    let mut samples = Vec::new();
    for (n, (plane, put, change)) in planes.iter().enumerate() {
        let standard = |run: &RunResults<'_>| {
            run.plane(plane).map_or(0.0, |plane| plane.own().amount().expanded_uncertainty() / 2.0)
        };
        let made: f64 = step
            .corrections
            .iter()
            .map(|n| &results.corrections[*n])
            .filter(|correction| correction.plane == *plane)
            .filter_map(|correction| correction.done.as_ref())
            .map(|done| done.amount().expanded_uncertainty() / 2.0)
            .map(|standard| standard * standard)
            .sum();
        let size = put.norm();
        let known_to = (standard(from).powi(2) + standard(to).powi(2) + made).sqrt();
        let channel = channels.iter().find(|(_, own)| own == plane).map(|(channel, _)| *channel);
        let Some(channel) = channel.filter(|_| size > 0.0 && known_to <= TELLING * size) else { continue };
        let other = planes.iter().enumerate().find(|(m, _)| *m != n).map(|(_, other)| *other);
        let (put_there, change_there) = other.map_or_else(Default::default, |(_, put, change)| (put, change));
        let alone = other.is_some() && put_there.norm() == 0.0;
        samples.push((
            channel.to_owned(),
            Sample {
                day,
                record: record.to_owned(),
                setup,
                plane: (*plane).to_owned(),
                seen: Seen {
                    at: super::days::number(day),
                    group: 0,
                    own: put / size,
                    other: put_there / size,
                    change: change / size,
                    standard: known_to / size,
                },
                in_other: alone.then(|| change_there.norm() / size),
            },
        ));
    }
    samples
}
