//! What is taken off or put on for what is read, in words that leave no doubt which side.

use super::Sheet;
use crate::book::{Column, EffectiveBlock, Entry, Outcome, PlaneResults};
use crate::card::cautions;
use crate::card::document::{Part, Row, Section, Table, Value, Words};
use crate::card::values;
use crate::sheet::FieldValue;
use crate::units;
use crate::vocabulary::setup;

/// What the machine's angle points at.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Indicates {
    Heavy,
    Light,
    NoAngle,
    Unsaid,
}

pub(super) fn correct(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let rotor = sheet.setup.rotor.as_deref()?;
    let indicates = indicates(sheet);
    let mut section = Section::new("Correct").cautions(cautions::removing(rotor));
    let mut count = 0;
    for (name, channel) in sheet.planes() {
        let Some(plane) = rotor.plane(name) else { continue };
        count += 1;
        let block = format!("calibrate {name}");
        section = section.part(Part::Order(order(plane, indicates, channel)));
        let about = about(sheet, plane, &block);
        section = match sheet.results().entry(&block, "division table") {
            Some(entry) => section.part(Part::Beside(about, table(plane, entry))),
            None => section.rows(about),
        };
    }
    for entry in sheet.setup.entries.iter().filter(|entry| entry.path.is_item()) {
        if matches!(entry.spec.name, "correction" | "advice") {
            let label = Words::said("By the trial runs of the sheet: ").state(entry.name().into_owned());
            section = section.rows(vec![Row::new(label, sheet.results().value_of(entry))]);
        }
    }
    (count > 0).then_some(section)
}

fn indicates(sheet: &Sheet<'_, '_>) -> Indicates {
    let angles = sheet.setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()?.angles);
    if angles == Some("none") {
        return Indicates::NoAngle;
    }
    match sheet.setup.block.field(setup::INDICATES).map(|field| &field.field.value) {
        Some(FieldValue::Choice("heavy spot")) => Indicates::Heavy,
        Some(FieldValue::Choice("light spot")) => Indicates::Light,
        _ => Indicates::Unsaid,
    }
}

const AT_IT: &str = ", where the machine points.";
const OPPOSITE: &str = ", HALF A TURN from where the machine points.";

fn order(plane: &PlaneResults<'_>, indicates: Indicates, channel: Option<&str>) -> Words {
    let plane_words = Words::said("Plane ").stress(plane.name);
    let plane_words = match channel {
        Some(channel) => plane_words.say(" (reads ").state(channel).say("): "),
        None => plane_words.say(": "),
    };
    let heavy = match indicates {
        Indicates::Heavy => AT_IT,
        Indicates::Light => OPPOSITE,
        Indicates::NoAngle => "; the machine shows no angle.",
        Indicates::Unsaid => {
            return plane_words.say(
                "not computed, because the sheet does not say whether the machine points at the heavy or at the light \
                 spot. Do not correct before it is known.",
            );
        }
    };
    let light = match indicates {
        Indicates::Heavy => OPPOSITE,
        Indicates::Light => AT_IT,
        _ => heavy,
    };
    match plane.correct() {
        Some("remove") => plane_words.stress("REMOVE at the HEAVY spot").say(heavy),
        Some("add") => plane_words.stress("ADD at the LIGHT spot").say(light),
        Some("either") => plane_words
            .stress("REMOVE at the HEAVY spot")
            .say(heavy)
            .say(" Or ")
            .stress("ADD at the LIGHT spot")
            .say(light),
        _ => plane_words.say("not computed, because the sheet does not say whether this plane adds or removes."),
    }
}

/// Facts of the method that a technician sets a tool by.
const METHOD: [(&str, &str); 15] = [
    ("method", "By"),
    ("hole diameter", "Drill"),
    ("point angle", "Drill point"),
    ("depth", "Depth"),
    ("direction", "Holes run"),
    ("hole spacing at least", "Between holes at least"),
    ("holes at most", "Holes side by side at most"),
    ("wall at least", "Wall left at least"),
    ("edge distance", "From an edge at least"),
    ("width", "Width"),
    ("full arc", "Arc at most"),
    ("mass each", "Each piece"),
    ("most per place", "Most at one place"),
    ("material", "Material"),
    ("note", "Note"),
];

fn about(sheet: &Sheet<'_, '_>, plane: &PlaneResults<'_>, block: &str) -> Vec<Row> {
    let results = sheet.results();
    let mut rows = vec![Row::new("Tolerance", values::printed(sheet.book, &plane.tolerance))];
    for (result, label) in [
        ("one division", "One division is"),
        ("one division as mass", "as mass"),
        ("one division as depth", "as depth"),
        ("one division as pieces", "as pieces"),
        ("one division as spread", "as spread of the weights"),
    ] {
        let row = match result {
            // Weighed out at the bench.
            "one division as mass" => results.at_the_machine(block, result, None).map(|value| Row::new(label, value)),
            _ => results.row(block, result, label),
        };
        // What a division is has been said not to be known.
        rows.extend(row.filter(|row| result == "one division" || !matches!(row.value, Value::Hole(_))));
    }
    for (key, label) in METHOD {
        rows.extend(values::row(sheet.book, &plane.block, key, label));
    }
    rows.push(Row::new("Radius", values::amount(sheet.book, Some(&plane.block), &["radius"], &plane.radius)));
    if let Some(most) = &plane.greatest {
        rows.push(Row::new("Most this plane gives", values::printed(sheet.book, most)));
    }
    rows.extend(listed(sheet, &plane.block));
    rows
}

fn listed(sheet: &Sheet<'_, '_>, plane: &EffectiveBlock<'_>) -> Vec<Row> {
    let row = |(key, label): (&'static str, &'static str)| values::row(sheet.book, plane, key, label);
    [("places", "Places"), ("places used", "Places taken"), ("barred", "Barred")].into_iter().filter_map(row).collect()
}

/// The table for the bench; columns of which nothing is known are left away.
fn table(plane: &PlaneResults<'_>, entry: &Entry) -> Table {
    let caption = Words::said("Plane ").state(plane.name).say(": for what is read");
    let Outcome::Table { columns, rows, .. } = &entry.outcome else {
        return Table { caption, heads: Vec::new(), rows: Vec::new(), below: Vec::new() };
    };
    let used: Vec<usize> = (0..columns.len()).filter(|n| rows.iter().any(|row| row[*n].is_some())).collect();
    let heads = used.iter().map(|n| Words::said(format!("{} [{}]", columns[*n].name, columns[*n].unit))).collect();
    let cells = |row: &Vec<Option<f64>>| used.iter().map(|n| cell(row[*n], &columns[*n])).collect();
    let lacks = used.iter().any(|n| rows.iter().any(|row| row[*n].is_none()));
    let below = match lacks {
        true => vec![Words::said("– : deeper than one cut of this plane goes. Split it over several.")],
        false => Vec::new(),
    };
    Table { caption, heads, rows: rows.iter().map(cells).collect(), below }
}

fn cell(value: Option<f64>, column: &Column) -> Value {
    match value {
        Some(base) => Value::text(units::number(column.unit.from_base(base), None)),
        None => Value::text("–"),
    }
}
