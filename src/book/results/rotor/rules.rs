//! The rules by which a sheet may state a tolerance, each worked out for itself.

use super::base::{Base, ToleranceRule};
use super::sharing::sharing;
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::computing::Computing;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::mechanics::tolerance as physics;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Mass, Speed, Unbalance, Velocity};
use crate::vocabulary::tolerance::WeightOverSpeedRule;
use crate::vocabulary::{result, similar_part, tolerance};

/// Every rule that is stated, in the order of the table of the language.
pub(in crate::book::results) fn of<'b>(
    computing: &Computing<'b>,
    recorder: &Recorder<'b>,
    (rotor, block): (&EffectiveBlock<'b>, &EffectiveBlock<'b>),
    id: ItemId,
    base: &Base<'_>,
) -> Vec<(ToleranceRule, Val<Unbalance>)> {
    use ToleranceRule as R;
    let mut rules = Vec::new();
    let facts = &recorder.facts;
    let unit = facts.shop.unbalance_unit;
    let spot = Spot::heading(block, id);
    let spec = &result::PERMISSIBLE;
    let loads_and_speed = (&base.journal_loads[0], &base.journal_loads[1], base.service_speed);
    if block.field(tolerance::GRADE).is_some() {
        let grade = facts.grade(block, tolerance::GRADE);
        let inputs = (&grade, base.mass, base.service_speed);
        let value =
            recorder.on_the_way(&spot, spec, unit, &by::BY_GRADE, inputs, |(grade, mass, speed): (Velocity, _, _)| {
                physics::permissible_unbalance(grade, mass, speed)
            });
        rules.push((R::Grade, value));
    }
    if block.field(tolerance::TOTAL).is_some() {
        let total: Val<Unbalance> = facts.quantity(block, tolerance::TOTAL);
        let value = recorder.on_the_way(&spot, spec, total.unit, &by::AS_GIVEN, (&total,), |(total,)| Ok(total));
        rules.push((R::Total, value));
    }
    if block.field(tolerance::AT_BEARING_A).is_some() && block.field(tolerance::AT_BEARING_B).is_some() {
        let a: Val<Unbalance> = facts.quantity(block, tolerance::AT_BEARING_A);
        let b: Val<Unbalance> = facts.quantity(block, tolerance::AT_BEARING_B);
        let value = if base.is_overhung(rotor) {
            // Beyond a bearing the levers have opposite signs: the two limits allow more than the rotor may have.
            let why =
                "the rotor is overhung, so what its bearings may have does not add up to a tolerance of the whole";
            Val::missing(
                crate::book::results::values::entry::origin(&spot, spec),
                Reason::Impossible(why.into()),
                a.unit,
            )
        } else {
            recorder.on_the_way(&spot, spec, a.unit, &by::SUM_OF_BEARINGS, (&a, &b), |(a, b)| Ok(a + b))
        };
        rules.push((R::Bearings, value));
    }
    match block.choice(tolerance::RULE) {
        Some(WeightOverSpeedRule::ByJournalLoad) => {
            let formula = &by::BY_JOURNAL_LOAD;
            let value = recorder.on_the_way(&spot, spec, unit, formula, loads_and_speed, |(a, b, speed)| {
                Ok(physics::four_w_over_n(a, speed)? + physics::four_w_over_n(b, speed)?)
            });
            rules.push((R::JournalLoad, value));
        }
        Some(WeightOverSpeedRule::ByWholeWeight) => {
            let inputs = (base.mass, base.service_speed);
            let value = recorder.on_the_way(&spot, spec, unit, &by::BY_WHOLE_WEIGHT, inputs, |(mass, speed)| {
                physics::four_w_over_n(mass, speed).map(|one| one * 2.0)
            });
            rules.push((R::WholeWeight, value));
        }
        None => {}
    }
    if let Some(field) = block.field(tolerance::SCALED_FROM) {
        let value = scaled_from(computing, recorder, block, id, base, field);
        rules.push((R::ScaledFrom, value));
    }
    if let Some(part) = block.inner(Kind::SimilarPart).next() {
        let (known, mass, speed): (Val<Unbalance>, Val<Mass>, Val<Speed>) = (
            facts.quantity(part, similar_part::TOTAL),
            facts.quantity(part, similar_part::MASS),
            facts.quantity(part, similar_part::HIGHEST_SERVICE_SPEED),
        );
        rules.push((R::SimilarPart, scaled(recorder, &spot, base, &known, &mass, &speed)));
    }
    // Tolerances of the planes limit each plane for itself: their sum means the whole only when nothing else does.
    if rules.is_empty()
        && let Some(sum) = sum_of_planes(recorder, rotor, block, &spot)
    {
        rules.push((R::Planes, sum));
    }
    // Two planes in phase make a static unbalance: what limits that limits their sum.
    if block.field(tolerance::STATIC).is_some() {
        let limit: Val<Unbalance> = facts.quantity(block, tolerance::STATIC);
        let value = recorder.on_the_way(&spot, spec, limit.unit, &by::STATIC_AS_TOTAL, (&limit,), |(limit,)| Ok(limit));
        rules.push((R::Static, value));
    }
    rules
}

