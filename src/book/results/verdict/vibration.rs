//! What channels read of a rotor in place, judged by the limits of the setup. Readings stand in for unbalances here: they
//! are judged by the same rule, in the unit of the readout.

use super::budget::{Budget, Known, Line};
use super::judged::Judged;
use super::keep::keep_judged;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::bench::readings::ReadingResults;
use crate::book::results::runs::run::RunResults;
use crate::book::results::setup::SetupResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::{Gathered, components};
use crate::mechanics::budget::Part;
use crate::mechanics::limits::Acted;
use crate::mechanics::scatter::Scatter;
use crate::mechanics::verdict::{Verdict, judge};
use crate::units::{Amount, Indication, Typed, Unbalance, Vector};
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, Of, readout, result};

/// One row a limit: the mean of the runs that count, or the largest where one has no angle.
pub(super) fn judge_channels<'b>(
    recorder: &mut Recorder<'b>,
    spot: &Spot,
    setup: &SetupResults<'b>,
    runs: &[&RunResults<'b>],
) -> Vec<Judged> {
    let one = |limit: &crate::book::results::setup::vibration::VibrationLimit<'b>| {
        let of = Of::Channel(limit.channel.text.as_ref().into());
        let read: Option<Vec<&ReadingResults<'b>>> = runs.iter().map(|run| reading(run, &limit.channel.text)).collect();
        let spot = spot.with(of.clone());
        let (measured, budget) = match read.filter(|read| !read.is_empty()) {
            Some(read) => (measured(recorder, &spot, &read), of_readings(recorder, setup, &read)),
            None => {
                let why = format!("a run that counts has no `reading {}`", limit.channel.text);
                let here = origin(&spot, &result::MEASURED);
                (Val::missing(here, Reason::Impossible(why.into()), limit.limit.unit), Budget::default())
            }
        };
        let verdict = verdict(&measured, &limit.limit, &budget);
        (of, measured, limit.limit.clone(), budget, verdict)
    };
    let all: Vec<_> = setup.vibration_limits.iter().map(one).collect();
    let keep = |(of, measured, limit, budget, verdict)| {
        keep_judged(recorder, spot, (of, as_acted(measured), as_acted(limit)), budget, verdict)
    };
    all.into_iter().map(keep).collect()
}

fn reading<'r, 'b>(run: &'r RunResults<'b>, channel: &str) -> Option<&'r ReadingResults<'b>> {
    run.readings.iter().find(|reading| *reading.channel == *channel)
}

fn measured(recorder: &Recorder<'_>, spot: &Spot, read: &[&ReadingResults<'_>]) -> Val<Indication> {
    let vectors: Option<Vec<_>> = read.iter().map(|reading| reading.vector()).collect();
    let here = origin(spot, &result::MEASURED);
    match vectors {
        Some(vectors) if vectors.len() > 1 => {
            let mut gathered = Gathered::new();
            let at: Vec<usize> = vectors.iter().map(|vector| gathered.vector(vector)).collect();
            let outputs = gathered.work_out(recorder.explained(&by::MEAN_OF_RUNS), |numbers| {
                let sum: Vector<Indication> = at.iter().map(|at| numbers.vector::<Indication>(*at)).sum();
                Ok(components([sum / at.len() as f64]))
            });
            outputs.vector::<Indication>(0, here, read[0].amount.unit).amount()
        }
        _ => {
            let amount = |reading: &&&ReadingResults<'_>| reading.amount.get().map_or(f64::INFINITY, Amount::raw);
            let largest = read.iter().max_by(|a, b| amount(a).total_cmp(&amount(b))).unwrap_or(&read[0]);
            Val { origin: here, ..largest.amount.clone() }
        }
    }
}

/// What readings are known to: their step or their scatter. What the limit is of is what the readout shows.
fn of_readings(recorder: &Recorder<'_>, setup: &SetupResults<'_>, read: &[&ReadingResults<'_>]) -> Budget {
    let as_unbalance = |reading: f64| Unbalance::from_base(reading);
    let runs = (read.len() as f64).sqrt();
    let step = read.iter().map(|one| one.amount.standard_uncertainty()).fold(0.0, f64::max) / runs;
    let vectors: Option<Vec<Vector<Unbalance>>> = read
        .iter()
        .map(|one| Some(one.vector()?.get()?.map(|reading: Indication| as_unbalance(reading.raw()))))
        .collect();
    let scatter = Scatter::of(&vectors.unwrap_or_default());
    let name = BudgetLine::Reading.words();
    let stated = setup.machine.as_ref().and_then(|machine| {
        let scatter: Val<Indication> = recorder.facts.quantity(&machine.readout.as_ref()?.block, readout::SCATTER);
        Some(Part::at_any_angle(as_unbalance(scatter.get()?.raw() / runs), 0))
    });
    let line = match (scatter.standard().map(|one| one / runs), stated) {
        (Some(mean), _) if mean.base() > step => Line::new(name, Known::Measured, "runs of one state lie so far apart")
            .with([Part::scattered(mean, scatter.freedom(), 0)]),
        (None, Some(stated)) if stated.standard.base() > step => {
            Line::new(name, Known::Stated, "the scatter of the readout").with([stated])
        }
        _ => Line::new(name, Known::ByDefault, "the step or the last digit that is read")
            .with([Part::known_to(as_unbalance(step), 0)]),
    };
    Budget::of(vec![line])
}

fn verdict(measured: &Val<Indication>, limit: &Val<Indication>, budget: &Budget) -> Option<Verdict> {
    let as_unbalance = |reading: Indication| Unbalance::from_base(reading.raw());
    let measured = as_unbalance(measured.get()?);
    judge([measured; 2], as_unbalance(limit.get()?), budget.uncertainty?).ok()
}

fn as_acted(value: Val<Indication>) -> Val<Acted> {
    let Val { known, contributions, origin, unit, derivation } = value;
    Val { known: known.map(|reading| Acted::from_raw(reading.raw())), contributions, origin, unit, derivation }
}
