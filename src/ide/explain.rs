//! A result explained in Markdown: value, meaning, formula, numbers, where they come from, source.

use std::fmt::Write as _;

use super::markdown::{code, plain};
use crate::book::{self, Book, Column, Derivation, Entry, Input, ItemId, Outcome, RowHead};
use crate::units::{self, Unit};

/// The explanation of a result of `item`; `None` for a hole.
pub(super) fn result(book: &Book, item: ItemId, entry: &Entry) -> Option<String> {
    let mut text = match &entry.outcome {
        Outcome::Missing(_) => return None,
        Outcome::Table { heads, columns, rows } => {
            format!("**{}**\n\n{}", plain(&entry.name()), table(heads, columns, rows))
        }
        _ => format!("**{}** {}", plain(&entry.name()), plain(&value(book, entry))),
    };
    let _ = write!(text, "\n\n{}", entry.spec.meaning);
    if let Some(derivation) = &entry.derivation {
        text.push_str(&self::derivation(book, item, derivation));
    }
    Some(text)
}

/// The value with its uncertainty, which says that k = 2.
pub(super) fn value(book: &Book, entry: &Entry) -> String {
    let text = book::text_of(book, entry);
    match &entry.outcome {
        Outcome::Amount { standard, .. } | Outcome::Vector { standard, .. } | Outcome::Direction { standard, .. }
            if *standard > 0.0 =>
        {
            format!("{text} (k = 2)")
        }
        _ => text,
    }
}

fn derivation(book: &Book, item: ItemId, derivation: &Derivation) -> String {
    let formula = derivation.formula;
    let mut text = format!("\n\n```text\n{}\n", formula.text);
    if let Some(numbers) = book::formula_with_numbers(derivation) {
        // Below the sign of equality of the formula, so that symbols and numbers are above each other.
        let left = formula.text.split_once(" = ").map_or(0, |(left, _)| left.chars().count() + 1);
        let _ = writeln!(text, "{}= {numbers}", " ".repeat(left));
    }
    text.push_str("```\n");
    let each_has_one = formula.symbols.len() == derivation.inputs.len();
    for (n, input) in derivation.inputs.iter().enumerate() {
        let symbol = if each_has_one { format!("{} = ", formula.symbols[n].name) } else { String::new() };
        let _ = write!(text, "\n- {symbol}{}: {}", text_of_input(input), whence(book, item, input));
    }
    let _ = write!(text, "\n\n*Source: {}*", formula.source());
    text
}

fn text_of_input(input: &Input) -> String {
    match input.base {
        None => "missing".to_owned(),
        // Without an uncertainty the digits are those of the formula with numbers.
        Some(base) if input.standard_uncertainty == 0.0 => {
            let unit = book::display_unit(base, input.unit);
            with_unit(units::plainly(unit.from_base(base)), unit)
        }
        Some(base) => book::display_value(base, input.unit, input.standard_uncertainty),
    }
}

pub(super) fn with_unit(number: String, unit: Unit) -> String {
    if unit == Unit::ONE { number } else { format!("{number} {unit}") }
}

/// `tolerance, plane hub, rotor "fan wheel 315"`; an item's own facts need no more than their block.
fn whence(book: &Book, item: ItemId, input: &Input) -> String {
    let mut parts = vec![input.origin.name.to_string()];
    parts.extend(input.origin.path.blocks().rev().map(ToString::to_string));
    if input.origin.item != item {
        parts.push(called(book, input.origin.item));
    }
    code(&parts.join(", "))
}

/// `rotor "fan wheel 315"`
pub(super) fn called(book: &Book, id: ItemId) -> String {
    let item = book.item(id);
    match &item.name {
        Some(name) => format!("{} \"{}\"", item.kind, name.text),
        None => item.kind.to_string(),
    }
}

/// Rows of amounts; where the rows have names, these are in a column of their own.
fn table(heads: &[RowHead], columns: &[Column], rows: &[Vec<Option<f64>>]) -> String {
    let names = columns.iter().map(|column| column.name);
    let names: Vec<&str> = (!heads.is_empty()).then_some("").into_iter().chain(names).collect();
    let mut text = format!("| {} |\n|{}", names.join(" | "), "---|".repeat(names.len()));
    for (n, row) in rows.iter().enumerate() {
        let cells = row.iter().zip(columns).map(|(cell, column)| match cell {
            Some(base) => units::quantity(column.unit.from_base(*base), &column.unit.to_string(), None),
            None => "–".to_owned(),
        });
        let cells: Vec<String> = heads.get(n).map(|head| plain(&head.to_string())).into_iter().chain(cells).collect();
        let _ = write!(text, "\n| {} |", cells.join(" | "));
    }
    text
}
