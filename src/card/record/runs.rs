//! Runs and corrections, as tables.

use super::Sheet;
use crate::book::{self, CorrectionResults, Found, RunResults};
use crate::card::document::{Part, Section, Table, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::units::{Amount, Angle, Unbalance, Unit, plainly};
use crate::vocabulary::{AnyFact, Fact, correction, result, run};

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

/// What a run has in one column; nothing where it does not say.
type Cell<'r> = Box<dyn Fn(&RunResults<'_>) -> Option<Value> + 'r>;

/// One fact of the runs.
struct Column<'r> {
    head: Words,
    of: Cell<'r>,
}

pub(super) fn table(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let record = sheet.record;
    let planes: Vec<&str> = record.runs.first()?.planes.iter().map(|plane| plane.name).collect();
    // What no run says has no column.
    let columns: Vec<Column<'_>> =
        columns(sheet).into_iter().filter(|column| record.runs.iter().any(|run| (column.of)(run).is_some())).collect();
    let heads = ["No.", "Run"].map(Words::from).into_iter().chain(columns.iter().map(|column| column.head.clone()));
    let rows = record.runs.iter().enumerate().map(|(n, run)| {
        let mut row = vec![Value::strong(number(n)), Value::text(Words::stated(run.name))];
        row.extend(columns.iter().map(|column| (column.of)(run).unwrap_or_else(|| Value::text("–"))));
        row
    });
    let readings = Table::new(heads.collect(), rows.collect()).captioned("Read");
    let section = Section::new("Runs").part(Part::Table(readings));
    Some(match planes.is_empty() {
        true => section,
        false => section.part(Part::Table(unbalances(sheet, &planes).captioned("Unbalance that the runs show"))),
    })
}

/// What runs say of how they were run and what was read, in the order of the bench.
fn columns<'r>(sheet: &'r Sheet<'_, '_>) -> Vec<Column<'r>> {
    let fact = |fact: AnyFact, head: &'static str| Column {
        head: head.into(),
        of: Box::new(move |run: &RunResults<'_>| values::fact(sheet.book, &run.block, fact)),
    };
    let mut columns = vec![
        fact(run::SPEED.any(), "Speed"),
        fact(run::CALIBRATION_MASSES.any(), "Calibration masses"),
        fact(run::WITHOUT.any(), "Extra masses not on"),
        fact(run::RESTS_ANYWHERE.any(), "Rests anywhere"),
        fact(run::HEAVY_SPOT.any(), "Heavy spot below"),
    ];
    columns.extend(each(sheet, run::BALANCED_BY, "Held by, "));
    columns.extend(each(sheet, run::STARTS_WITH, "Starts with, "));
    columns.extend(each(sheet, run::WEIGHTS_AT, "Weights at, "));
    columns.extend(each(sheet, run::READING, ""));
    columns.push(Column { head: "Mounted".into(), of: Box::new(mounted) });
    columns
}

/// A column for each plane or channel of which runs say a fact.
fn each<'r, T: ?Sized + 'r>(sheet: &'r Sheet<'_, '_>, fact: Fact<T>, head: &'static str) -> Vec<Column<'r>> {
    let mut names: Vec<&'r str> = Vec::new();
    for run in &sheet.record.runs {
        for (name, _) in run.block.named(fact) {
            if !names.contains(&&*name.text) {
                names.push(&name.text);
            }
        }
    }
    let column = |name: &'r str| Column {
        head: Words::said(head).state(name),
        of: Box::new(move |run: &RunResults<'_>| {
            let field = run.block.named(fact).find(|(own, _)| *own.text == *name).map(|(_, field)| field);
            field.map(|field| values::stated(sheet.book, field))
        }),
    };
    names.into_iter().map(column).collect()
}

