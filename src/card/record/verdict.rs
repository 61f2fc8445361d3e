//! The verdict, with what it rests on.

use super::Sheet;
use crate::book::{self, Book, Judged, Val};
use crate::card::document::{Part, Row, Section, Table, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::units::{Amount, Typed};
use crate::vocabulary::{ResultSpec, result};

pub(super) fn section(sheet: &Sheet<'_, '_>) -> Section {
    let section = Section::new("Verdict");
    let Some(verdict) = &sheet.record.verdict else {
        return section.text("Not computed, because the record has no run.");
    };
    let section = match verdict.reasons.is_empty() {
        true => section,
        false => section.text(Words::stated(verdict.reasons.join("; ")).say(".")),
    };
    if verdict.judged.is_empty() {
        return match verdict.reasons.is_empty() {
            true => section.text("The rotor has no limit that is judged."),
            false => section,
        };
    }
    let word = |judged: &Judged| book::word_of_row(judged, &verdict.does_not_count);
    let rows = verdict.judged.iter().map(|judged| row(sheet, judged, word(judged)));
    let heads = ["At", "Measured", "Uncertainty ±", "Largest part", "Limit", "Verdict"];
    let section = section.part(Part::Table(Table::new(heads.map(Words::from).to_vec(), rows.collect())));
    section.rows(told(sheet, &result::NOT_ASSESSED, "Not assessed").into_iter().collect())
}

/// A result of the record that is words.
pub(super) fn told(sheet: &Sheet<'_, '_>, spec: &'static ResultSpec, label: &'static str) -> Option<Row> {
    let entry = sheet.record.entries.iter().find(|entry| entry.is(spec))?;
    Some(Row::new(label, sheet.results().value_of(entry)))
}

fn row(sheet: &Sheet<'_, '_>, judged: &Judged, word: Option<&'static str>) -> Vec<Value> {
    let word = word.map_or_else(|| Value::Hole("something is missing".into()), Value::strong);
    let unit = judged.measured.unit;
    let known_to = judged.uncertainty.map(|known_to| Value::text(Words::stated(values::in_unit(known_to, unit))));
    vec![
        Value::text(Words::stated(judged.name())),
        alone(sheet.book, &judged.measured),
        known_to.unwrap_or(Value::text("–")),
        Value::Text(worst(judged)),
        alone(sheet.book, &judged.limit),
        word,
    ]
}

/// A value without what its own facts leave open: what it is known to has a column of its own.
fn alone<T: Amount>(book: &Book, value: &Val<T>) -> Value {
    values::printed(book, &Val { contributions: Default::default(), ..value.clone() })
}

/// The largest line of the budget.
fn worst(judged: &Judged) -> Words {
    let lines = judged.budget.lines.iter().filter(|line| !line.parts.is_empty());
    match lines.max_by(|a, b| a.amount().base().total_cmp(&b.amount().base())) {
        Some(line) => {
            let amount = values::in_unit(judged.acted(line.amount()), judged.measured.unit);
            Words::stated(line.name.to_string()).say(", ").state(amount)
        }
        None => Words::said("–"),
    }
}
