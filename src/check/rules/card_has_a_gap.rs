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

fn results(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let mut told: Vec<&Missing> = Vec::new();
    for entry in context.computed.entries() {
        let Outcome::Missing(missing) = &entry.outcome else { continue };
        let is_fact = missing.reason == Reason::NotGiven && !is_told_elsewhere(context, missing);
        if !is_fact || told.contains(&&**missing) {
            continue;
        }
        told.push(missing);
        let message = format!("{}: a card has a gap at {}", why(context.book(), missing), entry.name());
        let help = "write it, so that nobody at the machine has to ask";
        sink.report(context.on_heading(context.effective(), message).help(help));
    }
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
        let message =
            format!("{} {are} not said in {}: a card has a gap there", and_list(&gaps), heading(context, block));
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
