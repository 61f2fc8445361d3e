//! Results as people read them. Numbers are printed by `units` alone.

use super::entry::{Column, Entry, Meaning, Outcome, Sense};
use crate::book::derive::{Derivation, Input};
use crate::book::files::Book;
use crate::book::origin::{Missing, Reason, Step};
use crate::units::{self, Unit};

/// A value in a unit, with its expanded uncertainty where it has one: `19.5 div ± 3.7 div`.
pub fn display_value(base: f64, unit: Unit, standard: f64) -> String {
    let unit = display_unit(base, unit);
    let expanded = (standard > 0.0).then(|| 2.0 * standard / unit.factor());
    units::quantity(unit.from_base(base), &unit.to_string(), expanded)
}

/// The unit in which an amount of this size is best read: grams rather than 0.003 kg.
pub fn display_unit(base: f64, unit: Unit) -> Unit {
    let small = unit.from_base(base).abs() < 0.1 && base != 0.0;
    if unit == Unit::KILOGRAM && small { Unit::GRAM } else { unit }
}

/// An amount at an angle, each with its expanded uncertainty where it has one: `27.1 g·mm ± 1.2 g·mm @ 255.0 deg ± 3.1 deg`.
pub fn display_vector(base: f64, angle: f64, unit: Unit, standard: f64, angle_standard: f64) -> String {
    let amount = display_value(base, unit, standard);
    format!("{amount} @ {}", display_direction(angle, angle_standard))
}

/// An angle in degrees from 0 to 360, with its expanded uncertainty where it has one.
fn display_direction(angle: f64, standard: f64) -> String {
    let degrees = Unit::DEGREE.from_base(angle).rem_euclid(360.0);
    let expanded = (standard > 0.0).then(|| 2.0 * Unit::DEGREE.from_base(standard));
    let half_step = 0.5 * 10f64.powi(-units::decimals(degrees, expanded));
    let degrees = if 360.0 - degrees < half_step { 0.0 } else { degrees };
    units::quantity(degrees, &Unit::DEGREE.to_string(), expanded)
}

/// An amount within its own uncertainty may point anywhere.
fn has_no_direction(base: f64, standard: f64) -> bool {
    base <= standard
}

/// An amount at an angle, or without one where it is within its own uncertainty.
pub fn vector_text(base: f64, angle: f64, unit: Unit, standard: f64, angle_standard: f64) -> String {
    match has_no_direction(base, standard) {
        true => format!("{}, in no sure direction", display_value(base, unit, standard)),
        false => display_vector(base, angle, unit, standard, angle_standard),
    }
}

/// What an angle is counted like, and what stands there: `with rotation, heavy spot`.
pub fn of_vector(meaning: Meaning, sense: Sense) -> String {
    format!("{}, {}", sense.words(), meaning.words())
}

/// A result as one line of text.
pub fn text_of(book: &Book, entry: &Entry) -> String {
    match &entry.outcome {
        Outcome::Amount { base, unit, standard } => display_value(*base, *unit, *standard),
        Outcome::Vector { base, angle, unit, standard, angle_standard, meaning, sense } => {
            let shown = vector_text(*base, *angle, *unit, *standard, *angle_standard);
            if has_no_direction(*base, *standard) { shown } else { format!("{shown} {}", of_vector(*meaning, *sense)) }
        }
        Outcome::Count(count) => count.to_string(),
        Outcome::Direction { angle, standard, meaning, sense } => {
            format!("{} {}", display_direction(*angle, *standard), of_vector(*meaning, *sense))
        }
        Outcome::Words(words) => words.to_string(),
        Outcome::Table { heads, columns, rows } => table(heads, columns, rows),
        Outcome::Missing(missing) => format!("not computed: {}", why(book, missing)),
    }
}

/// What is missing: `mass of rotor "fan wheel 315" is missing`.
pub fn why(book: &Book, missing: &Missing) -> String {
    if let Reason::Impossible(why) = &missing.reason {
        return why.to_string();
    }
    let origin = &missing.origin;
    let item = book.item(origin.item);
    if missing.reason == Reason::NoSuchPlane {
        let block = origin.path.innermost().map(Step::to_string).unwrap_or_default();
        return format!("`{block}` in {} \"{}\" names no plane of the rotor", item.kind, item.name_text());
    }
    let mut whose = format!("`{}`", origin.name);
    if !origin.path.is_item() {
        whose.push_str(&format!(" of {}", origin.path.headings().collect::<Vec<_>>().join(", ")));
    }
    let whose = format!("{whose} in {} \"{}\"", item.kind, item.name_text());
    match missing.reason {
        Reason::NotGiven => format!("{whose} is missing"),
        Reason::Unreadable => format!("{whose} cannot be read"),
        Reason::NoSuchItem => format!("{whose} names nothing that the book holds"),
        Reason::NoSuchPlane | Reason::Impossible(_) => whose,
    }
}

