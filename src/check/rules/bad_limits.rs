use crate::check::{Draft, Slip};
use crate::vocabulary::{KeySpec, ValueType, arbor, made_of, masses};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    if found.starts_with('(') {
        let draft = slip.draft(format!("`{}` is not a coverage factor that is known", slip.shown()));
        return draft.help("state the expanded uncertainty for k = 2, as in `3.00 g ± 0.01 g (k=2)`");
    }
    if found.starts_with('+') && !found.starts_with("+/-") {
        let draft = slip.draft(format!("`{}` are limits that are not alike on both sides", slip.shown()));
        return draft.help("write the middle with equal limits: `25 mm` +0.1/-0.2 is `24.95 mm ± 0.15 mm`");
    }
    if slip.edit().is_some() && slip.fact().is_some_and(|fact| is_spread(fact.key)) {
        return slip.say("a percentage spread takes no `±` before it", "");
    }
    let behind = slip.behind().trim_start_matches([' ', '\t', '±']);
    if behind.starts_with('-') && behind[1..].trim_start().starts_with(|c: char| c.is_ascii_digit()) {
        let draft = slip.draft("limits go both ways and carry no sign");
        return draft.help("write how far it may lie to either side, as in `3.00 g ± 0.01 g`");
    }
    let value = slip.value().unwrap_or_else(|| slip.line());
    let signs = value.matches('±').count() + value.matches("+/-").count();
    let (message, help) = if slip.edit().is_some() {
        ("a value is missing before these limits", "write the value first, as in `3.00 g ± 0.01 g`")
    } else if [" to", "up ", "from "].iter().any(|word| value.contains(word)) {
        ("these limits belong to an end of a range", "a range has no limits: widen its ends by them")
    } else if signs > 1 {
        ("this value has limits twice", "an amount has one `±`, the wider one")
    } else if !behind.starts_with(|c: char| c.is_ascii_digit()) && found.len() <= 3 {
        ("no number follows this `±`", "write the limits with their unit, as in `3.00 g ± 0.01 g`")
    } else {
        (
            "these limits come after a sum or product",
            "work the value out and write its limits after it, as in `134.2 mm ± 0.1 mm`",
        )
    };
    slip.draft(message).help(help)
}

/// Whether the fact says by how much something may differ, so that its value is the limits themselves.
fn is_spread(key: &KeySpec) -> bool {
    matches!(key.value, ValueType::Percentage | ValueType::PercentageOrAmount)
        || key.is(masses::UNCERTAINTY)
        || [arbor::FIT_CLEARANCE, arbor::RUNOUT, arbor::CENTRING_REPEATABILITY, made_of::FACE_RUNOUT]
            .into_iter()
            .any(|spread| key.is(spread))
}
