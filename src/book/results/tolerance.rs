//! The permissible unbalance: every stated rule worked out, the lowest governing.

use super::bearings;
use super::computing::Computing;
use super::entry::{Recorder, Spot};
use super::plane::PlaneResults;
use super::sharing::sharing;
use crate::book::catalogue as result;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::mechanics::tolerance as physics;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Couple, Length, Mass, SpecificUnbalance, Speed, Unbalance, Unit, Velocity};

/// The ways in which a sheet may state a tolerance.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum ToleranceRule {
    Grade,
    Total,
    Bearings,
    Planes,
    Static,
    JournalLoad,
    WholeWeight,
    ScaledFrom,
    SimilarPart,
}

impl ToleranceRule {
    /// The words by which the sheet states it.
    pub const fn words(self) -> &'static str {
        match self {
            ToleranceRule::Grade => "grade",
            ToleranceRule::Total => "total",
            ToleranceRule::Bearings => "at bearing a and b",
            ToleranceRule::Planes => "tolerances of the planes",
            ToleranceRule::Static => "static",
            ToleranceRule::JournalLoad => "W/N by journal load",
            ToleranceRule::WholeWeight => "W/N by whole weight",
            ToleranceRule::ScaledFrom => "scaled from",
            ToleranceRule::SimilarPart => "similar part",
        }
    }
}

/// What a tolerance rests on.
pub(super) struct Base<'v> {
    pub mass: &'v Val<Mass>,
    pub mass_centre: &'v Val<Length>,
    pub bearings: &'v [Val<Length>; 2],
    pub journal_loads: &'v [Val<Mass>; 2],
    pub service_speed: &'v Val<Speed>,
}

pub(super) struct Found {
    pub rules: Vec<(ToleranceRule, Val<Unbalance>)>,
    pub governing: Option<ToleranceRule>,
    pub permissible: Val<Unbalance>,
    pub specific: Val<SpecificUnbalance>,
    pub at_bearings: [Val<Unbalance>; 2],
    /// As the governing rule shares it, whatever is stated at the bearings.
    pub shared_at_bearings: [Val<Unbalance>; 2],
}

pub(super) fn of<'b>(
    computing: &Computing<'b>,
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    base: &Base<'_>,
) -> Found {
    let Some(block) = rotor.inner(Kind::Tolerance).next() else { return without(recorder, rotor, id) };
    let rules = rules(computing, recorder, (rotor, block), id, base);
    let unit = recorder.facts.shop.unbalance_unit;
    let lowest = rules
        .iter()
        .filter_map(|(rule, value)| value.get().map(|amount| (*rule, amount.in_gram_millimetres(), value)))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let spot = Spot::beside(block, id, rules.first().and_then(|(rule, _)| field_of(block, *rule)));
    let (governing, permissible) = match lowest {
        Some((rule, _, value)) => (Some(rule), value.clone()),
        None => match rules.first() {
            Some((_, missing)) => (None, missing.clone()),
            None => {
                let origin = recorder.facts.origin(block, "grade", None);
                (None, Val::missing(origin, Reason::NotGiven, unit))
            }
        },
    };
    recorder.keep(&spot, &result::PERMISSIBLE, &permissible);
    let permissible = Val { origin: super::entry::origin(&spot, &result::PERMISSIBLE), ..permissible };
    if rules.len() > 1
        && let Some(rule) = governing
    {
        recorder.words(&spot, &result::GOVERNING_RULE, rule.words());
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
    let at_bearings = bearings::of(recorder, block, id, &shared_at_bearings);
    Found { rules, governing, permissible, specific, at_bearings, shared_at_bearings }
}

/// A rotor without a tolerance block: everything that needs one is missing, for that reason.
fn without<'b>(recorder: &Recorder<'b>, rotor: &EffectiveBlock<'b>, id: ItemId) -> Found {
    let spot = Spot::heading(rotor, id);
    let origin = super::entry::origin(&spot, &result::PERMISSIBLE);
    let unit = recorder.facts.shop.unbalance_unit;
    let missing = || Val::missing(origin.clone(), Reason::Impossible("the rotor has no tolerance".into()), unit);
    Found {
        rules: Vec::new(),
        governing: None,
        permissible: missing(),
        specific: missing().read_as(),
        at_bearings: [missing(), missing()],
        shared_at_bearings: [missing(), missing()],
    }
}

fn field_of<'b>(block: &EffectiveBlock<'b>, rule: ToleranceRule) -> Option<crate::book::effective::EffectiveField<'b>> {
    match rule {
        ToleranceRule::Grade => block.field("grade"),
        ToleranceRule::Total => block.field("total"),
        ToleranceRule::Bearings => block.field("at bearing b").or_else(|| block.field("at bearing a")),
        ToleranceRule::Planes => block.named("plane").last().map(|(_, field)| field),
        ToleranceRule::Static => block.field("static"),
        ToleranceRule::JournalLoad | ToleranceRule::WholeWeight => block.field("rule"),
        ToleranceRule::ScaledFrom => block.field("scaled from"),
        ToleranceRule::SimilarPart => None,
    }
}

