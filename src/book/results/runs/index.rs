//! Runs with the rotor turned on its arbor: the arbor's own unbalance and the rotor's.

use super::run::{ReadRun, Runner, rotated};
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::index::index_balancing;
use crate::units::{Amount, Angle, Unbalance, Vector};
use crate::vocabulary::result;

/// What indexed runs tell, one a plane.
pub struct IndexResults<'b> {
    pub planes: Vec<IndexedPlane<'b>>,
    /// The runs they rest on, by number.
    pub runs: Vec<usize>,
}

pub struct IndexedPlane<'b> {
    pub name: &'b str,
    /// In the arbor's angles.
    pub arbor: VectorVal<Unbalance>,
    /// In the rotor's angles.
    pub rotor: VectorVal<Unbalance>,
    /// How far the runs lie from what arbor and rotor explain; `None` with two positions, which always agree.
    pub scatter: Option<Val<Unbalance>>,
}

/// From runs in one state of the rotor; `None` unless two of them have it turned differently.
pub(in crate::book::results) fn of<'b>(
    recorder: &Recorder<'b>,
    runner: &Runner<'_, 'b>,
    spot: &Spot,
    runs: &[ReadRun<'b>],
    state: &[usize],
) -> Option<IndexResults<'b>> {
    let indexed: Vec<usize> = state.iter().copied().filter(|run| runs[*run].turned.is_some()).collect();
    let angles: Vec<Angle> = indexed.iter().filter_map(|run| runs[*run].turned.as_ref()?.get()).collect();
    let differ = |a: &Angle, b: &Angle| (*a - *b).sin().abs() > 1e-6 || (*a - *b).cos() < 0.0;
    if !angles.iter().any(|angle| differ(angle, &angles[0])) {
        return None;
    }
    let names: Vec<&'b str> = runner.measuring.planes.clone();
    let planes =
        names.iter().enumerate().map(|(n, name)| plane(recorder, &spot.of_plane(name), runs, &indexed, n, name));
    Some(IndexResults { planes: planes.collect::<Option<_>>()?, runs: indexed })
}

fn plane<'b>(
    recorder: &Recorder<'b>,
    spot: &Spot,
    runs: &[ReadRun<'b>],
    indexed: &[usize],
    n: usize,
    name: &'b str,
) -> Option<IndexedPlane<'b>> {
    let mut gathered = Gathered::new();
    let mut read = Vec::with_capacity(indexed.len());
    for run in indexed {
        let vector = runs[*run].found[n].vector().filter(|vector| vector.is_known())?;
        let turned = runs[*run].turned.as_ref()?;
        read.push((gathered.value(turned), gathered.vector(vector)));
    }
    let outputs = gathered.work_out(recorder.explained(&by::INDEXED), |numbers| {
        // The formula speaks of the arbor's angles, in which the rotor stands turned.
        let in_arbor = read.iter().map(|(turned, vector)| {
            let turned: Angle = numbers.value(*turned);
            (turned, numbers.vector::<Unbalance>(*vector).rotate(turned))
        });
        let indexed = index_balancing(&in_arbor.collect::<Vec<_>>())?;
        let mut all = components([indexed.arbor, indexed.rotor]);
        all.push(indexed.scatter.raw());
        Ok(all)
    });
    let unit = recorder.facts.shop.unbalance_unit;
    let arbor = outputs.vector(0, origin(spot, &result::ARBOR_UNBALANCE), unit);
    let rotor = outputs.vector(2, origin(spot, &result::ROTOR_UNBALANCE), unit);
    let scatter = (indexed.len() > 2).then(|| {
        let scatter: Val<Unbalance> = outputs.value(4, origin(spot, &result::INDEX_SCATTER), unit);
        // The scatter is itself an uncertainty.
        Val { contributions: Default::default(), ..scatter }
    });
    Some(IndexedPlane { name, arbor, rotor, scatter })
}

/// Records what the last indexed runs of a record tell.
pub(in crate::book::results) fn keep<'b>(
    recorder: &mut Recorder<'b>,
    runner: &Runner<'_, 'b>,
    spot: &Spot,
    index: &IndexResults<'b>,
) {
    for plane in &index.planes {
        let spot = spot.of_plane(plane.name);
        recorder.keep_vector(&spot, &result::ARBOR_UNBALANCE, &plane.arbor, Meaning::HeavySpot, &runner.sense);
        recorder.keep_vector(&spot, &result::ROTOR_UNBALANCE, &plane.rotor, Meaning::HeavySpot, &runner.sense);
        match &plane.scatter {
            Some(scatter) => recorder.keep(&spot, &result::INDEX_SCATTER, scatter),
            None => {
                recorder.not_asked(&spot, &[&result::INDEX_SCATTER], "runs in two positions always agree");
            }
        }
    }
}

/// The rotor's own unbalance in each plane of a run: by the index that it belongs to, else without the arbor's share,
/// which runs in an earlier state told, or in a later one: the arbor is the same throughout. `None` where none did.
pub(in crate::book::results) fn rotor_alone<'b>(
    recorder: &Recorder<'b>,
    read: &ReadRun<'b>,
    run: usize,
    of_states: &[Option<IndexResults<'b>>],
    state: usize,
) -> Option<Vec<VectorVal<Unbalance>>> {
    let turned = read.turned.as_ref()?;
    if let Some(index) = of_states[state].as_ref().filter(|index| index.runs.contains(&run)) {
        return Some(index.planes.iter().map(|plane| plane.rotor.clone()).collect());
    }
    let (earlier, later) = of_states.split_at(state);
    let index = earlier.iter().rev().chain(later).flatten().next()?;
    let planes = read.found.iter().zip(&index.planes);
    planes.map(|(found, plane)| Some(without_arbor(recorder, found.vector()?, turned, &plane.arbor))).collect()
}

/// A run without the arbor's share, which earlier indexed runs found; in the rotor's angles.
fn without_arbor<'b>(
    recorder: &Recorder<'b>,
    run: &VectorVal<Unbalance>,
    turned: &Val<Angle>,
    arbor: &VectorVal<Unbalance>,
) -> VectorVal<Unbalance> {
    let arbor = rotated(arbor, turned, -1.0);
    let mut gathered = Gathered::new();
    let (run_at, arbor_at) = (gathered.vector(run), gathered.vector(&arbor));
    let outputs = gathered.work_out(recorder.explained(&by::WITHOUT_ARBOR), |numbers| {
        let (run, arbor): (Vector<Unbalance>, Vector<Unbalance>) = (numbers.vector(run_at), numbers.vector(arbor_at));
        Ok(components([run - arbor]))
    });
    outputs.vector(0, run.origin.clone(), run.unit)
}
