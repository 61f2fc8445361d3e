//! How well trial runs fit together.

use super::classes::{Class, of_class, of_facts};
use super::line::{At, Known, Line, Sources, group};
use crate::book::results::trials::TrialResults;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::{Freedom, Part};
use crate::units::{Amount, Ratio, Typed, Unbalance};
use crate::vocabulary::Choice;
use crate::vocabulary::shop::BudgetLine;

impl<'b> Sources<'_, 'b> {
    pub(super) fn trials(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Line {
        let name = BudgetLine::Trials.words();
        let Some(trials) = self.runner.measuring.resting_on() else {
            return Line::new(name, Known::DoesNotApply, "readings do not rest on trials");
        };
        let standard = of_class(recorder.facts.book, &at.judged.measured.contributions, Class::Trials);
        let read = Part::known_to(Unbalance::from_base(standard), group(21, 0));
        if let Some(disagreement) = trials.found.disagreement.as_ref().and_then(|share| share.get()) {
            // Two ways to the same amount lie so far from their mean, each; one comparison.
            let half = at.planes().map(|plane| at.of_reading(plane, disagreement * 0.5)).sum();
            let part = Part::scattered(half, Freedom::of(1.0), group(22, 0));
            let facts = of_facts(recorder.facts.book, &at.judged.measured.contributions, Class::Trials);
            let read = Part::known_to(Unbalance::from_base(facts), group(21, 0));
            return Line::new(name, Known::Measured, "two ways through the runs without angles differ")
                .with([part, read]);
        }
        match self.misfits(trials, at) {
            Some((parts, freedom)) => {
                let parts = parts.into_iter().map(|part| Part::scattered(part, freedom, group(22, 0)));
                Line::new(name, Known::Measured, "what the trials leave unexplained").with(parts).with([read])
            }
            None => {
                let why = "there are no more trials than planes need, so nothing shows how well they fit";
                Line::new(name, Known::NotKnown, why).with([read])
            }
        }
    }

    /// What is left unexplained of the trials, over what a trial mass did, of what each plane reads.
    fn misfits(&self, trials: &TrialResults<'b>, at: &At<'_, 'b>) -> Option<(Vec<Unbalance>, Freedom)> {
        let (misfit, spare) = trials.found.misfit?;
        let effect = |plane: usize| {
            let name = self.state.planes[plane].name;
            let column = trials.planes.iter().position(|other| *other == name)?;
            let put_on =
                trials.runs.iter().filter(|run| run.plane == Some(name)).filter_map(|run| run.put_on.as_ref()?.get());
            let least = put_on.map(|put| put.amount().raw()).reduce(f64::min)?;
            let influences = trials.found.coefficients.iter().filter_map(|row| row.get(column)?.get());
            influences.map(|one| one.amount().raw() * least).reduce(f64::max)
        };
        let share = |plane: usize| Some(at.of_reading(plane, Ratio::new(misfit.value() / effect(plane)?)));
        Some((at.planes().map(share).collect::<Option<_>>()?, Freedom::of(2.0 * spare as f64)))
    }
}