/// The tolerances of the planes added up; missing where one of the planes that share has none.
fn sum_of_planes<'b>(
    recorder: &Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    block: &EffectiveBlock<'b>,
    spot: &Spot,
) -> Option<Val<Unbalance>> {
    let facts = &recorder.facts;
    let planes: Vec<Val<Unbalance>> = block
        .named(tolerance::PLANE)
        .map(|(_, field)| {
            let origin = facts.origin(block, tolerance::PLANE, Some(field));
            match &field.field.value {
                FieldValue::Quantity(stated) => facts.stated(block, field, stated, origin),
                _ => Val::missing(origin, Reason::Unreadable, facts.shop.unbalance_unit),
            }
        })
        .collect();
    let unit = planes.first()?.unit;
    let blocks: Vec<EffectiveBlock<'b>> = rotor.inner(Kind::Plane).cloned().collect();
    let shares = sharing(rotor, &blocks);
    let has_one =
        |plane: &EffectiveBlock<'_>| block.named(tolerance::PLANE).any(|(name, _)| *name.text == *plane.name_text());
    if let Some((plane, _)) = blocks.iter().zip(shares).find(|(plane, shares)| *shares && !has_one(plane)) {
        let why = format!("plane {} has no tolerance, and nothing is stated for the whole rotor", plane.name_text());
        let origin = crate::book::results::values::entry::origin(spot, &result::PERMISSIBLE);
        return Some(Val::missing(origin, Reason::Impossible(why.into()), unit));
    }
    let sum = |planes: Vec<Unbalance>| Ok(planes.into_iter().sum());
    Some(recorder.on_the_way(spot, &result::PERMISSIBLE, unit, &by::SUM_OF_PLANES, &planes[..], sum))
}

fn scaled_from<'b>(
    computing: &Computing<'b>,
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    base: &Base<'_>,
    field: EffectiveField<'b>,
) -> Val<Unbalance> {
    let spot = Spot::beside(block, id, Some(field));
    let name = match &field.field.value {
        FieldValue::Name(name) => &*name.text,
        _ => "",
    };
    match computing.rotor_named(name, id) {
        Some(other) => scaled(recorder, &spot, base, &other.permissible, &other.mass, &other.service_speed),
        None => {
            let origin = recorder.facts.origin(block, tolerance::SCALED_FROM, Some(field));
            Val::missing(origin, Reason::NoSuchItem, recorder.facts.shop.unbalance_unit)
        }
    }
}

fn scaled(
    recorder: &Recorder<'_>,
    spot: &Spot,
    base: &Base<'_>,
    known: &Val<Unbalance>,
    known_mass: &Val<Mass>,
    known_speed: &Val<Speed>,
) -> Val<Unbalance> {
    let unit = recorder.facts.shop.unbalance_unit;
    let inputs = (known, base.mass, known_mass, known_speed, base.service_speed);
    recorder.on_the_way(spot, &result::PERMISSIBLE, unit, &by::BY_SCALING, inputs, |(u, m, m1, n1, n)| {
        physics::scaled_by_mass_and_speed(u, (m1, n1), (m, n))
    })
}
