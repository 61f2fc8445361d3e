//! The run that counts, and what it shows.

use super::Sheet;
use crate::book::{self, Entry};
use crate::card::cautions::{self, REPLACES_NOTHING};
use crate::card::document::{Part, Row, Section, Table, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::mechanics::verdict::Verdict;
use crate::vocabulary::readout::AngleDisplay;
use crate::vocabulary::{Of, check_mass, result};

/// Runs that a card leaves room for.
const RUNS: [&str; 3] = ["final", "laid in again", "again"];

pub(super) fn final_run(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let mut section =
        Section::new("Final run").part(Part::Order("All calibration masses off, balancing speed.".into()));
    let rows: Vec<Vec<Value>> =
        sheet.planes().into_iter().map(|(plane, channel)| limit(sheet, plane, channel)).collect();
    if !rows.is_empty() {
        section = section.part(Part::Table(Table {
            caption: "No more than this".into(),
            heads: ["Plane", "Channel", "Reading at most", "Unbalance at most"].map(Words::from).to_vec(),
            rows,
            below: vec![Words::said(
                "The verdict allows for what the measurement does not see: write a record to have it.",
            )],
        }));
    }
    Some(section.part(Part::Table(readings(sheet))))
}

fn limit(sheet: &Sheet<'_, '_>, plane: &str, channel: Option<&str>) -> Vec<Value> {
    let own = |entry: &&Entry| {
        entry.is(&result::LIMIT_TO_READ) && entry.of.as_ref().and_then(Of::plane).is_none_or(|of| of == plane)
    };
    let reading = match sheet.setup.entries.iter().find(own) {
        Some(entry) => sheet.results().value_of(entry),
        None => Value::Hole("no limit can be worked out from what the setup reads".into()),
    };
    let tolerance = sheet.setup.calibration(plane).map(|one| values::printed(sheet.book, &one.tolerance));
    vec![
        Value::text(Words::stated(plane)),
        Value::text(Words::stated(channel.unwrap_or("as measured"))),
        reading,
        tolerance.unwrap_or(Value::Blank("")),
    ]
}

/// Room for what is read.
fn readings(sheet: &Sheet<'_, '_>) -> Table {
    let angles = cautions::angle_display(sheet.setup) != Some(AngleDisplay::NotShown);
    let mut heads = vec![Words::said("Run"), Words::said("Speed")];
    for channel in sheet.channels() {
        heads.push(Words::stated(channel));
        if angles {
            heads.push(Words::said("at angle"));
        }
    }
    let blank = heads.len() - 1;
    let rows = RUNS.iter().map(|run| {
        let mut row = vec![Value::text(*run)];
        row.extend(std::iter::repeat_n(Value::Blank(""), blank));
        row
    });
    Table { caption: "Readings".into(), heads, rows: rows.collect(), below: Vec::new() }
}

pub(super) fn verdict(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let mut rows = vec![
        Row::new(
            "Verdict",
            Value::Choice(
                [Verdict::Within, Verdict::WithinAsRead, Verdict::NotShown, Verdict::Over].map(book::word_of).to_vec(),
            ),
        ),
        Row::new("Serial number", Value::Blank("")),
        Row::new("Masses off", Value::Choice(vec!["counted, all off"])),
        Row::new("Date", Value::Blank("")),
        Row::new("Signature", Value::Blank("")),
    ];
    if let Some(check) = &sheet.setup.check_mass {
        let value = values::fact(sheet.book, &check.block, check_mass::READING)
            .or_else(|| sheet.results().at_the_machine(&check.block.path, &result::CHECK_READING, sheet.step()));
        rows.extend(value.map(|value| Row::new("Next time the check mass must read", value)));
    }
    Some(Section::boxed("Verdict").rows(rows).text(REPLACES_NOTHING))
}
