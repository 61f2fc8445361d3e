//! Blocks and their keys.

use std::fmt::Write as _;

use super::cell;
use crate::check::expected_of;
use crate::syntax::Kind;
use crate::vocabulary::{self, BlockSpec, KeySpec, Need, Standing};

pub(super) fn blocks() -> String {
    let mut text = String::new();
    for kind in Kind::ALL.into_iter().filter(|kind| kind.is_item()) {
        block(&mut text, kind, 3);
    }
    text
}

fn block(text: &mut String, kind: Kind, level: usize) {
    let spec = vocabulary::block(kind);
    let hashes = "#".repeat(level);
    let name = if kind.takes_name() { " *name*" } else { "" };
    let _ = writeln!(text, "{hashes} `{kind}`{name}\n\n{}\n", spec.meaning);
    keys(text, spec);
    for inner in Kind::all_in(Some(kind)) {
        block(text, inner, level + 1);
    }
}

fn keys(text: &mut String, spec: &BlockSpec) {
    text.push_str("| fact | value | | meaning |\n|---|---|---|---|\n");
    for key in spec.keys {
        row(text, &head(key), key);
    }
    if let Some(named) = &spec.named_facts {
        row(text, &format!("*{}*", named.spec.name), &named.spec);
    }
    text.push('\n');
}

fn head(key: &KeySpec) -> String {
    use vocabulary::NameOf;
    match key.head_name {
        None => format!("`{}`", key.name),
        Some(NameOf::Channel) => format!("`{}` *channel*", key.name),
        Some(NameOf::Place) => format!("`{}` *place*", key.name),
        Some(NameOf::Position) => format!("`{}` *which*", key.name),
        Some(_) => format!("`{}` *name*", key.name),
    }
}

fn row(text: &mut String, head: &str, key: &KeySpec) {
    let mut remarks: Vec<String> = Vec::new();
    match key.need {
        Need::Must => remarks.push("must be given".to_owned()),
        Need::Derived => remarks.push("worked out when left out".to_owned()),
        Need::Optional => {}
    }
    match key.standing {
        Standing::Measured => remarks.push("measured".to_owned()),
        Standing::Demand => remarks.push("exact".to_owned()),
        Standing::Nominal => {}
    }
    if key.repeats {
        remarks.push("may repeat".to_owned());
    }
    if !key.inherited {
        remarks.push("never taken over by `like`".to_owned());
    }
    if let Some(default) = key.default {
        remarks.push(format!("default: {default}"));
    }
    let source = if key.source.is_empty() { String::new() } else { format!(" ({})", key.source) };
    let _ = writeln!(
        text,
        "| {head} | {} | {} | {}{} |",
        cell(&expected_of(key)),
        cell(&remarks.join(", ")),
        cell(key.meaning),
        cell(&source)
    );
}
