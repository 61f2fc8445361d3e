//! What a card was made from.

use super::Printed;
use super::words::Words;
use crate::book::{EffectiveBlock, RotorResults};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{self, Fact, Text, similar_part, tolerance};

pub(super) fn of(rotor: Option<&RotorResults<'_>>) -> Vec<Words> {
    let standards = standards(rotor);
    let words = if standards.is_empty() { standards } else { standards.say(" ") };
    let words = words.say(super::cautions::REPLACES_NOTHING);
    vec![words.say(program())]
}

/// What the card was made by.
pub(super) fn program() -> String {
    format!(" rotorbook {}.", vocabulary::version())
}

/// `commit 0123456789, files as committed, printed 2026-11-12`
pub(super) fn printed(printed: &Printed) -> Words {
    Words::stated(printed.state.clone()).say(", printed ").state(printed.on.clone())
}
/// Where the tolerance comes from, with the edition that the sheet names.
fn standards(rotor: Option<&RotorResults<'_>>) -> Words {
    let stated = rotor.filter(|rotor| !rotor.rules.is_empty());
    let Some(tolerance) = stated.and_then(RotorResults::tolerance_block) else { return Words::default() };
    let text = |fact: Fact<Text>| match tolerance.field(fact).map(|field| &field.field.value) {
        Some(FieldValue::Text(text)) => Some(text.to_string()),
        _ => None,
    };
    let mut words = Words::said("Tolerance: ");
    words = match (text(tolerance::SOURCE), text(tolerance::EDITION), of_another_rotor(tolerance)) {
        (Some(source), Some(edition), _) => words.state(source).say(", ").state(edition),
        (Some(one), None, _) | (None, Some(one), _) => words.state(one),
        (None, None, Some(other)) => words.with(&other),
        (None, None, None) => words.say("the sheet names no source"),
    };
    if tolerance.field(tolerance::GRADE).is_some() && text(tolerance::EDITION).is_none() {
        words = words.say(" (grade as in ISO 21940-11, edition not stated)");
    }
    words.say(".")
}

/// Where the tolerance is that of another rotor, that rotor or what is said of it.
fn of_another_rotor(tolerance: &EffectiveBlock<'_>) -> Option<Words> {
    if let Some(FieldValue::Name(rotor)) = tolerance.field(tolerance::SCALED_FROM).map(|field| &field.field.value) {
        return Some(Words::said("scaled from that of ").state(&*rotor.text));
    }
    let mut similar = tolerance.inner(Kind::SimilarPart);
    match similar.find_map(|part| part.field(similar_part::SOURCE)).map(|field| &field.field.value) {
        Some(FieldValue::Text(source)) => Some(Words::stated(&**source)),
        _ => None,
    }
}
