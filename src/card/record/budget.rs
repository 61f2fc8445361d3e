//! What the measured unbalance is known to, line by line.

use super::Sheet;
use crate::book::{Known, Line};
use crate::card::document::{Part, Row, Section, Table, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::vocabulary::result;

/// One table, each line with what it comes to at each limit; the worst first.
pub(super) fn section(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let judged = &sheet.record.verdict.as_ref()?.judged;
    let first = judged.iter().max_by(|a, b| a.share().total_cmp(&b.share()))?;
    let counts = |line: &&Line| !matches!(line.known, Known::DoesNotApply);
    let rows: Vec<Vec<Value>> = first
        .budget
        .lines
        .iter()
        .filter(counts)
        .map(|line| {
            let at = |one: &crate::book::Judged| {
                let same = one.budget.lines.iter().find(|other| other.name == line.name);
                match same.filter(|line| !line.parts.is_empty()) {
                    Some(line) => {
                        Value::text(Words::stated(values::in_unit(one.acted(line.amount()), one.measured.unit)))
                    }
                    None => Value::text("–"),
                }
            };
            let mut row = vec![Value::text(Words::stated(line.name.to_string())), Value::text(line.known.words())];
            row.extend(judged.iter().map(at));
            row
        })
        .collect();
    if rows.is_empty() {
        return None;
    }
    let mut heads = vec![Words::said("Line"), Words::said("Standing")];
    heads.extend(judged.iter().map(|one| Words::stated(one.name())));
    let table = Table::new(heads, rows);
    let section = Section::new("What the verdict allows for").part(Part::Table(table));
    let of = |spec, label| {
        let entry = sheet.record.entries.iter().find(|entry| entry.is(spec))?;
        Some(Row::new(label, sheet.results().value_of(entry)))
    };
    let rows = [of(&result::NOT_ASSESSED, "Not assessed"), of(&result::CHEAPEST_WAY, "Cheapest way")];
    Some(section.rows(rows.into_iter().flatten().collect()))
}
