//! What is taken off or put on for what is read, in words that leave no doubt which side.

use super::Sheet;
use crate::book::{self, Column, EffectiveBlock, Entry, Outcome, Path, PlaneResults, Stands};
use crate::card::cautions;
use crate::card::document::{Part, Row, Section, Table, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::units::{self, Angle, Unit};
use crate::vocabulary::plane::CorrectBy;
use crate::vocabulary::{AnyFact, plane, result};

pub(super) fn correct(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let rotor = sheet.setup.rotor.as_deref()?;
    let mut section = Section::new("Correct").cautions(cautions::removing(rotor));
    let mut count = 0;
    for (name, channel) in sheet.planes() {
        let Some(plane) = rotor.plane(name) else { continue };
        count += 1;
        let calibration = sheet.calibration(name);
        section = section.part(Part::Order(order(sheet, plane, channel)));
        let about = about(sheet, plane, &calibration);
        section = match sheet.results().entry(&calibration, &result::DIVISION_TABLE) {
            Some(entry) => section.part(Part::Beside(about, table(plane, entry))),
            None => section.rows(about),
        };
    }
    for entry in &sheet.setup.entries {
        if entry.is(&result::CALLED_FOR) || entry.is(&result::SEPARATION_ADVICE) {
            let label = Words::said("By the trial runs of the sheet: ").state(entry.name().into_owned());
            section = section.rows(vec![Row::new(label, sheet.results().value_of(entry))]);
        }
    }
    (count > 0).then_some(section)
}

const AT_IT: &str = ", where the machine points.";
const OPPOSITE: &str = ", HALF A TURN from where the machine points.";
const BY_TRIALS: &str = "; the trial runs tell where: for the run as found it stands below, for another rotor a record \
    works it out.";

fn order(sheet: &Sheet<'_, '_>, plane: &PlaneResults<'_>, channel: Option<&str>) -> Words {
    let words = Words::said("Plane ").stress(plane.name);
    let words = match channel {
        Some(channel) => words.say(" (reads ").state(channel).say("): "),
        None => words.say(": "),
    };
    let (heavy, light) = match spots(sheet, plane.name) {
        Ok(spots) => spots,
        Err(why) => {
            return words.say("not computed, because ").with(&why).say(". Do not correct before it is known.");
        }
    };
    match plane.block.choice(plane::CORRECT) {
        Some(CorrectBy::Remove) => words.stress("REMOVE at the HEAVY spot").with(&heavy),
        Some(CorrectBy::Add) => words.stress("ADD at the LIGHT spot").with(&light),
        Some(CorrectBy::Either) => words
            .stress("REMOVE at the HEAVY spot")
            .with(&heavy)
            .say(" Or ")
            .stress("ADD at the LIGHT spot")
            .with(&light),
        None => words.say("not computed, because the sheet does not say whether this plane adds or removes."),
    }
}

/// Where the heavy spot and the light spot of a plane are to be found; else why nobody knows.
fn spots(sheet: &Sheet<'_, '_>, plane: &str) -> Result<(Words, Words), Words> {
    let both = |words: &'static str| Ok((Words::said(words), Words::said(words)));
    let Some(spot) = sheet.setup.heavy_spot(plane) else { return Err("the sheet does not read this plane".into()) };
    match &spot.stands {
        Stands::NoAngle => both("; the machine shows no angle."),
        Stands::ByTrials => both(BY_TRIALS),
        Stands::FromPointer(turn) => {
            let turn = turn.known.as_ref().map_err(|missing| Words::stated(book::why(sheet.book, missing)))?;
            let near = |angle: f64| (turn.in_degrees().abs() - angle).abs() <= SAME_SPOT;
            if near(0.0) {
                return Ok((AT_IT.into(), OPPOSITE.into()));
            }
            if near(180.0) {
                return Ok((OPPOSITE.into(), AT_IT.into()));
            }
            Ok(on_from(*turn, "where the machine points"))
        }
        Stands::FromTwelve(turn) => {
            let turn = turn.known.as_ref().map_err(|missing| Words::stated(book::why(sheet.book, missing)))?;
            Ok(on_from(*turn, "the angle of the rotor at twelve of the clock"))
        }
        Stands::Contradicted => Err("`indicates` and the calibration do not agree where the heavy spot stands".into()),
        Stands::Disproved => Err("the proof shows the heavy spot half a turn from where the sheet puts it".into()),
        Stands::Unsaid => {
            Err("the sheet does not say whether the machine points at the heavy or at the light spot".into())
        }
        Stands::Missing(missing) => Err(Words::stated(book::why(sheet.book, missing))),
    }
}

/// Nobody sets a correction off finer, in degrees. Source: common practice, no source.
const SAME_SPOT: f64 = 5.0;

/// Both spots, so far on from a place.
fn on_from(turn: Angle, place: &'static str) -> (Words, Words) {
    let at = |turn: Angle| {
        let degrees = book::display_value(turn.within_one_turn().in_radians(), Unit::DEGREE, 0.0);
        Words::said(", ").stress(degrees).say(" on from ").say(place).say(", as the angles of the rotor count.")
    };
    (at(turn), at(turn + Angle::degrees(180.0)))
}

/// Facts of the method that a technician sets a tool by.
const METHOD: [(AnyFact, &str); 15] = [
    (plane::METHOD.any(), "By"),
    (plane::HOLE_DIAMETER.any(), "Drill"),
    (plane::POINT_ANGLE.any(), "Drill point"),
    (plane::DEPTH.any(), "Depth"),
    (plane::DIRECTION.any(), "Holes run"),
    (plane::HOLE_SPACING_AT_LEAST.any(), "Between holes at least"),
    (plane::HOLES_AT_MOST.any(), "Holes side by side at most"),
    (plane::WALL_AT_LEAST.any(), "Wall left at least"),
    (plane::EDGE_DISTANCE.any(), "From an edge at least"),
    (plane::WIDTH.any(), "Width"),
    (plane::FULL_ARC.any(), "Arc at most"),
    (plane::MASS_EACH.any(), "Each piece"),
    (plane::MOST_PER_PLACE.any(), "Most at one place"),
    (plane::MATERIAL.any(), "Material"),
    (plane::NOTE.any(), "Note"),
];

fn about(sheet: &Sheet<'_, '_>, plane: &PlaneResults<'_>, calibration: &Path) -> Vec<Row> {
    let results = sheet.results();
    let mut rows = vec![Row::new("Tolerance", values::printed(sheet.book, &plane.tolerance))];
    rows.extend(results.row(calibration, &result::ONE_DIVISION, "One division is"));
    // Weighed out at the bench.
    let mass = results.at_the_machine(calibration, &result::ONE_DIVISION_AS_MASS, None);
    let otherwise = [
        mass.map(|value| Row::new("as mass", value)),
        results.row(calibration, &result::ONE_DIVISION_AS_DEPTH, "as depth"),
        results.row(calibration, &result::ONE_DIVISION_AS_PIECES, "as pieces"),
        results.row(calibration, &result::ONE_DIVISION_AS_SPREAD, "as spread of the weights"),
    ];
    // What a division is has been said not to be known.
    rows.extend(otherwise.into_iter().flatten().filter(|row| !matches!(row.value, Value::Hole(_))));
    for (fact, label) in METHOD {
        rows.extend(values::row(sheet.book, &plane.block, fact, label));
    }
    rows.push(Row::new("Radius", values::amount(sheet.book, Some(&plane.block), plane::RADIUS, &plane.radius)));
    if let Some(most) = &plane.greatest {
        rows.push(Row::new("Most this plane gives", values::printed(sheet.book, most)));
    }
    rows.extend(listed(sheet, &plane.block));
    rows
}

fn listed(sheet: &Sheet<'_, '_>, plane: &EffectiveBlock<'_>) -> Vec<Row> {
    let row = |(fact, label): (AnyFact, &'static str)| values::row(sheet.book, plane, fact, label);
    let facts =
        [(plane::PLACES.any(), "Places"), (plane::PLACES_USED.any(), "Places taken"), (plane::BARRED.any(), "Barred")];
    facts.into_iter().filter_map(row).collect()
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
