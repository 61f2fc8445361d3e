//! Sliding weights: where they are in each run, and where to turn them.

use crate::book::effective::EffectiveBlock;
use crate::book::results::plane::PlaneResults;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::results::values::render::display_value;
use crate::mechanics::correction::sliding::{Turned, most_of_weights, turn_weights};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Angle, Length, Mass, Typed, Unbalance, Unit, Vector, plainly};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{plane, result, run};

/// Where the weights of the planes stand, each by the name of its plane, in the order of their numbers.
pub type Standing<'b> = Vec<(&'b str, Vec<Angle>)>;

/// Where the weights stood in each run: as the run says, else as in the run before, first of all as work that was done
/// before left them. A correction of their plane leaves open where they stand.
pub(in crate::book::results) fn standing<'b>(
    blocks: &[&EffectiveBlock<'b>],
    before: Standing<'b>,
) -> Vec<Standing<'b>> {
    let mut now = before;
    let mut all = Vec::new();
    for block in blocks {
        match block.kind {
            Kind::Correction => now.retain(|(plane, _)| *plane != block.name_text()),
            Kind::Run => {
                for (plane, at) in stated(block) {
                    now.retain(|(other, _)| *other != plane);
                    now.push((plane, at));
                }
                all.push(now.clone());
            }
            _ => {}
        }
    }
    all
}

/// What a run says of weights itself.
fn stated<'b>(block: &EffectiveBlock<'b>) -> Standing<'b> {
    let angles = |value: &FieldValue| match value {
        FieldValue::Quantities(angles) => Some(angles.iter().map(|angle| Angle::from_base(angle.base)).collect()),
        FieldValue::Quantity(angle) => Some(vec![Angle::from_base(angle.base)]),
        _ => None,
    };
    let named = block.named(run::WEIGHTS_AT);
    named.filter_map(|(name, field)| Some((&*name.text, angles(&field.field.value)?))).collect()
}

/// Where the weights of one plane stand.
pub(in crate::book::results) fn of<'s>(standing: &'s Standing<'_>, plane: &str) -> Option<&'s [Angle]> {
    standing.iter().find(|(name, _)| *name == plane).map(|(_, at)| &at[..])
}

/// Whether any weight was turned from one run to the next.
pub(in crate::book::results) fn were_turned(before: &Standing<'_>, after: &Standing<'_>) -> bool {
    before.iter().any(|(plane, from)| of(after, plane).is_some_and(|to| to != &from[..]))
}

/// What turning the weights of a plane put on; `None` where nothing says where they stood and stand.
pub(in crate::book::results) fn put_on(
    plane: &PlaneResults<'_>,
    before: &Standing<'_>,
    after: &Standing<'_>,
) -> Option<Vector<Unbalance>> {
    let each = each(plane).ok()?;
    let sum = |at: &[Angle]| -> Vector<Unbalance> { at.iter().map(|at| Vector::from_polar(each, *at)).sum() };
    Some(sum(of(after, plane.name)?) - sum(of(before, plane.name)?))
}

fn each(plane: &PlaneResults<'_>) -> Result<Unbalance, WhyNot> {
    let mass: Mass = plane.geometry.mass_each.known.clone().map_err(WhyNot::Lacks)?;
    let radius: Length = plane.radius.known.clone().map_err(WhyNot::NoRadius)?;
    Ok(mass * radius)
}

/// Where to turn the weights of a plane for an unbalance that was read with them where they stand.
pub(in crate::book::results) fn turn<'b>(
    recorder: &mut Recorder<'b>,
    spot: &Spot,
    plane: &PlaneResults<'b>,
    unbalance: Option<Vector<Unbalance>>,
    standing: &Standing<'b>,
) {
    match proposal(recorder, plane, unbalance, standing) {
        Ok(words) => recorder.words(spot, &result::WEIGHTS_TO, words),
        Err(why) => recorder.not_asked(spot, &[&result::WEIGHTS_TO], why),
    }
}

/// Weights that leave more of the tolerance of their plane than this do not make what is called for. Source: common practice,
/// no source.
const MAY_LEAVE: f64 = 0.1;

