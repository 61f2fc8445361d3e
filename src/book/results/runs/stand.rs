//! Runs on a static stand, where a rotor rolls until its heavy spot is below: nothing is read, masses tell.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::measuring::Found;
use crate::book::results::plane::PlaneResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::sheet::FieldValue;
use crate::units::{Angle, Length, Mass, Unbalance, Unit, Vector};
use crate::vocabulary::{Fact, YesNo, result, run};

/// What a run on a stand tells, said of the plane in which masses held the rotor, or set it rolling: all planes have it
/// together, and none of the others has anything of its own to tell.
pub(in crate::book::results) fn found<'b>(
    recorder: &Recorder<'b>,
    spots: &[Spot],
    block: &EffectiveBlock<'b>,
    planes: &[&PlaneResults<'b>],
) -> Vec<Found> {
    let has = |plane: &&PlaneResults<'b>| {
        let named = |fact| block.named(fact).any(|(name, _)| *name.text == *plane.name);
        named(run::BALANCED_BY) || named(run::STARTS_WITH)
    };
    let masses_in: Vec<usize> = (0..planes.len()).filter(|n| has(&planes[*n])).collect();
    let of_another = match masses_in[..] {
        _ if planes.len() == 1 => None,
        [] => Some("no mass of the run says in which plane it was"),
        [_] => None,
        _ => Some("masses in two planes held the rotor, which says nothing of either"),
    };
    let one = |(n, (spot, plane)): (usize, (&Spot, &&PlaneResults<'b>))| match of_another {
        Some(why) => missing(recorder, spot, why),
        None if planes.len() > 1 && masses_in != [n] => missing(recorder, spot, TELLS_THE_SUM),
        None => in_plane(recorder, spot, block, plane),
    };
    spots.iter().zip(planes).enumerate().map(one).collect()
}

/// Of several planes a stand tells the sum.
pub(in crate::book::results) const TELLS_THE_SUM: &str =
    "a static stand tells what all planes have together, and nothing of one by itself";

fn missing(recorder: &Recorder<'_>, spot: &Spot, why: &'static str) -> Found {
    let reason = Reason::Impossible(why.into());
    let unit = recorder.facts.shop.unbalance_unit;
    Found::Vector(VectorVal::missing(origin(spot, &result::RUN_UNBALANCE), reason, unit))
}

/// The mass that holds the rotor, opposite the heavy spot, times the radius; nothing where it rests anywhere. Neither is known
/// better than the least mass that sets it rolling.
fn in_plane<'b>(recorder: &Recorder<'b>, spot: &Spot, block: &EffectiveBlock<'b>, plane: &PlaneResults<'b>) -> Found {
    let spec = &result::RUN_UNBALANCE;
    let missing = |why: &'static str| missing(recorder, spot, why);
    let starts = named_mass(recorder, block, run::STARTS_WITH, plane.name);
    if block.choice(run::RESTS_ANYWHERE) == Some(YesNo::Yes) {
        let Some(starts) = starts else {
            return missing("`starts with` does not say how much sets the rotor rolling where it rests anywhere");
        };
        let inputs = (&starts, &plane.radius);
        let unit = recorder.facts.shop.unbalance_unit;
        let formula = &by::RESTS_ANYWHERE;
        let nothing: Val<Unbalance> =
            recorder.on_the_way(spot, spec, unit, formula, inputs, |_: (Mass, Length)| Ok(Unbalance::ZERO));
        return Found::Amount(not_seen(nothing, &starts, plane));
    }
    let Some(mass) = named_mass(recorder, block, run::BALANCED_BY, plane.name) else {
        return missing("the run does not say by which mass the rotor was balanced");
    };
    let heavy: Val<Angle> = recorder.facts.quantity(block, run::HEAVY_SPOT);
    if heavy.is_left_out() {
        return missing("the run does not say where the heavy spot came to rest");
    }
    let mut gathered = Gathered::new();
    let [m, r, at] = [gathered.value(&mass), gathered.value(&plane.radius), gathered.value(&heavy)];
    let outputs = gathered.work_out(recorder.explained(&by::BALANCED_ON_STAND), |numbers| {
        let unbalance: Unbalance = numbers.value::<Mass>(m) * numbers.value::<Length>(r);
        Ok(components([Vector::from_polar(unbalance, numbers.value(at))]))
    });
    let mut vector: VectorVal<Unbalance> = outputs.vector(0, origin(spot, spec), recorder.facts.shop.unbalance_unit);
    if let Some(standard) = starts.and_then(|starts| standard(&starts, plane)) {
        for contributions in &mut vector.contributions {
            let unseen = contributions.beyond_first_order(standard);
            contributions.add(&unseen, 1.0);
        }
    }
    Found::Vector(vector)
}

fn named_mass<'b>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    fact: Fact<Mass>,
    plane: &str,
) -> Option<Val<Mass>> {
    let (_, field) = block.named(fact).find(|(name, _)| *name.text == *plane)?;
    let origin = recorder.facts.origin(block, fact, Some(field));
    Some(match &field.field.value {
        FieldValue::Quantity(stated) => recorder.facts.stated(block, field, stated, origin),
        _ => Val::missing(origin, Reason::Unreadable, Unit::GRAM),
    })
}

/// What does not set the rotor rolling is anywhere up to that: a bound of a vector of any angle.
fn standard(starts: &Val<Mass>, plane: &PlaneResults<'_>) -> Option<f64> {
    let most: Unbalance = starts.get()? * plane.radius.get()?;
    Some(most.in_kilogram_metres() / 2f64.sqrt())
}

fn not_seen(nothing: Val<Unbalance>, starts: &Val<Mass>, plane: &PlaneResults<'_>) -> Val<Unbalance> {
    let Some(standard) = standard(starts, plane) else { return nothing };
    let mut contributions = nothing.contributions.clone();
    let unseen = contributions.beyond_first_order(standard);
    contributions.add(&unseen, 1.0);
    Val { contributions, ..nothing }
}
