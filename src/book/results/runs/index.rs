//! Runs with the rotor turned on its arbor: the arbor's own unbalance and the rotor's.

use super::run::{ReadRun, Runner};
use super::seat::rotated;
use crate::book::derive::Val;
use crate::book::formulas::{self as by, Formula};
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
    let read: Vec<(&Val<Angle>, VectorVal<Unbalance>)> = indexed
        .iter()
        .map(|run| {
            let vector = runs[*run].found[n].vector().filter(|vector| vector.is_known())?;
            let turned = runs[*run].turned.as_ref()?;
            // The formulas speak of the arbor's angles, in which the rotor stands turned.
            Some((turned, rotated(vector, turned, 1.0)))
        })
        .collect::<Option<_>>()?;
    let half_a_turn = half_a_turn(&read);
    let work_out = |of_half_a_turn: &'static Formula| {
        let mut gathered = Gathered::new();
        let at: Vec<(usize, usize)> = match half_a_turn {
            Some(order) => {
                let vectors = order.map(|run| gathered.vector(&read[run].1));
                let turned = order.map(|run| gathered.silently(read[run].0));
                turned.into_iter().zip(vectors).collect()
            }
            None => read.iter().map(|(turned, vector)| (gathered.value(turned), gathered.vector(vector))).collect(),
        };
        let formula = if half_a_turn.is_some() { of_half_a_turn } else { &by::INDEXED };
        gathered.work_out(recorder.explained(formula), |numbers| {
            let in_arbor =
                at.iter().map(|(turned, vector)| (numbers.value(*turned), numbers.vector::<Unbalance>(*vector)));
            let indexed = index_balancing(&in_arbor.collect::<Vec<_>>())?;
            let mut all = components([indexed.arbor, indexed.rotor]);
            all.push(indexed.scatter.raw());
            Ok(all)
        })
    };
    let unit = recorder.facts.shop.unbalance_unit;
    let arbor = work_out(&by::ARBOR_OF_HALF_A_TURN).vector(0, origin(spot, &result::ARBOR_UNBALANCE), unit);
    let outputs = work_out(&by::ROTOR_OF_HALF_A_TURN);
    let rotor = outputs.vector(2, origin(spot, &result::ROTOR_UNBALANCE), unit);
    let scatter = (indexed.len() > 2).then(|| {
        let scatter: Val<Unbalance> = outputs.value(4, origin(spot, &result::INDEX_SCATTER), unit);
        // The scatter is itself an uncertainty.
        Val { contributions: Default::default(), ..scatter }
    });
    Some(IndexedPlane { name, arbor, rotor, scatter })
}

/// The run with the rotor not turned and the one with it turned by half a turn, by number, where there are only these.
fn half_a_turn(read: &[(&Val<Angle>, VectorVal<Unbalance>)]) -> Option<[usize; 2]> {
    let [first, second] = read else { return None };
    let stands = |(turned, _): &(&Val<Angle>, VectorVal<Unbalance>), degrees: f64| {
        let off = turned.get().map(|turned| turned - Angle::degrees(degrees));
        off.is_some_and(|off| off.sin().abs() < 1e-9 && off.cos() > 0.0)
    };
    match () {
        () if stands(first, 0.0) && stands(second, 180.0) => Some([0, 1]),
        () if stands(first, 180.0) && stands(second, 0.0) => Some([1, 0]),
        () => None,
    }
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
    let mut gathered = Gathered::new();
    // The run in the arbor's angles, as the formula has it.
    let (run_at, arbor_at) = (gathered.vector(&rotated(run, turned, 1.0)), gathered.vector(arbor));
    let turned = gathered.value(turned);
    let outputs = gathered.work_out(recorder.explained(&by::WITHOUT_ARBOR), |numbers| {
        let (run, arbor): (Vector<Unbalance>, Vector<Unbalance>) = (numbers.vector(run_at), numbers.vector(arbor_at));
        Ok(components([(run - arbor).rotate(-numbers.value::<Angle>(turned))]))
    });
    outputs.vector(0, run.origin.clone(), run.unit)
}