/// Every rule that is stated, in the order of the table of the language.
fn rules<'b>(
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
    if block.field("grade").is_some() {
        let grade = facts.grade(block, "grade");
        let inputs = (&grade, base.mass, base.service_speed);
        let value =
            recorder.on_the_way(&spot, spec, unit, &by::BY_GRADE, inputs, |(grade, mass, speed): (Velocity, _, _)| {
                physics::permissible_unbalance(grade, mass, speed)
            });
        rules.push((R::Grade, value));
    }
    if block.field("total").is_some() {
        let total: Val<Unbalance> = facts.quantity(block, "total");
        let value = recorder.on_the_way(&spot, spec, total.unit, &by::AS_GIVEN, (&total,), |(total,)| Ok(total));
        rules.push((R::Total, value));
    }
    if block.field("at bearing a").is_some() && block.field("at bearing b").is_some() {
        let a: Val<Unbalance> = facts.quantity(block, "at bearing a");
        let b: Val<Unbalance> = facts.quantity(block, "at bearing b");
        let value = recorder.on_the_way(&spot, spec, a.unit, &by::SUM_OF_BEARINGS, (&a, &b), |(a, b)| Ok(a + b));
        rules.push((R::Bearings, value));
    }
    match block.field("rule").map(|field| &field.field.value) {
        Some(FieldValue::Choice("W/N by journal load")) => {
            let formula = &by::BY_JOURNAL_LOAD;
            let value = recorder.on_the_way(&spot, spec, unit, formula, loads_and_speed, |(a, b, speed)| {
                Ok(physics::four_w_over_n(a, speed)? + physics::four_w_over_n(b, speed)?)
            });
            rules.push((R::JournalLoad, value));
        }
        Some(FieldValue::Choice("W/N by whole weight")) => {
            let inputs = (base.mass, base.service_speed);
            let value = recorder.on_the_way(&spot, spec, unit, &by::BY_WHOLE_WEIGHT, inputs, |(mass, speed)| {
                physics::four_w_over_n(mass, speed).map(|one| one * 2.0)
            });
            rules.push((R::WholeWeight, value));
        }
        _ => {}
    }
    if let Some(field) = block.field("scaled from") {
        let value = scaled_from(computing, recorder, block, id, base, field);
        rules.push((R::ScaledFrom, value));
    }
    if let Some(part) = block.inner(Kind::SimilarPart).next() {
        let (known, mass, speed): (Val<Unbalance>, Val<Mass>, Val<Speed>) = (
            facts.quantity(part, "total"),
            facts.quantity(part, "mass"),
            facts.quantity(part, "highest service speed"),
        );
        rules.push((R::SimilarPart, scaled(recorder, &spot, base, &known, &mass, &speed)));
    }
    // Tolerances of the planes limit each plane for itself: their sum stands for the whole only when nothing else does.
    if rules.is_empty()
        && let Some(sum) = sum_of_planes(recorder, rotor, block, &spot)
    {
        rules.push((R::Planes, sum));
    }
    // A static limit says nothing of the couple: it stands for the whole only when nothing else does.
    if rules.is_empty() && block.field("static").is_some() {
        let limit: Val<Unbalance> = facts.quantity(block, "static");
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
        .named("plane")
        .map(|(_, field)| {
            let origin = facts.origin(block, "plane", Some(field));
            match &field.field.value {
                FieldValue::Quantity(stated) => facts.stated(block, field, stated, origin),
                _ => Val::missing(origin, Reason::Unreadable, facts.shop.unbalance_unit),
            }
        })
        .collect();
    let unit = planes.first()?.unit;
    let blocks: Vec<EffectiveBlock<'b>> = rotor.inner(Kind::Plane).cloned().collect();
    let shares = sharing(rotor, &blocks);
    let has_one = |plane: &EffectiveBlock<'_>| block.named("plane").any(|(name, _)| *name.text == *plane.name_text());
    if let Some((plane, _)) = blocks.iter().zip(shares).find(|(plane, shares)| *shares && !has_one(plane)) {
        let why = format!("plane {} has no tolerance, and nothing is stated for the whole rotor", plane.name_text());
        let origin = super::entry::origin(spot, &result::PERMISSIBLE);
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
    field: crate::book::effective::EffectiveField<'b>,
) -> Val<Unbalance> {
    let spot = Spot::beside(block, id, Some(field));
    let name = match &field.field.value {
        FieldValue::Name(name) => &*name.text,
        _ => "",
    };
    match computing.rotor_named(name, id) {
        Some(other) => scaled(recorder, &spot, base, &other.permissible, &other.mass, &other.service_speed),
        None => {
            let origin = recorder.facts.origin(block, "scaled from", Some(field));
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

/// Static and couple limits: as stated, else what the rotor's tolerance and its planes amount to.
pub(super) fn static_and_couple<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    found: &Found,
    planes: &[PlaneResults<'b>],
) {
    let Some(block) = rotor.inner(Kind::Tolerance).next() else { return };
    let spot = Spot::beside(block, id, block.field("static"));
    let stated: Val<Unbalance> = recorder.facts.quantity(block, "static");
    let limit = if stated.is_left_out() { &found.permissible } else { &stated };
    let unit = if stated.is_known() { stated.unit } else { recorder.facts.shop.unbalance_unit };
    recorder.work_out(&spot, &result::STATIC_LIMIT, unit, &by::AS_GIVEN, (limit,), |(limit,)| Ok(limit));
    let couple: Val<Couple> = recorder.facts.quantity(block, "couple");
    let spot = Spot::beside(block, id, block.field("couple"));
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
    }
}
