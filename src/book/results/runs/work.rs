//! What the last run of a record leaves to do, plane by plane, whether or not a `correction` block asks for it.

use super::correction::{CorrectionResults, carried};
use super::run::{PlaneRun, RunResults, Runner};
use super::weights;
use crate::book::derive::Val;
use crate::book::results::plane::called_for::{mass_for, meaning_of, radius_for};
use crate::book::results::plane::carried::Carried;
use crate::book::results::plane::making::Making;
use crate::book::results::values::entry::{Entry, Meaning, Recorder, Spot};
use crate::book::vectors::VectorVal;
use crate::units::{Mass, Unbalance};
use crate::vocabulary::plane::Method;
use crate::vocabulary::result;

/// What is to be done in one plane.
pub struct WorkResults<'b> {
    pub plane: &'b str,
    /// The run that calls for it, by number.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub run: usize,
    /// Whether trial runs told the angle, and the run an amount alone.
    pub is_by_amounts: bool,
    /// Whether mass is put on rather than taken off; put on where the plane does either.
    pub adds: bool,
    /// What is in excess.
    pub unbalance: VectorVal<Unbalance>,
    /// What cuts weigh together; else at the plane's correction radius.
    pub mass: VectorVal<Mass>,
    /// How the plane's method makes it: depth, holes, shares of places, spread of weights.
    pub made: Vec<Entry>,
    /// Sliding weights: where they go, weight 1 first, or why that is not computed.
    pub weights_to: Option<Result<String, String>>,
    /// Sliding weights that cannot reach what is called for: where they make the most of it, weight 1 first.
    pub weights_nearest: Option<String>,
    /// What the plane cannot take.
    pub not_reached: Option<VectorVal<Unbalance>>,
}

/// Nothing is left to do after a run where what was done comes after it.
pub(in crate::book::results) fn of<'b>(
    recorder: &Recorder<'b>,
    runner: &Runner<'_, 'b>,
    runs: &[RunResults<'b>],
    corrections: &[CorrectionResults<'b>],
) -> Vec<WorkResults<'b>> {
    let Some((n, run)) = runs.iter().enumerate().next_back() else { return Vec::new() };
    let is_done = |plane: &str| {
        let own = |one: &&CorrectionResults<'b>| one.plane == plane && one.written_after == Some(n);
        corrections.iter().filter(own).any(|one| one.done.is_some())
    };
    // The plane with the masses has all that a stand tells.
    let is_told = |plane: &&PlaneRun<'b>| !runner.tells_the_sum() || plane.own().amount().is_known();
    let planes = run.planes.iter().filter(|plane| !is_done(plane.name)).filter(is_told);
    planes
        .filter_map(|found| {
            in_plane(recorder, runner, (n, run), &carried(runner, runs, corrections, found.name), found.name)
        })
        .collect()
}

fn in_plane<'b>(
    recorder: &Recorder<'b>,
    runner: &Runner<'_, 'b>,
    (n, run): (usize, &RunResults<'b>),
    carried: &Carried,
    name: &str,
) -> Option<WorkResults<'b>> {
    let found = run.plane(name)?;
    let unbalance = found.own_vector()?.clone();
    let plane = runner.plane(name)?;
    let meaning = meaning_of(plane).ok()?;
    let adds = meaning != Meaning::ToRemove;
    let spot = Spot::heading(&run.block, runner.id).of_plane(found.name);
    let meant = if adds { Meaning::ToAdd } else { Meaning::ToRemove };
    let at_centre = radius_for(recorder, plane, carried, (meant, &unbalance));
    let mass = mass_for(recorder, &spot, &result::RUN_CORRECTION, meant, &unbalance, &at_centre);
    let mut own = Recorder::new(recorder.facts);
    let radius: &Val<_> = &plane.radius;
    let making = Making { sense: &runner.sense, plane, adds: Some(adds), radius, carried };
    let not_reached = making.work_out(&mut own, &spot, &unbalance);
    let weights_to = (plane.method == Some(Method::SlidingWeights)).then(|| {
        let proposal = weights::proposal(recorder, plane, unbalance.get(), &run.weights);
        proposal.map_err(|why| why.words(recorder.facts.book))
    });
    let weights_nearest = weights_to
        .as_ref()
        .filter(|to| to.is_err())
        .and_then(|_| weights::nearest(recorder, plane, unbalance.get(), &run.weights));
    let is_by_amounts = runner.measuring.worth_of_amount().is_some();
    Some(WorkResults {
        plane: found.name,
        run: n,
        is_by_amounts,
        adds,
        unbalance,
        mass,
        made: own.entries,
        weights_to,
        weights_nearest,
        not_reached,
    })
}
