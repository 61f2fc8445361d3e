//! How well trial runs fit together.

use super::calibration::BY_RECORD;
use super::classes::{Class, of_class, of_facts};
use super::line::{At, Known, Line, Sources, group};
use crate::book::results::trials::TrialResults;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::{Freedom, Part};
use crate::units::{Amount, Indication, Ratio, Typed, Unbalance};
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
            let of_facts = Part::known_to(Unbalance::from_base(facts), group(21, 0));
            // What the fit of the runs leaves is in what was worked out from them; the worse of the two counts.
            let line = Line::new(name, Known::Measured, "two ways through the runs without angles differ");
            let differing = line.clone().with([part, of_facts]);
            let by_fit = line.with([read]);
            return if by_fit.amount() > differing.amount() { by_fit } else { differing };
        }
        let read = [read].into_iter().chain(self.left_in_channels(trials, at));
        match self.misfits(trials, at) {
            Some((parts, freedom)) => {
                let parts = parts.into_iter().map(|part| Part::scattered(part, freedom, group(22, 0)));
                Line::new(name, Known::Measured, "what the trials leave unexplained").with(parts).with(read)
            }
            None if self.own_by_record(at).is_some() && self.others_by_record(at).is_some() => {
                let parts = self.own_by_record(at).into_iter().chain(self.others_by_record(at)).flatten();
                Line::new(name, Known::Measured, BY_RECORD).with(parts).with(read)
            }
            None => {
                let why = "there are no more trials than planes need, so nothing shows how well they fit";
                Line::new(name, Known::NotKnown, why).with(read)
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

    /// What the runs that are judged leave unexplained where more channels are read than planes are told, by least squares:
    /// channels that contradict each other know no plane better than that. Nothing below twice what the readings are known
    /// to, which counts as reading.
    fn left_in_channels(&self, trials: &TrialResults<'b>, at: &At<'_, 'b>) -> Vec<Part> {
        self.left_in_readings(trials).map_or_else(Vec::new, |(left, freedom)| {
            let of_plane = |plane: usize| {
                let name = self.state.planes[plane].name;
                let column = trials.planes.iter().position(|other| *other == name)?;
                let column = trials.found.coefficients.iter().filter_map(|row| row.get(column)?.get());
                let strength = column.map(|one| one.amount().raw().powi(2)).sum::<f64>().sqrt();
                let standard = at.of_plane(plane, Unbalance::from_base(left.raw() / strength));
                Some(Part::scattered(standard, freedom, group(22, 1)))
            };
            at.planes().filter_map(of_plane).collect()
        })
    }

    /// The standard deviation of a reading by what is left over, for the mean of the runs.
    fn left_in_readings(&self, trials: &TrialResults<'b>) -> Option<(Indication, Freedom)> {
        let spare = trials.channels.len().checked_sub(trials.planes.len()).filter(|spare| *spare > 0)?;
        let influence = trials.found.influence()?;
        let (mut squares, mut runs, mut known_to) = (0.0, 0.0, 0.0_f64);
        for run in self.state.runs.iter().filter_map(|run| self.runs.get(*run)) {
            let reading = |channel: &&str| run.readings.iter().find(|reading| reading.channel == *channel);
            let readings: Option<Vec<_>> = trials.channels.iter().map(reading).collect();
            let readings = readings?;
            let read: Option<Vec<_>> = readings.iter().map(|reading| reading.vector()?.get()).collect();
            let read = read?;
            let put_on: Vec<_> = influence.unbalances(&read).ok()?.into_iter().map(|found| -found).collect();
            squares += influence.after(&read, &put_on).iter().map(|left| left.amount().raw().powi(2)).sum::<f64>();
            known_to = readings.iter().map(|one| one.amount.standard_uncertainty()).fold(known_to, f64::max);
            runs += 1.0;
        }
        // A vector that is left over is two numbers.
        let freedom = 2.0 * spare as f64 * runs;
        let one = (squares / freedom).sqrt();
        (one > 2.0 * known_to).then(|| (Indication::from_raw(one / runs.sqrt()), Freedom::of(freedom)))
    }
}
