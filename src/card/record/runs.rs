//! Runs and corrections, as tables.

use super::Sheet;
use crate::book::{self, CorrectionResults, Found, RunResults};
use crate::card::document::{Part, Section, Table, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::units::{Amount, Unit};
use crate::vocabulary::{AnyFact, correction, result, run};

/// How a run is named beside its plots: by its number.
pub(super) fn number(run: usize) -> String {
    (run + 1).to_string()
}

/// How a correction is named there: by its letter.
pub(super) fn letter(correction: usize) -> String {
    let letter = char::from(b'a' + (correction % 26) as u8);
    match correction / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{round}"),
    }
}

pub(super) fn table(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let record = sheet.record;
    if record.runs.is_empty() {
        return None;
    }
    let planes: Vec<&str> = record.runs.first()?.planes.iter().map(|plane| plane.name).collect();
    let mut channels: Vec<&str> = Vec::new();
    for run in &record.runs {
        for (channel, _) in run.block.named(run::READING) {
            if !channels.contains(&&*channel.text) {
                channels.push(&channel.text);
            }
        }
    }
    let heads = ["No.", "Run", "Speed", "Calibration masses"]
        .map(Words::from)
        .into_iter()
        .chain(channels.iter().map(|channel| Words::stated(*channel)))
        .chain([Words::said("Mounted")]);
    let rows = record.runs.iter().enumerate().map(|(n, run)| read(sheet, n, run, &channels));
    let readings = Table::new(heads.collect(), rows.collect()).captioned("Read");
    let section = Section::new("Runs").part(Part::Table(readings));
    Some(match planes.is_empty() {
        true => section,
        false => section.part(Part::Table(unbalances(sheet, &planes).captioned("Unbalance that the runs show"))),
    })
}

/// Runs and corrections in columns that fit on a screen.
pub(super) fn on_a_screen(sheet: &Sheet<'_, '_>) -> Vec<Section> {
    let record = sheet.record;
    let planes: Vec<&str> =
        record.runs.first().map(|run| run.planes.iter().map(|plane| plane.name).collect()).unwrap_or_default();
    let mut heads = vec![Words::said("No."), Words::said("Run")];
    for plane in &planes {
        heads.extend([Words::stated(*plane), Words::said("times")]);
    }
    let row = |(n, run): (usize, &RunResults<'_>)| {
        let mut row = vec![Value::text(number(n)), Value::text(Words::stated(run.name))];
        for plane in &run.planes {
            let times = plane.times_tolerance.as_ref().and_then(|times| times.get()).map(|times| times.value());
            row.push(Value::text(short(&plane.unbalance)));
            row.push(Value::text(times.map_or_else(|| "–".to_owned(), |times| format!("{times:.2}"))));
        }
        row
    };
    let runs = Table::new(heads, record.runs.iter().enumerate().map(row).collect());
    let runs = runs.note("Amounts are heavy spots; times: how many times the tolerance of that plane.");
    let row = |(n, one): (usize, &CorrectionResults<'_>)| {
        let after = one.after.map_or_else(|| "–".to_owned(), number);
        vec![
            Value::text(letter(n)),
            Value::text(Words::stated(one.plane)),
            Value::text(after),
            Value::Text(work(sheet, one)),
        ]
    };
    let heads = ["No.", "Plane", "After run", "Correction"].map(Words::from).to_vec();
    let corrections = Table::new(heads, record.corrections.iter().enumerate().map(row).collect());
    let tables = [("Runs", runs, record.runs.len()), ("Corrections", corrections, record.corrections.len())];
    let tables = tables.into_iter().filter(|(.., rows)| *rows > 0);
    tables.map(|(title, table, _)| Section::new(title).part(Part::Table(table))).collect()
}

/// `206 g·mm at 310 deg`, without what it is known to.
fn short(found: &Found) -> String {
    let amount = found.amount();
    let Some(value) = amount.get() else { return "–".to_owned() };
    let text = values::bare(value.raw(), amount.unit);
    match found.vector().and_then(|vector| vector.angle().get()) {
        Some(angle) => {
            let turn = Unit::DEGREE.from_base(angle.raw()).rem_euclid(360.0);
            format!("{text} at {turn:.0} deg")
        }
        None => text,
    }
}

fn unbalances(sheet: &Sheet<'_, '_>, planes: &[&str]) -> Table {
    let heads = [Words::said("No.")].into_iter().chain(planes.iter().flat_map(|plane| {
        [Words::said("Unbalance in ").state(*plane).say(", heavy spot"), Words::said("times its tolerance")]
    }));
    let rows = sheet.record.runs.iter().enumerate().map(|(n, run)| shown(sheet, n, run));
    Table::new(heads.collect(), rows.collect())
}

