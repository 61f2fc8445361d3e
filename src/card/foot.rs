//! What a card was made from.

use super::Printed;
use super::checked::Checked;
use super::words::Words;
use crate::book::RotorResults;
use crate::sheet::FieldValue;
use crate::vocabulary::{Fact, Text, tolerance};

pub(super) fn of(rotor: Option<&RotorResults<'_>>, checked: &Checked<'_>, printed: &Printed) -> Vec<Words> {
    let mut foot = vec![
        Words::said("Printed ")
            .state(printed.on.clone())
            .say(" from ")
            .state(printed.state.clone())
            .say("; ")
            .with(&checked.summary()),
        Words::said("± is expanded uncertainty, k = 2. ").with(&standards(rotor)),
        Words::said(format!("rotorbook {}. {}", env!("CARGO_PKG_VERSION"), super::cautions::REPLACES_NOTHING)),
    ];
    foot.retain(|words| !words.is_empty());
    foot
}

/// Where the tolerance comes from, with the edition that the sheet names.
fn standards(rotor: Option<&RotorResults<'_>>) -> Words {
    let Some(tolerance) = rotor.and_then(RotorResults::tolerance_block) else { return Words::default() };
    let text = |fact: Fact<Text>| match tolerance.field(fact).map(|field| &field.field.value) {
        Some(FieldValue::Text(text)) => Some(text.to_string()),
        _ => None,
    };
    let mut words = Words::said("Tolerance: ");
    words = match (text(tolerance::SOURCE), text(tolerance::EDITION)) {
        (Some(source), Some(edition)) => words.state(source).say(", ").state(edition),
        (Some(one), None) | (None, Some(one)) => words.state(one),
        (None, None) => words.say("the sheet names no source"),
    };
    if tolerance.field(tolerance::GRADE).is_some() && text(tolerance::EDITION).is_none() {
        words = words.say(" (grade as in ISO 21940-11, edition not stated)");
    }
    words.say(".")
}
