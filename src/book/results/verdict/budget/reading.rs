//! What the readings themselves are known to: the step in which they are read, or how far runs lie from each other.

use super::classes::{Class, of_class};
use super::line::{At, Indexing, Known, Line, Sources, group};
use crate::book::derive::Val;
use crate::book::results::bench::mode::Worth;
use crate::book::results::bench::readings::ReadingResults;
use crate::book::results::trials::TrialResults;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::mechanics::scatter::Scatter;
use crate::units::{Angle, Indication, Typed, Unbalance, Vector};
use crate::vocabulary::Choice;
use crate::vocabulary::shop::BudgetLine;

impl<'b> Sources<'_, 'b> {
    pub(super) fn reading(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>, mounting: &Line) -> Line {
        let name = BudgetLine::Reading.words();
        let step = self.step_of_runs(recorder, at);
        let repeated = self.mountings().into_iter().map(|runs| {
            let runs: Vec<Vector<Unbalance>> = runs.iter().filter_map(|run| self.run_at(at, *run)).collect();
            Scatter::of(&runs)
        });
        let scatter = repeated.fold(Scatter::default(), Scatter::and);
        let mean = scatter.standard().map(|one| one / (self.state.runs.len() as f64).sqrt());
        let stated = self.stated_scatter(recorder, at);
        let of_stated = stated.as_deref().map_or(0.0, |stated| square(stated).sqrt());
        let mean = mean.filter(|mean| mean.base() > step.max(of_stated));
        if mounting.known == Known::Measured {
            // Mountings hold the noise of their readings: only a coarser step, a stated scatter that a few mountings did not
            // show, or runs of one mounting that lie farther apart, count beside them.
            let beyond = |seen: f64| Unbalance::from_base((seen * seen - square(&mounting.parts)).max(0.0).sqrt());
            let line = Line::new(name, Known::Measured, "the mountings show it; what is beyond them");
            return line.with([match mean {
                Some(mean) => Part::scattered(beyond(mean.base()), scatter.freedom(), group(14, 0)),
                None => Part::known_to(beyond(step.max(of_stated)), group(14, 0)),
            }]);
        }
        match (mean, stated.filter(|_| of_stated > step)) {
            (Some(mean), _) => Line::new(name, Known::Measured, "runs of one state lie so far apart")
                .with([Part::scattered(mean, scatter.freedom(), group(14, 0))]),
            (None, Some(stated)) => Line::new(name, Known::Stated, "the scatter of the readout").with(stated),
            (None, None) => Line::new(name, Known::ByDefault, "the step or the last digit that is read")
                .with([Part::known_to(Unbalance::from_base(step), group(14, 0))]),
        }
    }

    /// What is judged is known to by the steps in which its runs were read.
    pub(super) fn step_of_runs(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> f64 {
        match self.state.runs.is_empty() {
            true => self.step_to_read(recorder, at),
            false => of_class(recorder.facts.book, &at.judged.measured.contributions, Class::Reading),
        }
    }

    /// What the runs to come will be known to by the step of the readout.
    fn step_to_read(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> f64 {
        let sheet = &self.runner.measuring.sheet;
        let step = |channel: &ChannelAt| {
            let step = sheet.finest_step(channel.reads)?;
            Some(channel.one.base() * step.value())
        };
        // Half a step to either side: rectangular (JCGM 100, 4.3.7, from memory).
        let channels = self.channels_at(recorder, at);
        let squares: f64 = channels.iter().filter_map(step).map(|step| (step / 12f64.sqrt()).powi(2)).sum();
        (squares / self.runs_to_come()).sqrt()
    }

    /// What the readout is said to scatter by, in each channel.
    fn stated_scatter(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Option<Vec<Part>> {
        let scatter = &self.runner.setup.machine.as_ref()?.readout.as_ref()?.scatter;
        // Copies of one run show nothing that the run did not.
        let runs = if self.state.runs.is_empty() { self.runs_to_come() } else { self.different_runs().max(1) as f64 };
        let scatter = scatter.get()?.value() / runs.sqrt();
        let channels = self.channels_at(recorder, at).into_iter().enumerate();
        Some(channels.map(|(n, channel)| Part::at_any_angle(channel.one * scatter, group(26, n))).collect())
    }

    /// From how many runs a state is told, before there is one.
    fn runs_to_come(&self) -> f64 {
        self.index.map_or(1, Indexing::runs) as f64
    }

    /// How many of the runs that count read differently from each other.
    fn different_runs(&self) -> usize {
        let read = |run: &usize| -> Vec<[Option<f64>; 2]> {
            let one = |reading: &ReadingResults<'b>| {
                let angle = reading.angle.as_ref().and_then(|angle| angle.get()).map(Angle::base);
                [reading.amount.get().map(Indication::value), angle]
            };
            self.runs.get(*run).map_or_else(Vec::new, |run| run.readings.iter().map(one).collect())
        };
        let all: Vec<_> = self.state.runs.iter().map(read).collect();
        (0..all.len()).filter(|n| !all[..*n].contains(&all[*n])).count()
    }

    /// The channels that tell the planes.
    fn channels_at(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Vec<ChannelAt> {
        match self.runner.measuring.resting_on() {
            Some(trials) if self.runner.measuring.trials().is_some() => {
                self.by_influence(trials, at).unwrap_or_default()
            }
            Some(trials) => {
                let worth = trials.found.worth_of_amount.as_ref().and_then(Val::get);
                let one = |worth: Unbalance| ChannelAt {
                    reads: Indication::new((at.amounts[0] / worth).value()),
                    one: at.of_plane(0, worth),
                };
                worth.map(one).into_iter().collect()
            }
            None => {
                let sheet = &self.runner.measuring.sheet;
                let of_plane = |plane: usize| {
                    let amount = at.amounts[plane];
                    let worth = sheet.worth(self.state.planes[plane].name, recorder.facts.shop.unbalance_unit);
                    let reads = match &worth {
                        Worth::Itself(_) => Indication::showing(amount),
                        Worth::AtRadius(radius, _) => Indication::showing(amount / radius.get()?),
                        Worth::Of(one) => Indication::new((amount / one.get()?).value()),
                    };
                    Some(ChannelAt { reads, one: at.of_plane(plane, worth.of(Indication::new(1.0))?) })
                };
                at.planes().filter_map(of_plane).collect()
            }
        }
    }

    /// Channels that tell the planes together: one alone moves what is found in each.
    fn by_influence(&self, trials: &TrialResults<'b>, at: &At<'_, 'b>) -> Option<Vec<ChannelAt>> {
        let influence = trials.found.influence()?;
        let channel = |channel: usize| {
            let one = |other| Indication::new(if other == channel { 1.0 } else { 0.0 });
            let alone: Vec<Vector<Indication>> =
                (0..influence.channels()).map(|other| Vector::from_polar(one(other), Angle::ZERO)).collect();
            let planes = influence.unbalances(&alone).ok()?;
            let of_plane = |plane: usize| {
                let unbalance = Vector::from_polar(at.amounts[plane], Angle::ZERO);
                influence.effect(channel, plane, unbalance).amount().value()
            };
            let reads = Indication::new(at.planes().map(of_plane).sum());
            Some(ChannelAt { reads, one: at.row.acting(&planes).amount() })
        };
        (0..influence.channels()).map(channel).collect()
    }
}

/// A channel, as it is read for a row.
struct ChannelAt {
    /// What it reads at most of the amounts in the planes.
    reads: Indication,
    /// What one unit of its readout comes to here.
    one: Unbalance,
}

/// The square of what parts make by root of squares.
fn square(parts: &[Part]) -> f64 {
    parts.iter().map(|part| part.standard.base().powi(2)).sum()
}
