//! What arbor, traverse and checks say.

use super::Sheet;
use super::runs::at_angle;
use crate::book::{Entry, Outcome};
use crate::card::document::{Row, Section, Value};
use crate::card::words::Words;
use crate::units::{Angle, Typed};
use crate::vocabulary::{ResultSpec, result};

const OTHERS: [&ResultSpec; 11] = [
    &result::ARBOR_UNBALANCE,
    &result::ROTOR_UNBALANCE,
    &result::RUN_ROTOR_UNBALANCE,
    &result::INDEX_SCATTER,
    &result::RESIDUAL,
    &result::RESIDUAL_OF_EXTREMES,
    &result::RESIDUAL_AT,
    &result::TRAVERSE_TEST,
    &result::DEPARTURE,
    &result::REDUCTION,
    &result::EFFECT,
];

pub(super) fn section(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let entries = sheet.record.entries.iter().filter(|entry| OTHERS.contains(&entry.spec));
    let row = |entry: &Entry| {
        let of = entry.path.innermost().map(|block| format!("{block}: ")).unwrap_or_default();
        Row::new(Words::stated(format!("{of}{}", entry.name())), value(sheet, entry))
    };
    let rows: Vec<Row> = entries.map(row).collect();
    (!rows.is_empty()).then(|| Section::new("Also shown by the runs").rows(rows))
}

/// Of a vector, the amount and where it points; `show` has the rest.
fn value(sheet: &Sheet<'_, '_>, entry: &Entry) -> Value {
    match entry.outcome {
        Outcome::Vector { base, angle, unit, .. } => Value::text(at_angle(base, Angle::from_base(angle), unit)),
        _ => sheet.results().bare_of(entry),
    }
}
