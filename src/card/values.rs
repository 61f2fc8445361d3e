//! Facts and results as a card prints them: by the same printers as `show`, and a hole as a hole.

use super::document::{Row, Value, Words};
use crate::book::{self, Book, EffectiveBlock, EffectiveField, Entry, Outcome, Val, VectorVal};
use crate::sheet::{FieldValue, SettingValue};
use crate::units::{Amount, Unit};

/// A fact as it stands in the sheet; nothing when it is not given.
pub(super) fn fact(book: &Book, block: &EffectiveBlock<'_>, key: &str) -> Option<Value> {
    block.field(key).map(|field| stated(book, field))
}

/// A fact that the card cannot do without.
pub(super) fn wanted(book: &Book, block: &EffectiveBlock<'_>, key: &str) -> Value {
    fact(book, block, key).unwrap_or_else(|| missing(block, key))
}

/// A row for a fact that is given.
pub(super) fn row(book: &Book, block: &EffectiveBlock<'_>, key: &'static str, label: &'static str) -> Option<Row> {
    fact(book, block, key).map(|value| Row::new(label, value))
}

fn missing(block: &EffectiveBlock<'_>, key: &str) -> Value {
    let whose = match block.kind.is_item() {
        true => format!(" in {} ", block.kind),
        false => format!(" in {}", block.kind),
    };
    let words = Words::said(format!("`{key}` is missing{whose}"));
    Value::Hole(match (block.kind.is_item(), block.name_text()) {
        (true, name) => words.state(quoted(name)),
        (false, "") => words,
        (false, name) => words.say(" ").state(name),
    })
}

pub(super) fn quoted(name: &str) -> String {
    format!("\"{name}\"")
}

pub(super) fn stated(book: &Book, field: EffectiveField<'_>) -> Value {
    match text_of_fact(book, field) {
        Some(text) => Value::text(text),
        None => Value::Hole(Words::said(format!("`{}` cannot be read", field.field.key.name))),
    }
}

/// A fact as the sheet writes it, without quotes; arithmetic as what it comes to.
pub(super) fn text_of_fact(book: &Book, field: EffectiveField<'_>) -> Option<String> {
    let written = || field.field.value_span.of(&book.file(field.item.file).text).to_owned();
    Some(match &field.field.value {
        FieldValue::Hole => return None,
        FieldValue::Text(text) | FieldValue::Setting(SettingValue::Position(text)) => text.to_string(),
        FieldValue::Name(name) => name.text.to_string(),
        FieldValue::Choice(choice) => (*choice).to_owned(),
        FieldValue::Names(names) => names.iter().map(|name| &*name.text).collect::<Vec<_>>().join(", "),
        FieldValue::Quantity(stated) if is_arithmetic(&written()) => {
            book::display_value(stated.base, stated.unit, stated.stated_uncertainty().unwrap_or(0.0))
        }
        _ => written(),
    })
}

fn is_worked_out(book: &Book, field: EffectiveField<'_>) -> bool {
    matches!(field.field.value, FieldValue::Quantity(_))
        && is_arithmetic(field.field.value_span.of(&book.file(field.item.file).text))
}

/// Spaces stand around the operators of arithmetic alone.
fn is_arithmetic(written: &str) -> bool {
    [" * ", " / ", " + ", " - ", "("].iter().any(|operator| written.contains(operator)) && !written.contains("(k=")
}

/// A quantity that may be stated or worked out: as the sheet writes it, else as the program prints it.
pub(super) fn amount<T: Amount>(
    book: &Book,
    block: Option<&EffectiveBlock<'_>>,
    keys: &[&str],
    value: &Val<T>,
) -> Value {
    let field = block.and_then(|block| keys.iter().find_map(|key| block.field(key)));
    match field {
        // What arithmetic comes to has digits of its own.
        Some(field) if !matches!(field.field.value, FieldValue::Hole) && !is_worked_out(book, field) => {
            stated(book, field)
        }
        _ => printed(book, value),
    }
}

/// A value as the program prints it, with its uncertainty.
pub(super) fn printed<T: Amount>(book: &Book, value: &Val<T>) -> Value {
    match &value.known {
        Ok(known) => Value::strong(book::display_value(known.raw(), value.unit, value.contributions.standard())),
        Err(missing) => Value::Hole(Words::stated(book::why(book, missing))),
    }
}

/// A value to set or to read at the machine. Without its uncertainty, and so with three significant digits, where that
/// is below half a step of what it is read on, or below one part in a hundred: nobody can set the digits behind it.
pub(super) fn at_the_machine(base: f64, unit: Unit, standard: f64, step: Option<f64>) -> Value {
    const SMALL: f64 = 0.01;
    let expanded = 2.0 * standard;
    let is_below_step = step.is_some_and(|step| expanded < step / 2.0);
    let is_small = expanded < SMALL * base.abs();
    let shown = if is_below_step || is_small { 0.0 } else { standard };
    Value::strong(book::display_value(base, unit, shown))
}

/// The same of a value that may be missing.
pub(super) fn val_at_the_machine<T: Amount>(book: &Book, value: &Val<T>, step: Option<f64>) -> Value {
    match &value.known {
        Ok(known) => at_the_machine(known.raw(), value.unit, value.contributions.standard(), step),
        Err(missing) => Value::Hole(Words::stated(book::why(book, missing))),
    }
}

/// An amount at an angle; within its own uncertainty it may point anywhere.
pub(super) fn printed_vector<T: Amount>(book: &Book, vector: &VectorVal<T>) -> Value {
    let (amount, angle) = (vector.amount(), vector.angle());
    let (base, turn) = match (&amount.known, &angle.known) {
        (Ok(amount), Ok(angle)) => (amount.raw(), angle.raw()),
        (Err(missing), _) | (_, Err(missing)) => return Value::Hole(Words::stated(book::why(book, missing))),
    };
    let (standard, turning) = (amount.standard_uncertainty(), angle.standard_uncertainty());
    Value::strong(book::vector_text(base, turn, vector.unit, standard, turning))
}

/// The results of an item, found by block and name.
#[derive(Clone, Copy)]
pub(super) struct Results<'a> {
    pub book: &'a Book,
    pub entries: &'a [Entry],
}

impl<'a> Results<'a> {
    /// A result of the innermost block with this heading; of the item itself where it is empty.
    pub fn entry(self, block: &str, name: &str) -> Option<&'a Entry> {
        let stands_in = |entry: &&Entry| entry.path.innermost().map(ToString::to_string).unwrap_or_default() == block;
        self.entries.iter().filter(stands_in).find(|entry| entry.name() == name)
    }

    pub fn value(self, block: &str, name: &str) -> Option<Value> {
        self.entry(block, name).map(|entry| self.value_of(entry))
    }

    pub fn value_of(self, entry: &Entry) -> Value {
        match &entry.outcome {
            Outcome::Missing(missing) => Value::Hole(Words::stated(book::why(self.book, missing))),
            _ => Value::strong(book::text_of(self.book, entry)),
        }
    }

    /// A result as it is set or read at the machine.
    pub fn at_the_machine(self, block: &str, name: &str, step: Option<f64>) -> Option<Value> {
        let entry = self.entry(block, name)?;
        Some(match entry.outcome {
            Outcome::Amount { base, unit, standard } => at_the_machine(base, unit, standard, step),
            _ => self.value_of(entry),
        })
    }

    pub fn row(self, block: &str, name: &str, label: &'static str) -> Option<Row> {
        self.value(block, name).map(|value| Row::new(label, value))
    }
}
