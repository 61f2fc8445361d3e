//! Units, results, formulas, materials, diagnostics, and the grammar itself.

use std::fmt::Write as _;

use super::cell;
use crate::book::{BUILT_IN, FORMULAS};
use crate::check::rules;
use crate::syntax::Kind;
use crate::units;
use crate::vocabulary::{self, Choices, Each, NameOf, ValueType, results_of};

const GRAMMAR: &str = include_str!("../../grammar/rotor.pest");

pub(super) fn units() -> String {
    let mut text = "| unit | also written | measures | in base units | |\n|---|---|---|---|---|\n".to_owned();
    for atom in units::atoms() {
        let aliases: Vec<String> = atom.aliases.iter().map(|alias| format!("`{alias}`")).collect();
        let exact = if atom.exact { "exact" } else { "rounded" };
        let _ = writeln!(
            text,
            "| `{}` | {} | {} | {:e} | {exact}: {} |",
            atom.symbol,
            aliases.join(", "),
            atom.dimension.name(),
            atom.numerator / atom.denominator,
            cell(atom.source)
        );
    }
    text
}

/// The words of every choice, under the facts that take them.
pub(super) fn choices() -> String {
    let mut all: Vec<(Choices, Vec<String>)> = Vec::new();
    for kind in Kind::ALL {
        for key in vocabulary::block(kind).keys {
            let (ValueType::Choice(choices) | ValueType::Names(NameOf::Listed(choices))) = key.value else { continue };
            let place = format!("`{}` in `{kind}`", key.name);
            match all.iter_mut().find(|(other, _)| *other == choices) {
                Some((_, places)) => places.push(place),
                None => all.push((choices, vec![place])),
            }
        }
    }
    let mut text = "| fact | word | meaning |\n|---|---|---|\n".to_owned();
    for (choices, places) in all {
        for (n, (words, meaning)) in choices.explained().enumerate() {
            let places = if n == 0 { places.join(", ") } else { String::new() };
            let _ = writeln!(text, "| {places} | `{words}` | {} |", cell(meaning));
        }
    }
    text
}

pub(super) fn results() -> String {
    let mut text = "| where | result | meaning |\n|---|---|---|\n".to_owned();
    for kind in Kind::ALL {
        for result in results_of(kind) {
            let name = match result.per {
                Some(Each::Control) => format!("*{}*", result.name),
                Some(per) => format!("`{}` *{}*", result.name, per.words()),
                None => format!("`{}`", result.name),
            };
            let _ = writeln!(text, "| {kind} | {name} | {} |", cell(result.meaning));
        }
    }
    text
}

pub(super) fn formulas() -> String {
    let mut text = "| formula | source |\n|---|---|\n".to_owned();
    for formula in FORMULAS {
        let _ = writeln!(text, "| {} | {} |", cell(formula.text), cell(formula.source()));
    }
    text
}

pub(super) fn materials() -> String {
    let mut text = "| material | density | source |\n|---|---|---|\n".to_owned();
    for metal in BUILT_IN {
        let _ = writeln!(
            text,
            "| `{}` | {} kg/m³ ± {} kg/m³ | {} |",
            metal.name, metal.density, metal.spread, metal.source
        );
    }
    text
}

pub(super) fn diagnostics() -> String {
    let mut text = "| code | weighs | flags |\n|---|---|---|\n".to_owned();
    for rule in rules() {
        let _ = writeln!(text, "| `{}` | {} | {} |", rule.code, rule.severity.word(), cell(rule.title));
    }
    text
}

pub(super) fn grammar() -> String {
    format!("```pest\n{}\n```", GRAMMAR.trim_end())
}
