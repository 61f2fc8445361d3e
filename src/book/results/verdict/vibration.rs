//! What channels read of a rotor in place, judged by the limits of the setup. Readings replace unbalances here: they
//! are judged by the same rule, in the unit of the readout.

use super::budget::{Budget, FIRST, Known, Line, group, share_of_reading, speed_line, state_error, stating_errors};
use super::judged::Judged;
use super::judged::as_read;
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
use crate::units::{Amount, Angle, Indication, Ratio, Speed, Typed, Unbalance, Vector};
use crate::vocabulary::readout::Shown;
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, Of, readout, result, setup};

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
            Some(read) => (measured(&spot, &read), of_readings(setup, runs, &read)),
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

/// What one reading is known to: what may put it wrong, each line with its standing. What the limit is of is what the
/// readout shows.
fn of_readings(setup: &SetupResults<'_>, runs: &[&RunResults<'_>], read: &[&ReadingResults<'_>]) -> Budget {
    let largest = read.iter().filter_map(|one| one.amount.get()).map(Amount::raw).fold(0.0, f64::max);
    let speeds: Vec<&Val<Speed>> = runs.iter().map(|run| &run.speed).collect();
    let up_to = |share: Ratio, of| Part::up_to(as_unbalance(largest * share.value().abs()), of);
    let speed = speed_line(setup, false, &speeds, |share| vec![up_to(share, group(5, 0))]);
    let machine = "nothing says how well the machine knows what its channels read";
    let mut lines = vec![
        reading_line(setup, read),
        Line::new(setup::MACHINE.words(), Known::NotKnown, machine),
        value_line(setup),
        speed,
    ];
    for (n, block) in stating_errors(setup, false).enumerate() {
        // An unbalance says nothing of a channel.
        let Some(share) = share_of_reading(block) else { continue };
        state_error(block, Some(vec![up_to(share, group(FIRST, n))]), &mut lines);
    }
    Budget::of(lines)
}

fn as_unbalance(reading: f64) -> Unbalance {
    Unbalance::from_base(reading)
}

/// The step, the stated scatter of the readout, or how far the runs lie from each other, whichever is most.
fn reading_line(setup: &SetupResults<'_>, read: &[&ReadingResults<'_>]) -> Line {
    let step = read.iter().map(|one| one.amount.standard_uncertainty()).fold(0.0, f64::max);
    let amounts: Option<Vec<Vector<Unbalance>>> =
        read.iter().map(|one| Some(Vector::from_polar(as_unbalance(one.amount.get()?.raw()), Angle::ZERO))).collect();
    // Amounts alone: one number a run, where a vector has two.
    let scatter = Scatter::of(&amounts.unwrap_or_default());
    let seen = scatter.standard().map(|standard| (standard * 2f64.sqrt(), Freedom::of(read.len() as f64 - 1.0)));
    let name = BudgetLine::Reading.words();
    let stated = setup.machine.as_ref().and_then(|machine| {
        let scatter = &machine.readout.as_ref()?.scatter;
        Some(Part::at_any_angle(as_unbalance(scatter.get()?.raw()), 0))
    });
    let least = stated.map_or(step, |stated| stated.standard.base().max(step));
    let by_step = Part::known_to(as_unbalance(step), 0);
    match (seen, stated) {
        (Some((seen, freedom)), _) if seen.base() > least => {
            Line::new(name, Known::Measured, "runs of one state lie so far apart")
                .with([Part::scattered(seen, freedom, 0)])
        }
        (_, Some(stated)) if stated.standard.base() > step => {
            Line::new(name, Known::Stated, "the scatter of the readout").with([stated])
        }
        (None, None) => {
            let why = "one run, and the readout states no scatter: nothing shows how far readings repeat";
            Line::new(name, Known::NotKnown, why).with([by_step])
        }
        _ => Line::new(name, Known::ByDefault, "the step or the last digit that is read").with([by_step]),
    }
}

/// Which value of an oscillation is read and limited.
fn value_line(setup: &SetupResults<'_>) -> Line {
    let name = readout::VALUE.words();
    let readout = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref());
    let oscillates = |shows: Shown| matches!(shows, Shown::Displacement | Shown::Velocity);
    match readout {
        Some(readout) if readout.shows.is_some_and(|shows| !oscillates(shows)) => {
            Line::new(name, Known::DoesNotApply, "the readout shows no oscillation")
        }
        Some(readout) if readout.block.says(readout::VALUE) => {
            Line::new(name, Known::Stated, "the readout says which value of an oscillation it shows")
        }
        _ => Line::new(name, Known::NotKnown, "the readout does not say which value of an oscillation it shows"),
    }
}

fn verdict(measured: &Val<Indication>, limit: &Val<Indication>, budget: &Budget) -> Option<Verdict> {
    let measured = as_unbalance(measured.get()?.raw());
    let word = judge([measured; 2], as_unbalance(limit.get()?.raw()), budget.uncertainty?).ok()?;
    Some(as_read(word, budget))
}

fn as_acted(value: Val<Indication>) -> Val<Acted> {
    let Val { known, contributions, origin, unit, derivation } = value;
    Val { known: known.map(|reading| Acted::from_raw(reading.raw())), contributions, origin, unit, derivation }
}