fn read(sheet: &Sheet<'_, '_>, n: usize, run: &RunResults<'_>, channels: &[&str]) -> Vec<Value> {
    let fact = |fact: AnyFact| values::fact(sheet.book, &run.block, fact).unwrap_or_else(|| Value::text("not stated"));
    let mut row = vec![
        Value::strong(number(n)),
        Value::text(Words::stated(run.name)),
        fact(run::SPEED.any()),
        fact(run::CALIBRATION_MASSES.any()),
    ];
    for channel in channels {
        let field = run.block.named(run::READING).find(|(name, _)| *name.text == **channel).map(|(_, field)| field);
        row.push(field.map_or_else(|| Value::text("–"), |field| values::stated(sheet.book, field)));
    }
    row.push(Value::text(match (run.remounted, &run.turned) {
        (Some(true), Some(_)) => "again, turned",
        (Some(true), None) => "again",
        (_, Some(_)) => "turned on the arbor",
        _ => "as before",
    }));
    row
}

fn shown(sheet: &Sheet<'_, '_>, n: usize, run: &RunResults<'_>) -> Vec<Value> {
    let mut row = vec![Value::strong(number(n))];
    for plane in &run.planes {
        row.push(found(sheet, &plane.unbalance));
        row.push(match &plane.times_tolerance {
            Some(times) => values::printed(sheet.book, times),
            None => Value::text("–"),
        });
    }
    row
}

/// An unbalance with its angle, without the words that the head of the column has.
pub(super) fn found(sheet: &Sheet<'_, '_>, found: &Found) -> Value {
    match found {
        Found::Amount(amount) => values::printed(sheet.book, amount),
        Found::Vector(vector) => values::printed_vector(sheet.book, vector),
    }
}

pub(super) fn corrections(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let record = sheet.record;
    if record.corrections.is_empty() {
        return None;
    }
    let rows = record.corrections.iter().enumerate().map(|(n, one)| correction(sheet, n, one)).collect();
    let heads = ["No.", "Plane", "After run", "Correction", "Equal to adding", "Leaves, heavy spot", "Fits"];
    let table = Table::new(heads.map(Words::from).to_vec(), rows);
    Some(Section::new("Corrections").part(Part::Table(table)))
}

fn correction(sheet: &Sheet<'_, '_>, n: usize, one: &CorrectionResults<'_>) -> Vec<Value> {
    let vector = |vector: &Option<crate::book::VectorVal<crate::units::Unbalance>>| match vector {
        Some(vector) => values::printed_vector(sheet.book, vector),
        None => Value::text("–"),
    };
    let fit = sheet.record.entries.iter().find(|entry| {
        entry.is(&result::CORRECTION_FIT)
            && entry.place.1.start >= one.block.written.span.start
            && entry.place.1.end <= one.block.written.span.end
            && entry.place.0 == one.block.item.file
    });
    vec![
        Value::strong(letter(n)),
        Value::text(Words::stated(one.plane)),
        one.after.map_or_else(|| Value::text("–"), |run| Value::strong(number(run))),
        Value::Text(work(sheet, one)),
        vector(&one.done),
        vector(&one.left),
        fit.map_or_else(|| Value::text("–"), |entry| sheet.results().value_of(entry)),
    ]
}

/// `remove 0.78 g at 307 deg, 5.0 mm deep`, as the sheet has it; else what is called for.
pub(super) fn work(sheet: &Sheet<'_, '_>, one: &CorrectionResults<'_>) -> Words {
    let fact = |fact: AnyFact| one.block.field(fact).and_then(|field| values::text_of_fact(sheet.book, field));
    let mut words = Words::default();
    for (stated, before, after) in [
        (correction::REMOVE.any(), "TAKE OFF ", ""),
        (correction::ADD.any(), "PUT ON ", ""),
        (correction::ANGLE.any(), " at ", ""),
        (correction::RADIUS.any(), ", radius ", ""),
        (correction::DEPTH.any(), ", ", " deep"),
    ] {
        if let Some(value) = fact(stated) {
            words = words.say(before).state(value).say(after);
        }
    }
    let mut before = None;
    for place in &one.places {
        if let Some(mass) = values::text_of_fact(sheet.book, place.field) {
            words = if words.is_empty() { words } else { words.say(", ") };
            let does = if place.adds { "PUT ON " } else { "TAKE OFF " };
            words = if before == Some(does) { words } else { words.say(does) };
            before = Some(does);
            words = words.state(mass).say(" at place ").state(place.name);
        }
    }
    if !words.is_empty() {
        return words;
    }
    let span = one.block.written.span;
    let asked = sheet.record.entries.iter().filter(|entry| {
        entry.place.0 == one.block.item.file && span.start <= entry.place.1.start && entry.place.1.end <= span.end
    });
    let told_elsewhere =
        [&result::CORRECTION_DONE, &result::CORRECTION_LEFT, &result::CORRECTION_FIT, &result::HOLDING_FORCE];
    for entry in asked.filter(|entry| !told_elsewhere.contains(&entry.spec)) {
        words = if words.is_empty() { words } else { words.say("; ") };
        words = words.state(entry.name().into_owned()).say(" ").state(book::text_of(sheet.book, entry));
    }
    if words.is_empty() { Words::said("nothing stated") } else { words }
}

/// An amount in the unit in which a plot is drawn.
pub(super) fn in_unit<T: Amount>(amount: T, unit: crate::units::Unit) -> f64 {
    unit.from_base(amount.raw())
}
