//! The permissible unbalance: every stated rule worked out, the lowest governing.

use super::base::{Base, Found, ToleranceRule};
use super::bearings;
use super::rules;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::computing::Computing;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::tolerance as physics;
use crate::syntax::Kind;
use crate::units::{Amount, Couple, Unbalance, Unit};
use crate::vocabulary::{AnyFact, ResultSpec, result, tolerance};

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
    // A rule that nobody can work out may be the lowest.
    let unknown = rules.iter().find(|(rule, value)| rule.binds_bearings() && !value.is_known());
    let lowest = rules
        .iter()
        .filter_map(|(rule, value)| value.get().map(|amount| (*rule, amount.in_gram_millimetres(), value)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|_| unknown.is_none());
    let spot = Spot::beside(block, id, rules.first().and_then(|(rule, _)| rule.field(block)));
    let (governing, permissible) = match lowest {
        Some((rule, _, value)) => (Some(rule), value.clone()),
        None => match unknown.or(rules.first()) {
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
    let binding = lowest_of(rules.iter().filter(|(rule, _)| rule.binds_bearings()));
    let whole = binding.as_ref().or_else(|| rules.iter().find(|(rule, _)| *rule == ToleranceRule::Bearings));
    let shared_at_bearings = bearings::shared(recorder, rotor, block, id, base, whole);
    let at_bearings = bearings::of(recorder, block, id, base, (&shared_at_bearings, binding.is_some()));
    let bearing_is_stated = at_bearings.each_ref().map(|(_, stated)| *stated);
    let at_bearings = at_bearings.map(|(limit, _)| limit);
    Found { rules, governing, permissible, specific, binding, at_bearings, bearing_is_stated, shared_at_bearings }
}

/// The rule that gives the least; one that is not known, where there is one.
fn lowest_of<'r>(
    rules: impl Iterator<Item = &'r (ToleranceRule, Val<Unbalance>)>,
) -> Option<(ToleranceRule, Val<Unbalance>)> {
    let amount = |value: &Val<Unbalance>| value.get().map(Unbalance::in_gram_millimetres);
    // What is not known comes first.
    let order = |a: &Option<f64>, b: &Option<f64>| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal);
    rules.min_by(|a, b| order(&amount(&a.1), &amount(&b.1))).cloned()
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
        binding: None,
        at_bearings: [missing(), missing()],
        bearing_is_stated: [false, false],
        shared_at_bearings: [missing(), missing()],
    }
}

/// Static and couple limits, where they are stated.
pub(in crate::book::results) fn static_and_couple<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
) {
    let Some(block) = rotor.inner(Kind::Tolerance).next() else { return };
    let spot = Spot::beside(block, id, block.field(tolerance::STATIC));
    let limit: Val<Unbalance> = recorder.facts.quantity(block, tolerance::STATIC);
    as_given(recorder, &spot, &result::STATIC_LIMIT, tolerance::STATIC.any(), &limit);
    let spot = Spot::beside(block, id, block.field(tolerance::COUPLE));
    let limit: Val<Couple> = recorder.facts.quantity(block, tolerance::COUPLE);
    as_given(recorder, &spot, &result::COUPLE_LIMIT, tolerance::COUPLE.any(), &limit);
}

fn as_given<T: Amount>(
    recorder: &mut Recorder<'_>,
    spot: &Spot,
    spec: &'static ResultSpec,
    fact: AnyFact,
    limit: &Val<T>,
) {
    if limit.is_left_out() {
        recorder.not_asked(spot, &[spec], WhyNot::LeftOut(fact));
    } else {
        recorder.work_out(spot, spec, limit.unit, &by::AS_GIVEN, (limit,), |(limit,)| Ok(limit));
    }
}
