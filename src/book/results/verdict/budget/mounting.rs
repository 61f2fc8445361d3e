//! How far one mounting lies from the next.

use super::line::{At, Indexing, Known, Line, MountingsApart, Sources, group};
use super::proven::acting;
use crate::book::derive::Val;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::mechanics::fits::{unbalance_of_clearance, unbalance_of_eccentricity};
use crate::mechanics::scatter::Scatter;
use crate::units::{Length, SpecificUnbalance, Typed, Unbalance, Vector};
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, Fact, arbor};

impl<'b> Sources<'_, 'b> {
    /// By mountings that were repeated, in the proof and in the record; else by clearance and centring of the arbor.
    pub(super) fn mounting(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Line {
        let name = BudgetLine::Mounting.words();
        let of_proof = &self.proven(recorder).mountings;
        let of_proof: Vec<Vector<Unbalance>> = of_proof.iter().filter_map(|planes| acting(at.row, planes)).collect();
        let mountings = self.mountings();
        let of_record: Vec<Vector<Unbalance>> = mountings.iter().filter_map(|runs| self.mean_at(at, runs)).collect();
        let (by_proof, by_record) = (Scatter::of(&of_proof), Scatter::of(&of_record));
        let contradicted = self.apart(recorder, at).is_some();
        let scatter = if contradicted { by_record } else { by_proof.and(by_record) };
        let Some(one) = scatter.standard() else { return self.by_arbor(recorder, at) };
        let alone = || (mountings.len().max(1) as f64).recip().sqrt();
        let counts_by = self.index.map_or_else(alone, Indexing::of_one_mounting);
        // The mean of two is known no better than half of what they lie apart.
        let least = match of_record[..] {
            [first, second] => (first - second).amount() * 0.25,
            _ => Unbalance::ZERO,
        };
        let part = Part::scattered((one * counts_by).max(least), scatter.freedom(), group(11, 0));
        let why = match contradicted {
            true => "mountings of the record, which lie farther apart than those of the proof",
            false => "mountings of proof and record",
        };
        Line::new(name, Known::Measured, why).with([part])
    }

    /// The two mountings of the record that lie farthest apart, where they scatter more than those of the proof by more
    /// than chance makes it.
    pub(super) fn apart(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Option<MountingsApart> {
        let of_proof = &self.proven(recorder).mountings;
        let of_proof: Vec<Vector<Unbalance>> = of_proof.iter().filter_map(|planes| acting(at.row, planes)).collect();
        let mountings = self.mountings();
        let mean = |runs: &Vec<usize>| Some((*runs.last()?, self.mean_at(at, runs)?));
        let means: Vec<(usize, Vector<Unbalance>)> = mountings.iter().filter_map(mean).collect();
        let of_record: Vec<Vector<Unbalance>> = means.iter().map(|(_, mean)| *mean).collect();
        let (by_proof, by_record) = (Scatter::of(&of_proof), Scatter::of(&of_record));
        let step = Unbalance::from_base(self.step_of_runs(recorder, at));
        if !by_record.exceeds(by_proof, step) {
            return None;
        }
        let pairs = (0..means.len()).flat_map(|n| (0..n).map(move |m| (m, n)));
        let apart = |(m, n): (usize, usize)| {
            let amount = (means[m].1 - means[n].1).amount();
            MountingsApart { runs: [means[m].0, means[n].0], amount, of_proof: by_proof.standard().unwrap_or(step) }
        };
        pairs.map(apart).max_by(|a, b| a.amount.base().total_cmp(&b.amount.base()))
    }

    /// The runs that count, by mounting: all before the first that says that the rotor was taken out and put back, and
    /// so on.
    pub(super) fn mountings(&self) -> Vec<Vec<usize>> {
        let mut mountings: Vec<Vec<usize>> = Vec::new();
        if self.index.is_some() {
            return mountings;
        }
        for run in &self.state.runs {
            match mountings.last_mut() {
                Some(last) if self.runs[*run].remounted != Some(true) => last.push(*run),
                _ => mountings.push(vec![*run]),
            }
        }
        mountings
    }

    fn mean_at(&self, at: &At<'_, 'b>, runs: &[usize]) -> Option<Vector<Unbalance>> {
        let each: Option<Vec<Vector<Unbalance>>> = runs.iter().map(|run| self.run_at(at, *run)).collect();
        let each = each?;
        Some(each.iter().copied().sum::<Vector<Unbalance>>() / each.len() as f64)
    }

    /// What one run shows at the row.
    pub(super) fn run_at(&self, at: &At<'_, 'b>, run: usize) -> Option<Vector<Unbalance>> {
        let planes: Vec<_> = self.runs[run].planes.iter().map(|plane| plane.own()).collect();
        acting(at.row, &planes)
    }

    fn by_arbor(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Line {
        let name = BudgetLine::Mounting.words();
        let Some(arbor) = &self.runner.setup.arbor else {
            return Line::new(name, Known::NotKnown, "no run says that the rotor was taken out and put back");
        };
        let length = |fact: Fact<Length>| {
            let length: Val<Length> = recorder.facts.quantity(arbor, fact);
            length.get()
        };
        let mass = self.runner.setup.rotor.as_ref().and_then(|rotor| rotor.mass.get());
        let clearance =
            length(arbor::FIT_CLEARANCE).zip(mass).and_then(|(c, mass)| unbalance_of_clearance(mass, c).ok());
        let centring = length(arbor::CENTRING_REPEATABILITY).zip(mass).and_then(|(length, mass)| {
            unbalance_of_eccentricity(mass, SpecificUnbalance::from_base(length.base())).ok()
        });
        let centre = self.runner.setup.rotor.as_ref().and_then(|rotor| rotor.mass_centre.get());
        let all: Vec<Part> = [(clearance, 12), (centring, 13)]
            .into_iter()
            .filter_map(|(unbalance, line)| Some(Part::at_any_angle(at.of_place(centre, unbalance?), group(line, 0))))
            .collect();
        match all.is_empty() {
            true => Line::new(name, Known::NotKnown, "nothing is said of how the rotor sits on its arbor"),
            false => Line::new(name, Known::Stated, "clearance and centring of the arbor").with(all),
        }
    }
}
