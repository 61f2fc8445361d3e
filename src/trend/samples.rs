//! What the records of a machine show of its channels: each correction, and the run after it.

use std::collections::HashSet;

use num_complex::Complex64;

use super::line::Seen;
use crate::book::{Computed, Computing, Day, ItemId, JudgedBy, RecordResults, RunResults, StepResults};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Typed, Unbalance, Vector};
use crate::vocabulary::record;

/// One correction as one channel saw it.
#[derive(Clone, Debug)]
pub struct Sample {
    pub day: Day,
    pub record: String,
    pub setup: ItemId,
    /// By which the record is judged.
    pub proof: Option<String>,
    pub plane: String,
    pub seen: Seen,
    /// What the correction of this plane alone did in the other, over it; `None` where both were corrected.
    pub in_other: Option<Complex64>,
}

/// A rotor as it came.
#[derive(Clone, Debug)]
pub struct AsFound {
    pub part: ItemId,
    pub serial: Option<String>,
    pub day: Option<Day>,
    pub plane: String,
    pub vector: Vector<Unbalance>,
}

/// What all records of a machine tell.
#[derive(Default)]
pub struct Collected {
    /// Channel and sample.
    pub samples: Vec<(String, Sample)>,
    pub as_found: Vec<AsFound>,
    /// The day of each correction that the run after it contradicts.
    pub set_aside: Vec<Day>,
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
        let day = results.block.day(record::DATE);
        if let (Some(rotor), Some(run)) = (setup.rotor.as_deref(), results.runs.first()) {
            let serial = match results.block.field(record::SERIAL).map(|field| &field.field.value) {
                Some(FieldValue::Text(serial)) => Some(serial.to_string()),
                _ => None,
            };
            let as_found = |(plane, vector): (&str, Vector<Unbalance>)| AsFound {
                part: rotor.id,
                serial: serial.clone(),
                day,
                plane: plane.to_owned(),
                vector,
            };
            let planes = run.planes.iter().filter_map(|plane| Some((plane.name, plane.own_vector()?.get()?)));
            found.as_found.extend(planes.map(as_found));
        }
        let Some(day) = day else { continue };
        let proof = match results.binding.as_ref().map(|binding| binding.by) {
            Some(JudgedBy::Proof(name)) => Some(name),
            _ => None,
        };
        let made_by = MadeBy { day, record: book.item(id).name_text(), setup: setup.id, proof };
        for step in &results.steps {
            let told = of_step(&results, step, made_by, &setup.channels);
            found.samples.extend(told.samples);
            found.set_aside.extend(std::iter::repeat_n(day, told.contradicted));
        }
    }
    keep_first(&mut found.as_found);
    found.set_aside.sort();
    found
}

/// A rotor comes once: what later records of its serial number found first is what others left.
fn keep_first(as_found: &mut Vec<AsFound>) {
    let mut seen = HashSet::new();
    as_found.sort_by_key(|one| one.day);
    as_found.retain(|one| match &one.serial {
        Some(serial) => seen.insert((one.part, one.plane.clone(), serial.clone())),
        None => true,
    });
}

/// What a sample is of.
#[derive(Clone, Copy)]
struct MadeBy<'a> {
    day: Day,
    record: &'a str,
    setup: ItemId,
    proof: Option<&'a str>,
}

/// What a correction and the run after it tell.
#[derive(Default)]
struct Told {
    samples: Vec<(String, Sample)>,
    /// So many corrections, of which nobody knows whether the hand slipped or the machine changed.
    contradicted: usize,
}

fn complex(vector: Vector<Unbalance>) -> Complex64 {
    Complex64::new(vector.x.base(), vector.y.base())
}

/// One sample for each plane that was corrected.
fn of_step(
    results: &RecordResults<'_>,
    step: &StepResults<'_>,
    made_by: MadeBy<'_>,
    channels: &[(&str, &str)],
) -> Told {
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
    let Some(planes) = planes.filter(|planes| planes.len() <= 2) else { return Told::default() };
    let mut told = Told::default();
    for (n, (plane, put, change)) in planes.iter().enumerate() {
        // A slip of the hand says nothing of the machine, and in the other plane next to nothing.
        if step.contradicted().any(|contradicted| contradicted == *plane) {
            told.contradicted += usize::from(put.norm() > 0.0);
            continue;
        }
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
        told.samples.push((
            channel.to_owned(),
            Sample {
                day: made_by.day,
                record: made_by.record.to_owned(),
                setup: made_by.setup,
                proof: made_by.proof.map(str::to_owned),
                plane: (*plane).to_owned(),
                seen: Seen {
                    at: super::days::number(made_by.day),
                    group: 0,
                    own: put / size,
                    other: put_there / size,
                    change: change / size,
                    standard: known_to / size,
                },
                in_other: alone.then(|| change_there / put),
            },
        ));
    }
    told
}
