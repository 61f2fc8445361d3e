//! The rotor as it was left: what all runs that count tell of its planes.

use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::measuring::Found;
use crate::book::results::plane::extra::Elsewhere;
use crate::book::results::runs::index::IndexResults;
use crate::book::results::runs::run::{RunResults, Runner};
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::verdict::counting::at_the_end;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::units::{Length, Unbalance, Vector};
use crate::vocabulary::result;

/// The planes that the setup tells, in its order.
pub(in crate::book::results) struct State<'b> {
    pub planes: Vec<StatePlane<'b>>,
    /// The runs that count, by number.
    pub runs: Vec<usize>,
    /// What counts in the only plane and acts at another place; of several runs their mean.
    pub elsewhere: Vec<Elsewhere>,
    /// Whether the one plane that is known has what all planes have together.
    pub is_sum_alone: bool,
}

pub(in crate::book::results) struct StatePlane<'b> {
    pub name: &'b str,
    pub at: Val<Length>,
    pub found: Found,
    /// Whether its channel read to the end of its scale: it may be more, in the direction that was read.
    pub is_at_least: bool,
}

impl<'b> State<'b> {
    /// By the index where one tells the rotor's own unbalance; else the mean of the runs that count, or the largest of
    /// each plane where they have amounts only.
    pub fn of(
        recorder: &Recorder<'b>,
        runner: &Runner<'_, 'b>,
        spot: &Spot,
        all: &[RunResults<'b>],
        (runs, index): (Vec<usize>, Option<&IndexResults<'b>>),
    ) -> Self {
        let plane = |(n, name): (usize, &&'b str)| {
            let of_runs: Vec<Found> = runs.iter().filter_map(|run| Some(all[*run].planes.get(n)?.own())).collect();
            let found = match index.and_then(|index| index.planes.get(n)) {
                Some(plane) => Some(Found::Vector(plane.rotor.clone())),
                None => together(recorder, &spot.of_plane(name), of_runs),
            };
            let own = |channel: &str| runner.setup.channels.iter().any(|(of, plane)| *of == channel && *plane == *name);
            let is_at_least = runs.iter().any(|run| at_the_end(runner.setup, &all[*run]).any(own));
            Some(StatePlane { name, at: runner.at(name), found: found?, is_at_least })
        };
        let mut planes: Vec<StatePlane<'b>> = runner.measuring.planes.iter().enumerate().filter_map(plane).collect();
        let is_known = |plane: &StatePlane<'_>| plane.found.amount().is_known();
        let is_sum_alone = runner.tells_the_sum() && planes.iter().any(is_known);
        planes.retain(|plane| !is_sum_alone || is_known(plane));
        // Each run has them; what is off in one of them counts by its share of the runs.
        let share = 1.0 / runs.len().max(1) as f64;
        let elsewhere = runs.iter().flat_map(|run| &all[*run].elsewhere).map(|one| one.share(share)).collect();
        Self { planes, runs, elsewhere, is_sum_alone }
    }

    pub fn vectors(&self) -> Option<Vec<&VectorVal<Unbalance>>> {
        self.planes.iter().map(|plane| plane.found.vector()).collect()
    }

    pub fn amounts(&self) -> Option<Vec<Unbalance>> {
        self.planes.iter().map(|plane| plane.found.amount().get()).collect()
    }
}

fn together(recorder: &Recorder<'_>, spot: &Spot, runs: Vec<Found>) -> Option<Found> {
    let vectors: Option<Vec<&VectorVal<Unbalance>>> = runs.iter().map(Found::vector).collect();
    match vectors {
        Some(vectors) if vectors.len() > 1 => Some(Found::Vector(mean(recorder, spot, &vectors))),
        Some(_) => runs.into_iter().next(),
        None => {
            let amount = |found: &Found| found.amount().get().unwrap_or(Unbalance::ZERO).in_gram_millimetres();
            // What is not known leaves the whole not known.
            let unknown = runs.iter().position(|found| !found.amount().is_known());
            let largest = (0..runs.len()).max_by(|a, b| amount(&runs[*a]).total_cmp(&amount(&runs[*b])));
            runs.into_iter().nth(unknown.or(largest)?)
        }
    }
}

fn mean(recorder: &Recorder<'_>, spot: &Spot, vectors: &[&VectorVal<Unbalance>]) -> VectorVal<Unbalance> {
    let mut gathered = Gathered::new();
    let at: Vec<usize> = vectors.iter().map(|vector| gathered.vector(*vector)).collect();
    let outputs = gathered.work_out(recorder.explained(&by::MEAN_OF_RUNS), |numbers| {
        let sum: Vector<Unbalance> = at.iter().map(|at| numbers.vector::<Unbalance>(*at)).sum();
        Ok(components([sum / at.len() as f64]))
    });
    outputs.vector(0, origin(spot, &result::MEASURED), recorder.facts.shop.unbalance_unit)
}
