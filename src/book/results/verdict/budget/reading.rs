//! What the readings themselves are known to: the step in which they are read, or how far runs lie from each other.

use super::classes::{Class, of_class};
use super::line::{At, Known, Line, Sources, group};
use crate::book::derive::Val;
use crate::book::results::bench::mode::Worth;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::mechanics::scatter::Scatter;
use crate::units::{Indication, Typed, Unbalance, Vector};
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, readout};

impl<'b> Sources<'_, 'b> {
    pub(super) fn reading(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>, mounting: &Line) -> Line {
        let name = BudgetLine::Reading.words();
        let step = match self.state.runs.is_empty() {
            true => self.step_to_read(recorder, at),
            false => of_class(recorder.facts.book, &at.judged.measured.contributions, Class::Reading),
        };
        let repeated = self.mountings().into_iter().map(|runs| {
            let runs: Vec<Vector<Unbalance>> = runs.iter().filter_map(|run| self.run_at(at, *run)).collect();
            Scatter::of(&runs)
        });
        let scatter = repeated.fold(Scatter::default(), Scatter::and);
        let mean = scatter.standard().map(|one| one / (self.state.runs.len() as f64).sqrt());
        if mounting.known == Known::Measured {
            // Mountings hold the noise of their readings: only a coarser step, or runs of one mounting that lie farther
            // apart, count beside them.
            let beyond = |seen: f64| Unbalance::from_base((seen * seen - square(&mounting.parts)).max(0.0).sqrt());
            let line = Line::new(name, Known::Measured, "the mountings show it; what is beyond them");
            return line.with([match mean.filter(|mean| mean.base() > step) {
                Some(mean) => Part::scattered(beyond(mean.base()), scatter.freedom(), group(14, 0)),
                None => Part::known_to(beyond(step), group(14, 0)),
            }]);
        }
        if let Some(stated) = self.stated_scatter(recorder, at).filter(|stated| square(stated) > step * step)
            && mean.is_none()
        {
            return Line::new(name, Known::Stated, "the scatter of the readout").with(stated);
        }
        match mean.filter(|mean| mean.base() > step) {
            Some(mean) => Line::new(name, Known::Measured, "runs of one state lie so far apart")
                .with([Part::scattered(mean, scatter.freedom(), group(14, 0))]),
            None => Line::new(name, Known::ByDefault, "the step or the last digit that is read")
                .with([Part::known_to(Unbalance::from_base(step), group(14, 0))]),
        }
    }

    /// What one run will be known to by the step of the readout, before there is one; where no unbalance is read, nothing.
    fn step_to_read(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> f64 {
        let sheet = &self.runner.measuring.sheet;
        let of_plane = |plane: usize| {
            let amount = at.amounts[plane];
            let worth = sheet.worth(self.state.planes[plane].name, recorder.facts.shop.unbalance_unit);
            let reading = match &worth {
                Worth::Itself(_) => Indication::showing(amount),
                Worth::AtRadius(radius, _) => Indication::showing(amount / radius.get()?),
                Worth::Of(one) => Indication::new((amount / one.get()?).value()),
            };
            let one = worth.of(sheet.finest_step(reading)?)?;
            Some(at.of_plane(plane, one).base())
        };
        // Half a step to either side: rectangular (JCGM 100, 4.3.7, from memory).
        at.planes().filter_map(of_plane).map(|step| (step / 12f64.sqrt()).powi(2)).sum::<f64>().sqrt()
    }

    /// What the readout is said to scatter by, in each plane; nothing where trials alone tell what it is worth.
    fn stated_scatter(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Option<Vec<Part>> {
        let readout = &self.runner.setup.machine.as_ref()?.readout.as_ref()?.block;
        let scatter: Val<Indication> = recorder.facts.quantity(readout, readout::SCATTER);
        let scatter = scatter.get().filter(|_| self.runner.measuring.resting_on().is_none())?;
        let runs = (self.state.runs.len().max(1) as f64).sqrt();
        let part = |plane: usize| {
            let sheet = &self.runner.measuring.sheet;
            let worth = sheet.worth(self.state.planes[plane].name, recorder.facts.shop.unbalance_unit);
            let amount = worth.of(scatter)?;
            Some(Part::at_any_angle(at.of_plane(plane, amount / runs), group(26, plane)))
        };
        at.planes().map(part).collect()
    }
}

/// The square of what parts make by root of squares.
fn square(parts: &[Part]) -> f64 {
    parts.iter().map(|part| part.standard.base().powi(2)).sum()
}
