//! The permissible unbalance: every stated rule worked out, the lowest governing.

use super::base::{Base, Found};
use super::bearings;
use super::rules;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::computing::Computing;
use crate::book::results::plane::PlaneResults;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::tolerance as physics;
use crate::syntax::Kind;
use crate::units::{Couple, Length, Unbalance, Unit};
use crate::vocabulary::{result, tolerance};

pub(in crate::book::results) fn of<'b>(
    computing: &Computing<'b>,
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    base: &Base<'_>,
) -> Found {
    let Some(block) = rotor.inner(Kind::Tolerance).next() else { return without(recorder, rotor, id) };
    let rules = rules::of(computing, recorder, (rotor, block), id, base);
    let unit = recorder.facts.shop.unbalance_unit;
    let lowest = rules
        .iter()
        .filter_map(|(rule, value)| value.get().map(|amount| (*rule, amount.in_gram_millimetres(), value)))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let spot = Spot::beside(block, id, rules.first().and_then(|(rule, _)| rule.field(block)));
    let (governing, permissible) = match lowest {
        Some((rule, _, value)) => (Some(rule), value.clone()),
        None => match rules.first() {
            Some((_, missing)) => (None, missing.clone()),
            None => {
                let origin = recorder.facts.origin(block, tolerance::GRADE, None);
                (None, Val::missing(origin, Reason::NotGiven, unit))
            }
        },
    };
    recorder.keep(&spot, &result::PERMISSIBLE, &permissible);
    let permissible =
        Val { origin: crate::book::results::values::entry::origin(&spot, &result::PERMISSIBLE), ..permissible };
    match (governing, &permissible.known) {
        (Some(rule), _) if rules.len() > 1 => recorder.words(&spot, &result::GOVERNING_RULE, rule.words()),
        (None, Err(missing)) if rules.len() > 1 => {
            recorder.not_asked(&spot, &[&result::GOVERNING_RULE], WhyNot::Lacks(missing.clone()));
        }
        _ => recorder.not_asked(&spot, &[&result::GOVERNING_RULE], "no more than one rule is stated"),
    }
    let specific = recorder.work_out(
        &spot,
        &result::PERMISSIBLE_SPECIFIC,
        Unit::MICROMETRE,
        &by::SPECIFIC,
        (&permissible, base.mass),
        |(total, mass)| Ok(total / mass),
    );
    recorder.work_out(
        &spot,
        &result::EQUIVALENT_GRADE,
        Unit::MILLIMETRE_PER_SECOND,
        &by::GRADE_OF,
        (&permissible, base.mass, base.service_speed),
        |(total, mass, speed)| physics::equivalent_grade(total, mass, speed),
    );
    let shared_at_bearings = bearings::shared(recorder, rotor, block, id, base, (&permissible, governing));
    let at_bearings = bearings::of(recorder, block, id, base, &shared_at_bearings);
    Found { rules, governing, permissible, specific, at_bearings, shared_at_bearings }
}

/// A rotor without a tolerance block: everything that needs one is missing, for that reason.
fn without<'b>(recorder: &Recorder<'b>, rotor: &EffectiveBlock<'b>, id: ItemId) -> Found {
    let spot = Spot::heading(rotor, id);
    let origin = crate::book::results::values::entry::origin(&spot, &result::PERMISSIBLE);
    let unit = recorder.facts.shop.unbalance_unit;
    let why = || Reason::Impossible("the rotor has no tolerance".into());
    let missing = || Val::missing(origin.clone(), why(), unit);
    Found {
        rules: Vec::new(),
        governing: None,
        permissible: missing(),
        specific: Val::missing(origin.clone(), why(), unit),
        at_bearings: [missing(), missing()],
        shared_at_bearings: [missing(), missing()],
    }
}

/// Static and couple limits: as stated, else what the rotor's tolerance and its planes amount to.
pub(in crate::book::results) fn static_and_couple<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    found: &Found,
    planes: &[PlaneResults<'b>],
) {
    let Some(block) = rotor.inner(Kind::Tolerance).next() else { return };
    let spot = Spot::beside(block, id, block.field(tolerance::STATIC));
    let stated: Val<Unbalance> = recorder.facts.quantity(block, tolerance::STATIC);
    let limit = if stated.is_left_out() { &found.permissible } else { &stated };
    let unit = if stated.is_known() { stated.unit } else { recorder.facts.shop.unbalance_unit };
    let formula = if stated.is_left_out() { &by::STATIC_OF_TOTAL } else { &by::AS_GIVEN };
    recorder.work_out(&spot, &result::STATIC_LIMIT, unit, formula, (limit,), |(limit,)| Ok(limit));
    let couple: Val<Couple> = recorder.facts.quantity(block, tolerance::COUPLE);
    let spot = Spot::beside(block, id, block.field(tolerance::COUPLE));
    let balanced: Vec<&PlaneResults<'_>> = planes.iter().filter(|plane| plane.shares_tolerance).collect();
    if couple.is_known() {
        let unit = couple.unit;
        recorder.work_out(&spot, &result::COUPLE_LIMIT, unit, &by::AS_GIVEN, (&couple,), |(couple,)| Ok(couple));
    } else if let [first, second] = balanced[..] {
        let inputs = (&first.tolerance, &second.tolerance, &first.at, &second.at);
        recorder.work_out(
            &spot,
            &result::COUPLE_LIMIT,
            Unit::GRAM_SQUARE_MILLIMETRE,
            &by::COUPLE_OF_PLANES,
            inputs,
            |(u1, u2, z1, z2): (Unbalance, Unbalance, Length, Length)| Ok(u1.min(u2) * (z2 - z1).abs()),
        );
    } else if balanced.len() == 1 {
        recorder.words(&spot, &result::COUPLE_LIMIT, "not judged: the rotor is balanced in one plane");
    } else {
        recorder.not_asked(&spot, &[&result::COUPLE_LIMIT], "it takes one or two planes that share the tolerance");
    }
}
