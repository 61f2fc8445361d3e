//! The verdict, with what it rests on.

use super::Sheet;
use crate::book::{self, Judged};
use crate::card::document::{Part, Section, Table, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::units::Amount;

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
        return section;
    }
    let rows = verdict.judged.iter().map(|judged| row(sheet, judged));
    let heads = ["At", "Measured", "Not seen by the run", "most of it", "Limit", "Tolerance", "Verdict"];
    section.part(Part::Table(Table::new(heads.map(Words::from).to_vec(), rows.collect())))
}

fn row(sheet: &Sheet<'_, '_>, judged: &Judged) -> Vec<Value> {
    let word = judged
        .verdict
        .map_or_else(|| Value::Hole("something is missing".into()), |verdict| Value::strong(book::word_of(verdict)));
    vec![
        Value::text(Words::stated(judged.name.clone())),
        values::printed(sheet.book, &judged.measured),
        values::printed(sheet.book, &judged.combined_error),
        Value::Text(worst(judged)),
        values::at_the_machine(sheet.book, &judged.limit),
        values::at_the_machine(sheet.book, &judged.tolerance),
        word,
    ]
}

/// The largest of the errors.
fn worst(judged: &Judged) -> Words {
    let known =
        judged.errors.iter().filter_map(|share| Some((share.name, share.amount.get()?.raw(), share.amount.unit)));
    match known.max_by(|a, b| a.1.total_cmp(&b.1)) {
        Some((name, base, unit)) => Words::said(name).say(", ").state(values::bare(base, unit)),
        None => Words::said("–"),
    }
}
