//! Results as people read them. Numbers are printed by `units` alone.

use super::entry::{Column, Entry, Meaning, Outcome, RowHead};
use super::missing::why;
use crate::book::derive::{Derivation, Input};
use crate::book::files::Book;
use crate::book::vectors::points_anywhere;
use crate::units::{self, Printed, Unit};
use crate::vocabulary::{Choice, Sense};
use std::fmt;

/// A result as people read it, in its parts. Written out it is one line of text.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum PrintedResult {
    /// An amount, an angle, or an amount at an angle, and what else is said of it.
    Numbers {
        amount: Option<Printed>,
        angle: Option<Printed>,
        said: Said,
    },
    Words(String),
    Table(Vec<PrintedRow>),
}

/// What is said after the numbers of a result.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Said {
    Nothing,
    /// What the angle is counted like, and what stands there.
    OfAngle(Meaning, Sense),
    /// It may point anywhere.
    NoDirection,
}

/// A row of a table, with what it is of where the rows are named.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PrintedRow {
    pub head: Option<String>,
    pub cells: Vec<String>,
}

/// A cell without a number.
const NOTHING: &str = "–";

impl PrintedRow {
    /// The cells under the heads of their columns; the first bears what the row is of.
    pub fn columns(&self) -> Vec<String> {
        let mut columns = self.cells.clone();
        if let (Some(head), Some(first)) = (&self.head, columns.first_mut()) {
            *first = format!("{head}: {first}");
        }
        columns
    }
}

impl PrintedResult {
    fn number(number: Printed) -> Self {
        Self::Numbers { amount: Some(number), angle: None, said: Said::Nothing }
    }

    /// The expanded uncertainties of amount and angle, as far as there are any.
    pub fn uncertainties(&self) -> Vec<&str> {
        match self {
            Self::Numbers { amount, angle, .. } => {
                amount.iter().chain(angle).filter_map(|number| number.expanded.as_deref()).collect()
            }
            Self::Words(_) | Self::Table(_) => Vec::new(),
        }
    }

    /// The same without uncertainties.
    pub fn without_uncertainties(&self) -> Self {
        let bare = |number: &Option<Printed>| number.clone().map(|number| Printed { expanded: None, ..number });
        match self {
            Self::Numbers { amount, angle, said } => {
                Self::Numbers { amount: bare(amount), angle: bare(angle), said: *said }
            }
            other => other.clone(),
        }
    }
}

impl fmt::Display for PrintedRow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let nothing = self.cells.iter().all(|cell| cell == NOTHING);
        let columns = self.columns();
        f.write_str(&if nothing { columns[..1].join("") } else { columns.join(" | ") })
    }
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Said::Nothing => Ok(()),
            Said::OfAngle(meaning, sense) => write!(f, " {}", of_vector(*meaning, *sense)),
            Said::NoDirection => f.write_str(", direction uncertain"),
        }
    }
}

impl fmt::Display for PrintedResult {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Numbers { amount: Some(amount), angle: Some(angle), said } => write!(f, "{amount} @ {angle}{said}"),
            Self::Numbers { amount, angle, said } => {
                amount.iter().chain(angle).try_for_each(|number| write!(f, "{number}"))?;
                write!(f, "{said}")
            }
            Self::Words(words) => f.write_str(words),
            Self::Table(rows) => {
                let rows: Vec<String> = rows.iter().map(PrintedRow::to_string).collect();
                f.write_str(&rows.join("; "))
            }
        }
    }
}

/// A value in a unit, with its expanded uncertainty where it has one.
fn printed_value(base: f64, unit: Unit, standard: f64) -> Printed {
    let unit = display_unit(base, unit);
    let expanded = (standard > 0.0).then(|| 2.0 * standard / unit.factor());
    units::printed(unit.from_base(base), &unit.to_string(), expanded)
}

/// The same as text: `12.1 div ± 2.3 div`.
pub fn display_value(base: f64, unit: Unit, standard: f64) -> String {
    printed_value(base, unit, standard).to_string()
}

/// What a control is set to, with its unit and its decimals: `84.0 mm`.
pub fn to_set_text(base: f64, unit: Unit, decimals: i32) -> String {
    with_unit(units::with_decimals(unit.from_base(base), decimals), unit)
}

/// The unit in which an amount of this size is best read: grams rather than 0.003 kg.
pub fn display_unit(base: f64, unit: Unit) -> Unit {
    let small = unit.from_base(base).abs() < 0.1 && base != 0.0;
    if unit == Unit::KILOGRAM && small { Unit::GRAM } else { unit }
}

/// An amount at an angle, each with its expanded uncertainty where it has one: `27.1 g·mm ± 1.2 g·mm @ 255.0 deg ± 3.1 deg`.
pub fn display_vector(base: f64, angle: f64, unit: Unit, standard: f64, angle_standard: f64) -> String {
    let amount = printed_value(base, unit, standard);
    format!("{amount} @ {}", printed_direction(angle, angle_standard))
}

/// An angle in degrees from 0 to 360, with its expanded uncertainty where it has one.
fn printed_direction(angle: f64, standard: f64) -> Printed {
    let degrees = Unit::DEGREE.from_base(angle).rem_euclid(360.0);
    let expanded = (standard > 0.0).then(|| 2.0 * Unit::DEGREE.from_base(standard));
    let half_step = 0.5 * 10f64.powi(-units::decimals(degrees, expanded));
    // Nor is what a sum of vectors leaves in its last digits an angle.
    let degrees = if 360.0 - degrees < half_step || degrees < 1e-9 { 0.0 } else { degrees };
    units::printed(degrees, &Unit::DEGREE.to_string(), expanded)
}

