//! The table of one plane: how much is corrected for what is read.

use super::super::Sheet;
use super::limits;
use crate::book::{self, Entry, Outcome, PlaneResults};
use crate::card::document::{Part, Table, Value};
use crate::card::values::{bare, made};
use crate::card::words::{Rank, Words};
use crate::units::{Length, Typed, Unit};
use crate::vocabulary::{calibrate, plane, result};

/// Why nobody can look up how much, where a fact of the plane is not given.
pub(super) fn amount_missing(sheet: &Sheet<'_, '_>, plane: &PlaneResults<'_>) -> Option<Part> {
    let calibration = sheet.calibration(plane.name);
    let is_its = |one: &&book::NotComputed| one.is(&result::DIVISION_TABLE, &calibration);
    let why = &sheet.setup.not_computed.iter().find(is_its)?.why;
    why.missing()?;
    Some(Part::Text(Words::strong("How much: not computed, because ").state(why.words(sheet.book)).say(".")))
}

/// The table for the bench: what is read, and how that is corrected, from the first reading that is too much. Columns of
/// which nothing is known are left away.
pub(super) fn table(sheet: &Sheet<'_, '_>, plane: &PlaneResults<'_>, entry: &Entry) -> Option<Table> {
    let Outcome::Table { columns, rows, .. } = &entry.outcome else { return None };
    let whole = rows.first()?;
    let good = limits::limit(sheet, plane.name).map(|(base, _)| base);
    let is_too_much = |row: &&Vec<Option<f64>>| good.zip(row[0]).is_none_or(|(good, read)| read > good * (1.0 + 1e-9));
    let rows: Vec<&Vec<Option<f64>>> = rows.iter().filter(is_too_much).take(ROWS).collect();
    let named = |name: &str| columns.iter().position(|column| column.name == name);
    let is_known = |n: usize| rows.iter().any(|row| row[n].is_some());
    let known = |name: &str| named(name).filter(|n| is_known(*n));
    let (half_way, depth) = (known(calibrate::HALF_WAY), known(plane::DEPTH.words()));
    // Pieces are counted, not weighed. A share in each of two holes is not one mass to weigh.
    let no_mass = named(calibrate::PIECES).is_some() || half_way.is_some() && depth.is_some();
    let leaves_much = |n: usize| rows.iter().any(|row| row[n].zip(good).is_some_and(|(left, good)| left > good));
    let is_wanted = |n: &usize| match columns[*n].name {
        name if name == result::RUN_UNBALANCE.name || name == HOLES => false,
        name if name == calibrate::MASS.words() => !no_mass,
        name if name == calibrate::LEAVES => leaves_much(*n),
        _ => true,
    };
    let used: Vec<usize> = (0..columns.len()).filter(|n| is_wanted(n) && is_known(*n)).collect();
    // Where each of several weights goes depends on where they stand: a record works it out.
    if used.len() < 2 {
        return None;
    }
    let holes = named(HOLES);
    let cells = |row: &&Vec<Option<f64>>| {
        let cuts = |n: usize| match columns[n].name {
            calibrate::HALF_WAY if depth.is_some() => Some(2.0),
            _ => holes.and_then(|holes| row[holes]),
        };
        used.iter().map(|n| cell(plane, row[*n], &columns[*n], cuts(*n))).collect()
    };
    let table = Table::new(used.iter().map(|n| head(sheet, &columns[*n])).collect(), rows.iter().map(cells).collect());
    let shared = depth.filter(|n| plane.places.is_some() && rows.iter().any(|row| row[*n].is_none()));
    let shared =
        shared.map(|_| Words::said("A row without a depth needs several places: `rotorbook balance` splits it."));
    let notes = [shared, point(plane, whole, columns, good), most(sheet, plane, columns, whole)];
    let notes = notes.into_iter().flatten().reduce(|one, other| one.say(" ").with(&other));
    Some(match notes {
        Some(words) => table.note(words),
        None => table,
    })
}

/// What the point of a drill takes alone, where that is more than may be read; and whether that is too much.
fn point(plane: &PlaneResults<'_>, row: &[Option<f64>], columns: &[book::Column], good: Option<f64>) -> Option<Words> {
    let good = good?;
    let point = row[0]? * crate::units::Amount::raw(plane.point()?) / row[1]?;
    if point <= good {
        return None;
    }
    let words =
        Words::said("The point of the drill alone takes ").about(Rank::Limits).stress(bare(point, columns[0].unit));
    Some(match point > 2.0 * good {
        true => words.say(": readings below it need a smaller drill."),
        false => words.say(": for less, drill the point only."),
    })
}

/// As many rows as a side has room for.
const ROWS: usize = 5;
const HOLES: &str = result::CORRECTION_HOLES.name;

fn head(sheet: &Sheet<'_, '_>, column: &book::Column) -> Words {
    let name = match column.name {
        name if name == calibrate::READING.words() && sheet.setup.is_told_by_half_sums() => "half sum",
        name if name == calibrate::READING.words() => "read",
        name if name == plane::DEPTH.words() => "deep",
        other => other,
    };
    match column.unit == Unit::ONE {
        true => Words::said(name),
        false => Words::said(format!("{name} {}", column.unit)),
    }
}

/// `4 × 5.9`: as many holes, each so deep; `point` where the drill stops before its full diameter.
fn cell(plane: &PlaneResults<'_>, value: Option<f64>, column: &book::Column, holes: Option<f64>) -> Value {
    let Some(base) = value else { return Value::text("–") };
    let is_depth = column.unit.dimension() == Unit::MILLIMETRE.dimension();
    let cut = || plane.made(Length::from_base(base), column.unit, holes.map_or(1, |holes| holes as usize));
    let text = match is_depth.then(cut) {
        Some(cut) if cut.is_point() => "point".to_owned(),
        Some(cut) => made(&cut, column.unit),
        None => bare(base, column.unit),
    };
    let number = text.split(' ').next().unwrap_or_default();
    Value::Text(match holes.filter(|_| is_depth) {
        Some(holes) => Words::hand(format!("{holes:.0} × {number}")),
        None => Words::hand(number),
    })
}

/// `More than 10.2 div is more than this plane takes: ask.`
fn most(
    sheet: &Sheet<'_, '_>,
    plane: &PlaneResults<'_>,
    columns: &[book::Column],
    row: &[Option<f64>],
) -> Option<Words> {
    let greatest = plane.greatest.as_ref()?.get()?;
    let (reading, unbalance) = (row[0]?, row[1]?);
    let at = reading * crate::units::Amount::raw(greatest) / unbalance;
    let readout = sheet.setup.machine.as_ref().and_then(|machine| machine.readout.as_ref());
    let end = readout.and_then(|readout| readout.end());
    let text = bare(at, columns[0].unit);
    Some(match end.is_some_and(|end| at > end) {
        true => Words::said("The plane can take anything that the readout can show.").about(Rank::Limits),
        false => Words::said("Above ").stress(text).say(": more than this plane takes. Ask.").about(Rank::Limits),
    })
}