fn mounted(run: &RunResults<'_>) -> Option<Value> {
    let turned = run.turned.as_ref().and_then(|turned| turned.get()).filter(|turned| turned.cos() < 1.0);
    let turned = turned.map(|turned| format!("turned {:.0} deg on the arbor", Unit::DEGREE.from_base(turned.raw())));
    match (run.remounted, turned) {
        (Some(true), Some(turned)) => Some(Value::text(format!("again, {turned}"))),
        (Some(true), None) => Some(Value::text("again")),
        (_, Some(turned)) => Some(Value::text(turned)),
        _ => None,
    }
}

/// Where the sliding weights of each plane are now.
pub(super) fn weights_now(sheet: &Sheet<'_, '_>) -> Vec<(String, String)> {
    let Some(last) = sheet.record.runs.last() else { return Vec::new() };
    let degrees =
        |angle: &Angle| format!("{} deg", plainly((Unit::DEGREE.from_base(angle.raw()) * 10.0).round() / 10.0));
    let at = |angles: &[Angle]| angles.iter().map(degrees).collect::<Vec<_>>().join(", ");
    last.weights.iter().map(|(plane, angles)| ((*plane).to_owned(), at(angles))).collect()
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
    // What amounts that cancel leave in their last digits is nothing.
    if value < Unbalance::kilogram_metres(1e-12) {
        return values::bare(0.0, amount.unit);
    }
    match found.vector().and_then(|vector| vector.angle().get()) {
        Some(angle) if is_known(found) => at_angle(value.raw(), angle, amount.unit),
        _ => values::bare(value.raw(), amount.unit),
    }
}

/// Whether its angle is known to better than this many radians: else it may point anywhere. Source: common practice, no source.
fn is_known(found: &Found) -> bool {
    const TO: f64 = 0.5;
    found.vector().is_some_and(|vector| vector.angle().standard_uncertainty() < TO)
}

/// `206 g·mm at 310 deg`
pub(super) fn at_angle(base: f64, angle: Angle, unit: Unit) -> String {
    format!("{} at {:.0} deg", values::bare(base, unit), angle.to_whole_degree().in_degrees())
}

/// What the runs show; on an arbor what was read of rotor and arbor together, and the rotor's own share, which is judged.
fn unbalances(sheet: &Sheet<'_, '_>, planes: &[&str]) -> Table {
    let told = sheet.record.runs.iter().any(|run| run.planes.iter().any(|plane| plane.rotor.is_some()));
    let mut heads = vec![Words::said("No.")];
    for plane in planes {
        match told {
            true => {
                heads.push(Words::said("Rotor and arbor in ").state(*plane).say(", heavy spot"));
                heads.push("rotor alone".into());
            }
            false => heads.push(Words::said("Unbalance in ").state(*plane).say(", heavy spot")),
        }
        heads.push("times its tolerance".into());
    }
    let rows = sheet.record.runs.iter().enumerate().map(|(n, run)| {
        let mut row = vec![Value::strong(number(n))];
        for plane in &run.planes {
            row.push(found(sheet, &plane.unbalance));
            if told {
                let alone = plane.rotor.clone().map(|rotor| found(sheet, &Found::Vector(rotor)));
                row.push(alone.unwrap_or_else(|| Value::text("–")));
            }
            let times = plane.times_tolerance.as_ref().filter(|_| !told || plane.rotor.is_some());
            row.push(times.map_or_else(|| Value::text("–"), |times| values::at_the_machine(sheet.book, times)));
        }
        row
    });
    Table::new(heads, rows.collect())
}

/// An unbalance with its angle, without the words that the head of the column has. What it is known to is said once, where it is
/// judged: what its reading leaves open is a part of that alone.
pub(super) fn found(sheet: &Sheet<'_, '_>, found: &Found) -> Value {
    match &found.amount().known {
        Ok(_) => Value::text(short(found)),
        Err(missing) => Value::Hole(Words::stated(book::why(sheet.book, missing))),
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
        Some(vector) => found(sheet, &Found::Vector(vector.clone())),
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