fn printed_vector(
    (base, angle): (f64, f64),
    unit: Unit,
    (standard, angle_standard): (f64, f64),
    said: Said,
) -> PrintedResult {
    let amount = Some(printed_value(base, unit, standard));
    match points_anywhere(base, angle_standard) {
        true => PrintedResult::Numbers { amount, angle: None, said: Said::NoDirection },
        false => PrintedResult::Numbers { amount, angle: Some(printed_direction(angle, angle_standard)), said },
    }
}

/// What an angle is counted like, and what stands there: `with rotation, heavy spot`.
pub fn of_vector(meaning: Meaning, sense: Sense) -> String {
    format!("{}, {}", sense.words(), meaning.words())
}

/// A result as one line of text.
pub fn text_of(book: &Book, entry: &Entry) -> String {
    printed(book, entry).to_string()
}

/// A result as people read it.
pub fn printed(book: &Book, entry: &Entry) -> PrintedResult {
    match &entry.outcome {
        Outcome::Amount { base, unit, standard } => PrintedResult::number(printed_value(*base, *unit, *standard)),
        Outcome::Vector { base, angle, unit, standard, angle_standard, meaning, sense } => {
            printed_vector((*base, *angle), *unit, (*standard, *angle_standard), Said::OfAngle(*meaning, *sense))
        }
        Outcome::ToSet { base, unit, decimals, .. } => {
            PrintedResult::number(Printed { value: to_set_text(*base, *unit, *decimals), expanded: None })
        }
        Outcome::Count(count) => PrintedResult::Words(count.to_string()),
        Outcome::Direction { angle, standard, meaning, sense } => PrintedResult::Numbers {
            amount: None,
            angle: Some(printed_direction(*angle, *standard)),
            said: Said::OfAngle(*meaning, *sense),
        },
        Outcome::Words(words) | Outcome::Void(words) => PrintedResult::Words(words.to_string()),
        Outcome::Table { heads, columns, rows } => PrintedResult::Table(table(heads, columns, rows)),
        Outcome::Missing(missing) => PrintedResult::Words(format!("not computed: {}", why(book, missing))),
    }
}

/// An input of a formula as people read it beside the formula.
pub fn printed_input(input: &Input) -> PrintedResult {
    let Some(base) = input.base else { return PrintedResult::Words("missing".to_owned()) };
    let amount = match input.standard_uncertainty == 0.0 {
        // Without an uncertainty the digits are those of the formula with numbers.
        true => {
            let unit = display_unit(base, input.unit);
            Printed { value: with_unit(units::plainly(unit.from_base(base)), unit), expanded: None }
        }
        false => printed_value(base, input.unit, input.standard_uncertainty),
    };
    let angle = input.angle.map(|angle| {
        let degrees = Unit::DEGREE.from_base(angle).rem_euclid(360.0);
        units::printed(degrees, &Unit::DEGREE.to_string(), None)
    });
    PrintedResult::Numbers { amount: Some(amount), angle, said: Said::Nothing }
}

/// A quantity of a unit as people read it.
pub fn printed_quantity(base: f64, unit: Unit, standard: f64) -> PrintedResult {
    PrintedResult::number(printed_value(base, unit, standard))
}

fn table(heads: &[RowHead], columns: &[Column], rows: &[Vec<Option<f64>>]) -> Vec<PrintedRow> {
    let cell = |value: &Option<f64>, column: &Column| match value {
        Some(base) => units::quantity(column.unit.from_base(*base), &column.unit.to_string(), None),
        None => NOTHING.to_owned(),
    };
    let row = |(n, row): (usize, &Vec<Option<f64>>)| PrintedRow {
        head: heads.get(n).map(RowHead::to_string),
        cells: row.iter().zip(columns).map(|(value, column)| cell(value, column)).collect(),
    };
    rows.iter().enumerate().map(row).collect()
}

/// The formula with the inputs' numbers put in; `None` where a symbol means a whole list, or none is in it.
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

/// A power belongs to the number and its unit together, and no sign comes after another.
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_result_can_be_written_without_its_uncertainties() {
        let number = |value: &str, expanded: &str| {
            Some(Printed { value: value.to_owned(), expanded: Some(expanded.to_owned()) })
        };
        let vector = PrintedResult::Numbers {
            amount: number("206.1 g·mm", "2.7 g·mm"),
            angle: number("310.0 deg", "4.1 deg"),
            said: Said::OfAngle(Meaning::HeavySpot, Sense::WithRotation),
        };
        let whole = "206.1 g·mm ± 2.7 g·mm @ 310.0 deg ± 4.1 deg with rotation, heavy spot";
        assert_eq!(vector.to_string(), whole);
        assert_eq!(vector.without_uncertainties().to_string(), "206.1 g·mm @ 310.0 deg with rotation, heavy spot");
        assert_eq!(vector.uncertainties(), ["2.7 g·mm", "4.1 deg"]);
        let anywhere =
            PrintedResult::Numbers { amount: number("2 g·mm", "15 g·mm"), angle: None, said: Said::NoDirection };
        assert_eq!(anywhere.to_string(), "2 g·mm ± 15 g·mm, direction uncertain");
        assert_eq!(anywhere.without_uncertainties().to_string(), "2 g·mm, direction uncertain");
    }
}
