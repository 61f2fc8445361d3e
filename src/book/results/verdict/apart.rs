//! Runs of one state that lie farther apart than they are known to.

use super::budget::MountingsApart;
use super::budget::classes::{Class, of_class};
use super::judged::Judged;
use crate::book::results::runs::run::RunResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::render::display_value;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::units::{Amount, Unbalance};
use crate::vocabulary::result;

/// A run that lies too far from the one that is judged last, in words.
#[derive(Clone, Debug)]
pub struct RunApart {
    /// By its number in the record.
    pub run: usize,
    pub words: String,
}

/// Among runs that count, without the rotor being taken out between them.
pub(super) fn of(recorder: &Recorder<'_>, spot: &Spot, runs: &[RunResults<'_>], counting: &[usize]) -> Vec<RunApart> {
    let mounting = counting.iter().rposition(|run| runs[*run].remounted == Some(true)).unwrap_or(0);
    let Some((last, earlier)) = counting[mounting..].split_last() else { return Vec::new() };
    let words = |run: &usize| Some(RunApart { run: *run, words: between(recorder, spot, &runs[*run], &runs[*last])? });
    earlier.iter().filter_map(words).collect()
}

/// Mountings that lie farther apart than the proof lets expect, at the limit where they do so most.
pub(super) fn of_mountings(runs: &[RunResults<'_>], judged: &[Judged]) -> Option<RunApart> {
    let apart = judged.iter().filter_map(|one| Some((one, one.budget.mountings_apart?)));
    let share = |(one, apart): &(&Judged, MountingsApart)| one.share_of_limit(one.acted(apart.amount)).unwrap_or(0.0);
    let (one, apart) = apart.max_by(|a, b| share(a).total_cmp(&share(b)))?;
    let shown = |amount: Unbalance| display_value(one.acted(amount).raw(), one.measured.unit, 0.0);
    let [first, second] = apart.runs;
    let words = format!(
        "the mountings of runs `{}` and `{}` lie {} apart at {}, and those of the proof scatter by {}",
        runs[first].name,
        runs[second].name,
        shown(apart.amount),
        one.name(),
        shown(apart.of_proof)
    );
    Some(RunApart { run: first, words })
}

fn between(recorder: &Recorder<'_>, spot: &Spot, one: &RunResults<'_>, last: &RunResults<'_>) -> Option<String> {
    let planes = one.planes.iter().zip(&last.planes);
    let apart = planes.filter_map(|(a, b)| {
        let (difference, known_to) = difference(recorder, spot, a.own_vector()?, b.own_vector()?)?;
        (difference.raw() > known_to.raw()).then_some((a.name, difference, known_to))
    });
    let (plane, difference, known_to) = apart.max_by(|a, b| a.1.raw().total_cmp(&b.1.raw()))?;
    let unit = recorder.facts.shop.unbalance_unit;
    let shown = |amount: Unbalance| display_value(amount.raw(), unit, 0.0);
    Some(format!(
        "runs `{}` and `{}` of one state lie {} apart in plane {plane}, and their readings are known to {}",
        one.name,
        last.name,
        shown(difference),
        shown(known_to)
    ))
}

/// How far two runs lie apart, and how far their readings alone may put them.
fn difference(
    recorder: &Recorder<'_>,
    spot: &Spot,
    one: &VectorVal<Unbalance>,
    other: &VectorVal<Unbalance>,
) -> Option<(Unbalance, Unbalance)> {
    let mut gathered = Gathered::new();
    let at = [gathered.vector(one), gathered.vector(other)];
    let outputs = gathered.work_out(None, |numbers| {
        let [a, b] = at.map(|at| numbers.vector::<Unbalance>(at));
        Ok(components([a - b]))
    });
    let difference = outputs.vector::<Unbalance>(0, origin(spot, &result::MEASURED), one.unit).amount();
    let of = |class| of_class(recorder.facts.book, &difference.contributions, class);
    let known_to = 2.0 * of(Class::Reading).hypot(of(Class::Angle));
    Some((difference.get()?, Unbalance::from_raw(known_to)))
}
