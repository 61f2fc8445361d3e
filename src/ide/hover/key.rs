//! Keys and kinds: what they mean, what they want, whether they must be given.

use std::fmt::Write as _;

use crate::check;
use crate::syntax::Kind;
use crate::vocabulary::{self, BlockSpec, Choices, KeySpec, Need, Standing, ValueType};

/// A key of a block, with what is expected after its colon.
pub(in crate::ide) fn of_key(spec: &BlockSpec, key: &KeySpec) -> String {
    let mut text = format!("**{}** in `{}`\n\n{}\n\n", key.name, spec.kind, key.meaning);
    match key.value {
        ValueType::Choice(choices) => text.push_str(&of_choices(choices, None)),
        _ => {
            let _ = write!(text, "- {}", check::expected_of(key));
        }
    }
    let need = match key.need {
        Need::Must => Some("must be given"),
        Need::Derived => Some("worked out when left out"),
        Need::Optional => None,
    };
    let standing = match key.standing {
        Standing::Measured => Some("measured: known to half a step of its last digit, unless `±` says otherwise"),
        Standing::Demand => Some("a demand: exact"),
        Standing::Nominal => None,
    };
    for remark in [need, standing].into_iter().flatten() {
        let _ = write!(text, "\n- {remark}");
    }
    if let Some(default) = key.default {
        let _ = write!(text, "\n- `{default}` where it is not given");
    }
    if let Some(group) = key.group {
        let others = spec.keys.iter().filter(|other| other.group == Some(group) && other.name != key.name);
        let others: Vec<String> = others.map(|other| format!("`{}`", other.name)).collect();
        if !others.is_empty() {
            let _ = write!(text, "\n- or else {}", check::or_list(&others));
        }
    }
    if key.repeats {
        text.push_str("\n- may be written more than once");
    }
    if spec.kind == Kind::Setup && !key.inherited {
        text.push_str("\n- never taken over by `like`");
    }
    if !key.source.is_empty() {
        let _ = write!(text, "\n\n*Source: {}*", key.source);
    }
    text
}

/// The words of a choice, each with what it means: first the one that is written, then what else there is.
pub(super) fn of_choices(choices: Choices, written: Option<&str>) -> String {
    let (chosen, others): (Vec<_>, Vec<_>) = choices.explained().partition(|(words, _)| Some(*words) == written);
    let chosen = chosen.into_iter().map(|(words, meaning)| format!("**{words}**: {meaning}\n"));
    let others = others.into_iter().map(|(words, meaning)| format!("- `{words}`: {meaning}"));
    chosen.chain(others).collect::<Vec<_>>().join("\n")
}

/// A kind of block.
pub(in crate::ide) fn of_kind(kind: Kind) -> String {
    let spec = vocabulary::block(kind);
    let mut text = format!("**{kind}**\n\n{}", spec.meaning);
    let must = spec.keys.iter().filter(|key| key.need == Need::Must);
    let must: Vec<String> = must.map(|key| format!("`{}`", key.name)).collect();
    if !must.is_empty() {
        let _ = write!(text, "\n\n- must have {}", check::and_list(&must));
    }
    let inner = Kind::all_in(Some(kind));
    let inner: Vec<String> = inner.map(|inner| format!("`{inner}`")).collect();
    if !inner.is_empty() {
        let _ = write!(text, "\n- may hold {}", check::and_list(&inner));
    }
    text
}
