//! What channels read of a rotor in place, judged by the limits of the setup. Readings replace unbalances here: they
//! are judged by the same rule, in the unit of the readout.

use super::budget::{Budget, Known, Line};
use super::judged::Judged;
use super::keep::keep_judged;
use crate::book::derive::Val;
use crate::book::origin::Reason;
use crate::book::results::bench::readings::ReadingResults;
use crate::book::results::runs::run::RunResults;
use crate::book::results::setup::SetupResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::mechanics::budget::{Freedom, Part};
use crate::mechanics::limits::Acted;
use crate::mechanics::scatter::Scatter;
use crate::mechanics::verdict::{Verdict, judge};
use crate::units::{Amount, Angle, Indication, Typed, Unbalance, Vector};
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, Of, readout, result};

/// One row a limit: the largest of the runs that count.
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
            Some(read) => (measured(&spot, &read), of_readings(recorder, setup, &read)),
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

/// The limit is what a channel may read at most: no run takes from what another reads.
fn measured(spot: &Spot, read: &[&ReadingResults<'_>]) -> Val<Indication> {
    let amount = |reading: &&&ReadingResults<'_>| reading.amount.get().map_or(f64::INFINITY, Amount::raw);
    let largest = read.iter().max_by(|a, b| amount(a).total_cmp(&amount(b))).unwrap_or(&read[0]);
    Val { origin: origin(spot, &result::MEASURED), ..largest.amount.clone() }
}

/// What one reading is known to: its step, the stated scatter of the readout, or how far the runs lie from each other,
/// whichever is most. What the limit is of is what the readout shows.
fn of_readings(recorder: &Recorder<'_>, setup: &SetupResults<'_>, read: &[&ReadingResults<'_>]) -> Budget {
    let as_unbalance = |reading: f64| Unbalance::from_base(reading);
    let step = read.iter().map(|one| one.amount.standard_uncertainty()).fold(0.0, f64::max);
    let amounts: Option<Vec<Vector<Unbalance>>> =
        read.iter().map(|one| Some(Vector::from_polar(as_unbalance(one.amount.get()?.raw()), Angle::ZERO))).collect();
    // Amounts alone: one number a run, where a vector has two.
    let scatter = Scatter::of(&amounts.unwrap_or_default());
    let seen = scatter.standard().map(|standard| (standard * 2f64.sqrt(), Freedom::of(read.len() as f64 - 1.0)));
    let name = BudgetLine::Reading.words();
    let stated = setup.machine.as_ref().and_then(|machine| {
        let scatter: Val<Indication> = recorder.facts.quantity(&machine.readout.as_ref()?.block, readout::SCATTER);
        Some(Part::at_any_angle(as_unbalance(scatter.get()?.raw()), 0))
    });
    let least = stated.map_or(step, |stated| stated.standard.base().max(step));
    let line = match (seen, stated) {
        (Some((seen, freedom)), _) if seen.base() > least => {
            Line::new(name, Known::Measured, "runs of one state lie so far apart")
                .with([Part::scattered(seen, freedom, 0)])
        }
        (_, Some(stated)) if stated.standard.base() > step => {
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
