//! One plane without angles: the unbalance from amounts alone.

use super::influence::{self, AmountAsFound, InfluenceResults};
use super::series::Series;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::values::entry::{Meaning, Recorder, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::results::values::render::display_vector;
use crate::book::vectors::{Gathered, Numbers, Produced, VectorVal};
use crate::mechanics::budget::{Freedom, coverage};
use crate::mechanics::without_phase::{FoundWithoutPhase, unbalance_from_amounts};
use crate::units::{Contributions, Indication, Ratio, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::result;

pub(in crate::book::results) fn of<'b>(recorder: &mut Recorder<'b>, series: &Series<'_, 'b>) -> InfluenceResults {
    let spot = series.spot();
    let plane = series.planes[0];
    let (of_plane, spec) = (spot.of_plane(plane), &result::UNBALANCE_FOUND);
    let sense = series.bench.angles().sense(&recorder.facts);
    let unit = recorder.facts.shop.unbalance_unit;
    let (found, disagreement, worth) = match &series.states {
        Err(missing) => (VectorVal::lacking(origin(&of_plane, spec), missing.clone(), unit), None, None),
        Ok(states) => {
            let outputs = gathered(recorder, series, states);
            let share: Val<Ratio> = outputs.value(2, origin(&spot, &result::DISAGREEMENT), Unit::PERCENT);
            // How far the runs disagree is itself the sign of their uncertainty.
            let share = Val { contributions: Contributions::none(), ..share };
            let mut worth: Val<Unbalance> = outputs.value(3, origin(&of_plane, spec), unit);
            let mut found: VectorVal<Unbalance> = outputs.vector(0, origin(&of_plane, spec), unit);
            if let Some(fit) = fit(series, states) {
                let read = standard_reading(series);
                if let Some(why) = fit.two_answers(read, unit) {
                    let reason = Reason::Ambiguous(why.into());
                    found = VectorVal::missing(origin(&of_plane, spec), reason, unit);
                } else {
                    fit.widen(&mut found, &mut worth, read);
                }
            }
            let worth = found.is_known().then_some(worth);
            (found, Some(share), worth)
        }
    };
    let amount_as_found = series.as_found().filter(|_| found.is_known()).map(|run| {
        let channel = series.channel_of(plane).unwrap_or(0);
        AmountAsFound { read: series.amount(run, channel), unbalance: found.clone() }
    });
    let found = series.counted(recorder, vec![found]).remove(0);
    recorder.keep_vector(&of_plane, spec, &found, Meaning::HeavySpot, &sense);
    let with_angles = [
        &result::INFLUENCE,
        &result::MISFIT,
        &result::CONDITION,
        &result::LIKENESS,
        &result::SEPARATION_ADVICE,
        &result::LEFT_IN_CHANNEL,
    ];
    recorder.not_asked(&spot, &with_angles, "the trials are read without angles");
    match (&disagreement, &series.states) {
        (Some(Val { known: Err(missing), .. }), _) | (None, Err(missing)) => {
            recorder.not_asked(&spot, &[&result::DISAGREEMENT], WhyNot::Lacks(missing.clone()));
        }
        (Some(share), _) => recorder.keep(&spot, &result::DISAGREEMENT, share),
        // What the states tell is worked out, above.
        (None, Ok(_)) => {}
    }
    let found = vec![found];
    let corrections = influence::corrections(recorder, series, &spot, &found, &sense);
    InfluenceResults {
        coefficients: Vec::new(),
        as_found: Vec::new(),
        condition: None,
        likeness: None,
        found,
        corrections,
        disagreement,
        misfit: None,
        worth_of_amount: worth,
        amount_as_found,
    }
}

/// What the amounts leave open, as they were read.
struct Fit {
    found: FoundWithoutPhase,
    /// Runs beyond the three that are needed.
    spare: usize,
}

impl Fit {
    /// In words, where another unbalance explains the amounts about as well: within what they are known to (k = 2), or a
    /// quarter worse than the best.
    fn two_answers(&self, read: f64, unit: Unit) -> Option<String> {
        let (other, misfit) = self.found.other?;
        let words = |vector: Vector<Unbalance>| {
            let (amount, angle) = (vector.amount().base(), vector.angle().in_radians());
            display_vector(amount, angle, unit, 0.0, 0.0)
        };
        let is_as_good = misfit.value() <= (2.0 * read).max(1.25 * self.found.misfit.value());
        is_as_good.then(|| {
            let own = words(self.found.unbalance);
            format!(
                "two unbalances explain the amounts, {own} and {}: a trial at another angle tells which",
                words(other)
            )
        })
    }

    /// Amounts that lie farther apart than what they were read to are known no better than that: Student's t for the runs
    /// to spare (95.45 %, JCGM 100:2008, table G.2, from memory).
    fn widen(&self, found: &mut VectorVal<Unbalance>, worth: &mut Val<Unbalance>, read: f64) {
        let misfit = self.found.misfit.value();
        if self.spare == 0 || misfit <= 2.0 * read {
            return;
        }
        let half_t = coverage(Freedom::of(self.spare as f64)) / 2.0;
        let scatter = half_t * (misfit * misfit - read * read).sqrt();
        let [x, y, of_worth] = self.found.moved_by_one.map(|moved| moved.base() * scatter);
        let [at_x, at_y] = &mut found.contributions;
        for (contributions, standard) in [(at_x, x), (at_y, y), (&mut worth.contributions, of_worth)] {
            let of_misfit = contributions.beyond_first_order(standard);
            contributions.add(&of_misfit, 1.0);
        }
    }
}

/// What the amounts are read to, in the mean.
fn standard_reading(series: &Series<'_, '_>) -> f64 {
    let channel = series.channel_of(series.planes[0]).unwrap_or(0);
    let squares: Vec<f64> =
        series.members.iter().map(|run| series.amount(*run, channel).standard_uncertainty().powi(2)).collect();
    (squares.iter().sum::<f64>() / squares.len() as f64).sqrt()
}

fn fit(series: &Series<'_, '_>, states: &[Vec<usize>]) -> Option<Fit> {
    let channel = series.channel_of(series.planes[0]).unwrap_or(0);
    let put_on = |run: usize| -> Option<Vector<Unbalance>> {
        states[run].iter().map(|on| series.runs[*on].put_on.as_ref()?.get()).sum::<Option<Vector<Unbalance>>>()
    };
    let (as_found, with_masses): (Vec<usize>, Vec<usize>) =
        series.members.iter().partition(|run| states[**run].is_empty());
    let amount = |run: usize| series.amount(run, channel).get();
    let found: Vec<f64> = as_found.iter().map(|run| Some(amount(*run)?.value())).collect::<Option<_>>()?;
    let mean = Indication::new(found.iter().sum::<f64>() / found.len() as f64);
    let trials = with_masses.iter().map(|run| Some((put_on(*run)?, amount(*run)?)));
    let trials: Vec<(Vector<Unbalance>, Indication)> = trials.collect::<Option<_>>()?;
    let spare = (trials.len() + 1).saturating_sub(3);
    Some(Fit { found: unbalance_from_amounts(mean, &trials).ok()?, spare })
}

/// Unbalance, disagreement, and what one unit of the readout means, from the channel that reads the plane or the first that is read.
fn gathered<'b>(
    recorder: &Recorder<'b>,
    series: &Series<'_, 'b>,
    states: &[Vec<usize>],
) -> crate::book::vectors::Outputs {
    let channel = series.channel_of(series.planes[0]).unwrap_or(0);
    let mut gathered = Gathered::new();
    let members = series.members.iter();
    let read: Vec<usize> = members.map(|run| gathered.value(&series.amount(*run, channel))).collect();
    let put: Vec<Option<usize>> =
        series.runs.iter().map(|run| run.put_on.as_ref().map(|put| gathered.vector(put))).collect();
    let on = |numbers: &Numbers, run: usize| -> Vector<Unbalance> {
        states[run].iter().filter_map(|on| put[*on]).map(|at| numbers.vector(at)).sum()
    };
    gathered.work_out(recorder.explained(&by::FOUR_RUNS), |numbers| {
        let (mut as_found, mut trials) = (Vec::new(), Vec::new());
        for (run, at) in series.members.iter().zip(&read) {
            let amount: Indication = numbers.value(*at);
            if states[*run].is_empty() {
                as_found.push(amount.value());
            } else {
                trials.push((on(numbers, *run), amount));
            }
        }
        // Without a run as found the mean is no number, which the formula refuses.
        let mean = Indication::new(as_found.iter().sum::<f64>() / as_found.len() as f64);
        let found = unbalance_from_amounts(mean, &trials)?;
        Ok(Produced::vector(found.unbalance).and(found.disagreement).and(found.worth))
    })
}
