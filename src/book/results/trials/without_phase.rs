//! One plane without angles: the unbalance from amounts alone.

use super::influence::{self, InfluenceResults};
use super::series::Series;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::values::entry::{Meaning, Recorder, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, Numbers, Produced, VectorVal};
use crate::mechanics::without_phase::unbalance_from_amounts;
use crate::units::{Indication, Ratio, Unbalance, Unit, Vector};
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
            let share = Val { contributions: crate::units::Contributions::none(), ..share };
            let mut worth: Val<Unbalance> = outputs.value(3, origin(&of_plane, spec), unit);
            if let (Some(worth_of_one), Some(share)) = (worth.get(), share.get()) {
                let standard = (worth_of_one * share).in_kilogram_metres() / 3f64.sqrt();
                let disagreement = worth.contributions.beyond_first_order(standard);
                worth.contributions.add(&disagreement, 1.0);
            }
            (outputs.vector(0, origin(&of_plane, spec), unit), Some(share), Some(worth))
        }
    };
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
        worth_of_amount: worth,
    }
}

/// Unbalance, disagreement, and what one unit of the readout stands for, from the channel that reads the plane or the first that is read.
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
        let worth_of_one = found.unbalance.amount() / mean.value();
        Ok(Produced::vector(found.unbalance).and(found.disagreement).and(worth_of_one))
    })
}