/// Where the weights go, weight 1 first; else why that is not worked out.
pub(in crate::book::results) fn proposal(
    recorder: &Recorder<'_>,
    plane: &PlaneResults<'_>,
    unbalance: Option<Vector<Unbalance>>,
    standing: &Standing<'_>,
) -> Result<String, WhyNot> {
    if plane.method != Some(Method::SlidingWeights) {
        return Err("the plane has no sliding weights".into());
    }
    let unbalance = unbalance.ok_or("the run does not tell the unbalance of this plane with its angle")?;
    let from = of(standing, plane.name).ok_or("no run says where the weights are")?;
    let number = recorder.facts.number(&plane.block, plane::WEIGHTS).get().map_or(2.0, |number| number.value());
    if from.len() as f64 != number {
        return Err(WhyNot::Says(format!("the run says where {} weights are, of {number}", from.len()).into()));
    }
    let (each, length) = (each(plane)?, recorder.facts.quantity::<Length>(&plane.block, plane::WEIGHT_LENGTH));
    let (Some(length), Some(radius)) = (length.get(), plane.radius.get()) else {
        return Err(WhyNot::LeftOut(plane::WEIGHT_LENGTH.any()));
    };
    let now: Vector<Unbalance> = from.iter().map(|at| Vector::from_polar(each, *at)).sum();
    let apart = Angle::radians((length / radius).value());
    let wanted = now - unbalance;
    let most = most_of_weights(from.len(), each, apart);
    let nearest = side_by_side(from, wanted, apart);
    let shown = |amount: Unbalance| display_value(amount.base(), recorder.facts.shop.unbalance_unit, 0.0);
    let cannot = || {
        let most = most.map_or_else(|_| "nothing".to_owned(), shown);
        let makes: Vector<Unbalance> = nearest.iter().map(|at| Vector::from_polar(each, *at)).sum();
        let (left, wanted) = (shown((wanted - makes).amount()), shown(wanted.amount()));
        WhyNot::Says(
            format!(
                "the weights cannot reach it: together at most {most}, and {wanted} are called for; nearest is {}, side by side, \
                 which leaves {left}",
                in_words(&nearest)
            )
            .into(),
        )
    };
    let Turned { to, left } = turn_weights(from, wanted, each, apart).map_err(|_| cannot())?;
    if plane.tolerance.get().is_none_or(|tolerance| left.amount() > tolerance * MAY_LEAVE)
        && left.amount() > each * 1e-6
    {
        return Err(cannot());
    }
    Ok(in_words(&to))
}

/// `60 deg, 300 deg`, weight 1 first.
fn in_words(to: &[Angle]) -> String {
    let degrees =
        |angle: &Angle| (Unit::DEGREE.from_base(angle.within_one_turn().base()) * 10.0).round() / 10.0 % 360.0;
    let text: Vec<String> = to.iter().map(|angle| format!("{} deg", plainly(degrees(angle)))).collect();
    text.join(", ")
}

/// All weights side by side about the wanted direction, in the order in which they stand in the groove, the first of them the
/// one next after the opposite direction. What makes the most towards it: vector sum.
fn side_by_side(from: &[Angle], wanted: Vector<Unbalance>, apart: Angle) -> Vec<Angle> {
    let opposite = wanted.angle() + Angle::degrees(180.0);
    let turn_from_opposite = |n: &usize| (from[*n] - opposite).within_one_turn().in_radians();
    let mut order: Vec<usize> = (0..from.len()).collect();
    order.sort_by(|a, b| turn_from_opposite(a).total_cmp(&turn_from_opposite(b)));
    let first = wanted.angle() - apart * ((from.len() as f64 - 1.0) / 2.0);
    let mut to = from.to_vec();
    for (place, weight) in order.into_iter().enumerate() {
        to[weight] = first + apart * place as f64;
    }
    to
}

/// Where the weights of a plane stand that make the most of what it calls for and cannot reach it; `None` without their facts.
pub(in crate::book::results) fn nearest(
    recorder: &Recorder<'_>,
    plane: &PlaneResults<'_>,
    unbalance: Option<Vector<Unbalance>>,
    standing: &Standing<'_>,
) -> Option<String> {
    let from = of(standing, plane.name)?;
    let length = recorder.facts.quantity::<Length>(&plane.block, plane::WEIGHT_LENGTH).get()?;
    let each = each(plane).ok()?;
    let now: Vector<Unbalance> = from.iter().map(|at| Vector::from_polar(each, *at)).sum();
    let apart = Angle::radians((length / plane.radius.get()?).value());
    Some(in_words(&side_by_side(from, now - unbalance?, apart)))
}
