use crate::book::{EffectiveBlock, ToleranceRule, Val};
use crate::check::{ItemContext, Sink, rotors};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Mass, Speed, Typed, Unbalance, Unit};
use crate::vocabulary::{similar_part, tolerance};

/// The rotor that the tolerance is scaled from.
struct From {
    name: String,
    tolerance: Unbalance,
    mass: Mass,
    speed: Speed,
}

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    if tolerance.field(tolerance::ACCEPTED_BY).is_some() || !rotors::is_read_whole(context) {
        return;
    }
    let is_scaled = |rule: &ToleranceRule| matches!(rule, ToleranceRule::ScaledFrom | ToleranceRule::SimilarPart);
    let scaled = rotor.rules.iter().find(|(rule, _)| is_scaled(rule));
    let Some((rule, value)) = scaled else { return };
    if rotor.governing.is_some_and(|governing| governing != *rule) {
        return;
    }
    let from = match rule {
        ToleranceRule::ScaledFrom => of_the_book(context, tolerance),
        _ => of_a_card(context, tolerance),
    };
    let (Some(from), Some(found), Some(mass), Some(speed)) =
        (from, value.get(), rotor.mass.get(), rotor.service_speed.get())
    else {
        return;
    };
    let (was, is) = (from.tolerance / from.mass, found / mass);
    if is.base() <= was.base() * 1.005 {
        return;
    }
    let unit = rotor.service_speed.unit;
    let speeds = (rotors::given(speed, unit), rotors::given(from.speed, unit));
    let message = format!(
        "at {} instead of {} the specific unbalance grows from the {} of {} to {}, and nobody has accepted that",
        speeds.0,
        speeds.1,
        rotors::in_unit(was, Unit::MICROMETRE),
        from.name,
        rotors::in_unit(is, Unit::MICROMETRE),
    );
    let span = rule.field(tolerance).map_or(tolerance.written.heading, |field| field.field.value_span);
    let draft = context.draft(span, message).help(
        "name who accepted it, `accepted by: \"design office\"`, or \
        state a `total`",
    );
    sink.report(draft.offer_in(context.book(), tolerance.place(), &["accepted by: ?"]));
}

fn of_the_book(context: &ItemContext<'_, '_>, tolerance: &EffectiveBlock<'_>) -> Option<From> {
    let FieldValue::Name(name) = &tolerance.field(tolerance::SCALED_FROM)?.field.value else { return None };
    let other = context.computing.rotor_named(&name.text, context.id)?;
    Some(From {
        name: format!("rotor \"{}\"", name.text),
        tolerance: other.permissible.get()?,
        mass: other.mass.get()?,
        speed: other.service_speed.get()?,
    })
}

fn of_a_card(context: &ItemContext<'_, '_>, tolerance: &EffectiveBlock<'_>) -> Option<From> {
    let part = tolerance.inner(Kind::SimilarPart).next()?;
    let facts = context.computing.facts();
    let (total, mass, speed): (Val<Unbalance>, Val<Mass>, Val<Speed>) = (
        facts.quantity(part, similar_part::TOTAL),
        facts.quantity(part, similar_part::MASS),
        facts.quantity(part, similar_part::HIGHEST_SERVICE_SPEED),
    );
    Some(From { name: "the similar part".to_owned(), tolerance: total.get()?, mass: mass.get()?, speed: speed.get()? })
}