fn table(heads: &[Box<str>], columns: &[Column], rows: &[Vec<Option<f64>>]) -> String {
    let cell = |value: &Option<f64>, column: &Column| match value {
        Some(base) => units::quantity(column.unit.from_base(*base), &column.unit.to_string(), None),
        None => "–".to_owned(),
    };
    let row = |(n, row): (usize, &Vec<Option<f64>>)| {
        let cells: Vec<String> = row.iter().zip(columns).map(|(value, column)| cell(value, column)).collect();
        match heads.get(n) {
            Some(head) => format!("{head}: {}", cells.join(" → ")),
            None => cells.join(" → "),
        }
    };
    rows.iter().enumerate().map(row).collect::<Vec<_>>().join("; ")
}

/// The formula with the inputs' numbers put in; `None` where a symbol stands for a whole list, or none stands in it.
///
/// `9549.3 · 6.3 · 4.82 ÷ 3550`
pub fn formula_with_numbers(derivation: &Derivation) -> Option<String> {
    let formula = derivation.formula;
    if formula.symbols.is_empty() || formula.symbols.len() != derivation.inputs.len() {
        return None;
    }
    let right = formula.text.split_once(" = ").map_or(formula.text, |(_, right)| right);
    let mut text = String::new();
    let mut has_numbers = false;
    let mut rest = right;
    while !rest.is_empty() {
        let symbol = formula
            .symbols
            .iter()
            .zip(&derivation.inputs)
            .filter(|(symbol, _)| rest.starts_with(symbol.name) && ends_word(&rest[symbol.name.len()..]))
            .max_by_key(|(symbol, _)| symbol.name.len());
        let begins_word = !text.ends_with(|c: char| c.is_alphanumeric() || c == '_');
        match symbol.filter(|_| begins_word) {
            Some((symbol, input)) => {
                rest = &rest[symbol.name.len()..];
                has_numbers = true;
                text.push_str(&in_brackets_where_needed(number(input, symbol.unit), rest));
            }
            None => {
                let next = rest.chars().next().map_or(rest.len(), char::len_utf8);
                text.push_str(&rest[..next]);
                rest = &rest[next..];
            }
        }
    }
    has_numbers.then_some(text)
}

/// A power belongs to the number and its unit together, and no sign stands behind another.
fn in_brackets_where_needed(number: String, rest: &str) -> String {
    let raised = rest.starts_with(['²', '³']) && number.contains(' ');
    if raised || number.starts_with('-') { format!("({number})") } else { number }
}

fn ends_word(rest: &str) -> bool {
    !rest.starts_with(|c: char| c.is_alphabetic() || c.is_ascii_digit() || c == '_' || ('₀'..='₉').contains(&c))
}

/// An input as the formula wants it: bare in the formula's unit, or with the unit it has; a vector with its angle.
fn number(input: &Input, unit: Option<&str>) -> String {
    let Some(base) = input.base else { return "?".to_owned() };
    if let Some(angle) = input.angle {
        let degrees = units::number(Unit::DEGREE.from_base(angle).rem_euclid(360.0), None);
        return format!(
            "({} @ {degrees} {})",
            with_unit(units::plainly(input.unit.from_base(base)), input.unit),
            Unit::DEGREE
        );
    }
    match unit.and_then(|unit| Unit::parse(unit).ok()) {
        Some(unit) => units::plainly(unit.from_base(base)),
        None if input.standard_uncertainty > 0.0 && input.origin.place.is_none() => {
            let unit = display_unit(base, input.unit);
            let expanded = 2.0 * input.standard_uncertainty / unit.factor();
            with_unit(units::number(unit.from_base(base), Some(expanded)), unit)
        }
        None => {
            let unit = display_unit(base, input.unit);
            with_unit(units::plainly(unit.from_base(base)), unit)
        }
    }
}

fn with_unit(number: String, unit: Unit) -> String {
    if unit == Unit::ONE { number } else { format!("{number} {unit}") }
}
