//! What the readings themselves are known to: the step in which they are read, or how far runs lie from each other.

use super::classes::{Class, of_class};
use super::line::{At, Known, Line, Sources, group};
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::mechanics::scatter::Scatter;
use crate::units::{Typed, Unbalance, Vector};
use crate::vocabulary::Choice;
use crate::vocabulary::shop::BudgetLine;

impl<'b> Sources<'_, 'b> {
    pub(super) fn reading(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>, mounting: &Line) -> Line {
        let name = BudgetLine::Reading.words();
        let step = of_class(recorder.facts.book, &at.judged.measured.contributions, Class::Reading);
        if mounting.known == Known::Measured {
            // Mountings hold the noise of their readings: only a coarser step counts beside them.
            let seen: f64 = mounting.parts.iter().map(|part| part.standard.base().powi(2)).sum();
            let beyond = Unbalance::from_base((step * step - seen).max(0.0).sqrt());
            let line = Line::new(name, Known::Measured, "the mountings show it; a coarser step beside them");
            return line.with([Part::known_to(beyond, group(14, 0))]);
        }
        let repeated = self.mountings().into_iter().map(|runs| {
            let runs: Vec<Vector<Unbalance>> = runs.iter().filter_map(|run| self.run_at(at, *run)).collect();
            Scatter::of(&runs)
        });
        let scatter = repeated.fold(Scatter::default(), Scatter::and);
        let mean = scatter.standard().map(|one| one / (self.state.runs.len() as f64).sqrt());
        match mean.filter(|mean| mean.base() > step) {
            Some(mean) => Line::new(name, Known::Measured, "runs of one state lie so far apart")
                .with([Part::scattered(mean, scatter.freedom(), group(14, 0))]),
            None => Line::new(name, Known::ByDefault, "the step or the last digit that is read")
                .with([Part::known_to(Unbalance::from_base(step), group(14, 0))]),
        }
    }
}
