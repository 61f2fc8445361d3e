use crate::book::{EffectiveBlock, Missing, Outcome, Reason, why};
use crate::check::wording::and_list;
use crate::check::{ItemContext, Sink, rotors};
use crate::syntax::Kind;
use crate::vocabulary::plane::Method;
use crate::vocabulary::{self, AnyFact, KeySpec, Need, OnCard, plane, rotor, setup};

/// Facts whose absence has a rule of its own.
const OF_OTHER_RULES: [(Kind, AnyFact); 6] = [
    (Kind::Setup, setup::TOLERANCE_READS.any()),
    (Kind::Setup, setup::INDICATES.any()),
    (Kind::Rotor, rotor::HIGHEST_SERVICE_SPEED.any()),
    (Kind::Rotor, rotor::MASS_CENTRE.any()),
    (Kind::Plane, plane::RADIUS.any()),
    (Kind::Plane, plane::MATERIAL.any()),
];

/// Every fact that a card says is not said, by the vocabulary: one finding a block. Then every fact that a result lacks.
pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if context.is_read_whole() {
        below(context, context.effective(), sink);
        results(context, sink);
    }
}

/// Every fact that results lack, all of one block at once: what is written one after another is asked for one after another.
fn results(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let entries = context.computed.entries().iter();
    let mut lacking: Vec<(&Missing, String)> = entries
        .filter_map(|entry| match &entry.outcome {
            Outcome::Missing(missing) => Some((&**missing, entry.name().into_owned())),
            _ => None,
        })
        .collect();
    lacking.retain(|(missing, _)| is_fact(context, missing));
    let of_block =
        |one: &Missing, other: &Missing| one.origin.item == other.origin.item && one.origin.path == other.origin.path;
    for plane in context.rotor().iter().flat_map(|rotor| &rotor.planes) {
        for missing in plane.method.map_or_else(Vec::new, |method| plane.geometry.lacks(method)) {
            if is_fact(context, missing) && lacking.iter().any(|(other, _)| of_block(other, missing)) {
                lacking.push((missing, String::new()));
            }
        }
    }
    let mut told: Vec<&Missing> = Vec::new();
    for (missing, result) in &lacking {
        if told.contains(missing) {
            continue;
        }
        let mut names: Vec<String> = Vec::new();
        for (other, _) in lacking.iter().filter(|(other, _)| of_block(other, missing)) {
            told.push(other);
            let name = format!("`{}`", other.origin.name);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let why = why(context.book(), missing);
        let message = match &names[..] {
            [_] => format!("{why}: the card cannot show {result}"),
            [_, others @ ..] => {
                let are = if others.len() > 1 { "are" } else { "is" };
                format!("{why}, and so {are} {}: the card cannot show {result}", and_list(others))
            }
            [] => continue,
        };
        let help = "write it, so that nobody at the machine has to ask";
        sink.report(context.on_heading(context.effective(), message).help(help));
    }
}

fn is_fact(context: &ItemContext<'_, '_>, missing: &Missing) -> bool {
    missing.reason == Reason::NotGiven && !is_told_elsewhere(context, missing)
}

fn is_told_elsewhere(context: &ItemContext<'_, '_>, missing: &Missing) -> bool {
    let origin = &missing.origin;
    let kind = origin.path.innermost().map_or(context.book().item(origin.item).kind, |block| block.kind);
    let of_other_rules = OF_OTHER_RULES.iter().any(|(of, fact)| *of == kind && fact.words() == origin.name);
    of_other_rules || vocabulary::block(kind).key(&origin.name).is_some_and(|key| key.need == Need::Must)
}

fn below<'b>(context: &ItemContext<'b, '_>, block: &EffectiveBlock<'b>, sink: &mut Sink) {
    let keys = vocabulary::block(block.kind).keys.iter();
    let is_missing = |key: &&KeySpec| is_gap(block, key) || is_weight_without_length(block, key);
    let gaps: Vec<String> = keys.filter(is_missing).map(|key| format!("`{}`", key.name)).collect();
    if !gaps.is_empty() {
        let are = if gaps.len() > 1 { "are" } else { "is" };
        let message = format!(
            "{} {are} not stated in {}: the card will have a blank there",
            and_list(&gaps),
            heading(context, block)
        );
        let help = "write what is known, so that nobody at the machine has to ask";
        sink.report(context.on_heading(block, message).help(help));
    }
    for inner in &block.blocks {
        below(context, inner, sink);
    }
}

fn heading<'b>(context: &ItemContext<'b, '_>, block: &EffectiveBlock<'b>) -> String {
    if block.kind.is_item() { format!("the {}", block.kind) } else { format!("`{}`", rotors::heading(context, block)) }
}

/// Where weights go in their groove is not worked out without the room that one takes up.
fn is_weight_without_length(block: &EffectiveBlock<'_>, key: &KeySpec) -> bool {
    key.is(plane::WEIGHT_LENGTH)
        && block.choice(plane::METHOD) == Some(Method::SlidingWeights)
        && block.field(plane::WEIGHT_LENGTH).is_none()
}

fn is_gap(block: &EffectiveBlock<'_>, key: &KeySpec) -> bool {
    let is_said = |name: &str| block.fields.iter().any(|field| field.field.key.name == name);
    let Some(when) = key.on_card.filter(|_| !is_said(key.name)) else { return false };
    match when {
        OnCard::Always => true,
        OnCard::With(other) => is_said(other.words()),
        OnCard::Without(others) => !others.iter().any(|other| is_said(other.words())),
    }
}
