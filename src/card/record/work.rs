//! What is to be done now, at the size that is read across the bench.

use super::Sheet;
use super::runs::number;
use crate::book::{Entry, Outcome, PlaneResults, RecordResults, WorkResults};
use crate::card::document::{Part, Section};
use crate::card::values::{bare, made};
use crate::card::words::Words;
use crate::mechanics::verdict::Verdict;
use crate::units::{Amount, Mass, Unit};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{Of, ResultSpec, correction, result, trial};

pub(super) fn section(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let record = sheet.record;
    let verdict = record.verdict.as_ref()?;
    let last = record.runs.len().checked_sub(1)?;
    if matches!(verdict.verdict, Verdict::Within | Verdict::WithinAsRead) {
        return None;
    }
    let title = Words::said("Now do, by run ").say(number(last)).say(" ").state(record.runs[last].name);
    if record.last_state.is_empty() && record.work.is_empty() {
        return Some(
            Section::boxed("Now do")
                .part(Part::Far(Words::strong("RUN AGAIN")))
                .text("The corrections are written; no run follows them."),
        );
    }
    let section = wanted(sheet).into_iter().fold(Section::boxed(title), |section, work| in_plane(sheet, section, work));
    match section.parts.is_empty() {
        true => Some(
            section.text("Not computed, because the run does not tell the unbalance of the planes with its angle."),
        ),
        false => Some(section),
    }
}

/// Planes above their tolerance; all of them where none is.
fn wanted<'s>(sheet: &'s Sheet<'_, '_>) -> Vec<&'s WorkResults<'s>> {
    let record = sheet.record;
    let rotor = record.setup.as_deref().and_then(|setup| setup.rotor.as_deref());
    let is_over = |work: &&WorkResults<'_>| {
        let tolerance = rotor.and_then(|rotor| rotor.plane(work.plane)).and_then(|plane| plane.tolerance.get());
        let amount = work.unbalance.get().map(|unbalance| unbalance.amount());
        amount.zip(tolerance).is_none_or(|(amount, tolerance)| amount > tolerance)
    };
    let over: Vec<&WorkResults<'_>> = record.work.iter().filter(is_over).collect();
    if over.is_empty() { record.work.iter().collect() } else { over }
}

fn in_plane(sheet: &Sheet<'_, '_>, section: Section, work: &WorkResults<'_>) -> Section {
    let rotor = sheet.record.setup.as_deref().and_then(|setup| setup.rotor.as_deref());
    let Some(plane) = rotor.and_then(|rotor| rotor.plane(work.plane)) else { return section };
    let section = section.text(Words::said("Plane ").state(work.plane)).part(Part::Far(Words::strong(order(
        sheet.record,
        plane,
        work,
    ))));
    match rest(work) {
        words if words.is_empty() => section,
        words => section.text(words),
    }
}

/// `DRILL 4.4 mm deep at 307 deg`
fn order(record: &RecordResults<'_>, plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> String {
    let verb = match plane.method {
        Some(Method::Drilling) if !work.adds => "DRILL",
        Some(Method::Milling) if !work.adds => "MILL",
        Some(Method::Grinding) if !work.adds => "GRIND",
        _ if work.adds => "PUT ON",
        _ => "TAKE OFF",
    };
    let (Some(mass), angle) = (work.mass.get(), angle_of(work)) else {
        return format!("{verb}: not computed");
    };
    let entry = |spec: &'static ResultSpec| work.made.iter().find(|entry| entry.is(spec));
    if let Some(to) = weights_to(record, work.plane) {
        return format!("TURN THE WEIGHTS TO {to}");
    }
    if let Some(shares) =
        entry(&result::CORRECTION_PLACES).and_then(|entry| shares(entry, plane.geometry.mass_each.get()))
    {
        return format!("{verb} {shares}");
    }
    let depth = entry(&result::CORRECTION_DEPTH).map(amount);
    let holes = entry(&result::CORRECTION_HOLES).and_then(|entry| match entry.outcome {
        Outcome::Count(holes) => Some(holes),
        _ => None,
    });
    match (holes, depth) {
        (Some(holes), Some(depth)) => format!("{verb} {holes} holes side by side, each {depth} deep, about {angle}"),
        (None, Some(depth)) => format!("{verb} {depth} deep at {angle}"),
        _ => format!("{} {} at {angle}", if work.adds { "PUT ON" } else { "TAKE OFF" }, grams(mass.amount())),
    }
}

/// Where the sliding weights of a plane go, by the last run that tells.
fn weights_to(record: &RecordResults<'_>, plane: &str) -> Option<String> {
    let own = |entry: &&Entry| entry.is(&result::WEIGHTS_TO) && entry.of.as_ref().and_then(Of::plane) == Some(plane);
    match &record.entries.iter().rev().find(own)?.outcome {
        Outcome::Words(words) => Some(words.to_string()),
        _ => None,
    }
}

fn angle_of(work: &WorkResults<'_>) -> String {
    let angle = work.mass.get().map(|mass| Unit::DEGREE.from_base(mass.angle().within_one_turn().in_radians()));
    angle.map_or_else(String::new, |angle| format!("{:.0} deg", angle.rem_euclid(360.0)))
}

fn grams(mass: Mass) -> String {
    bare(mass.raw(), Unit::GRAM)
}

fn amount(entry: &Entry) -> String {
    match entry.outcome {
        Outcome::Amount { base, unit, .. } => made(base, unit),
        _ => "________".to_owned(),
    }
}

/// `3.48 g at place 7, 2.82 g at place 8`
fn shares(entry: &Entry, each: Option<Mass>) -> Option<String> {
    let Outcome::Table { heads, columns, rows } = &entry.outcome else { return None };
    let column = |name: &str| columns.iter().position(|column| column.name == name);
    let (angle, mass) = (column(correction::ANGLE.words())?, column(trial::MASS.words())?);
    let depth = column(correction::DEPTH.words());
    let share = |(n, row): (usize, &Vec<Option<f64>>)| {
        let place = match heads.get(n) {
            Some(place) => format!("place {place}"),
            None => format!("{:.0} deg", row[angle].map(|angle| Unit::DEGREE.from_base(angle).rem_euclid(360.0))?),
        };
        let deep = depth.and_then(|n| Some(format!("{} deep", made(row[n]?, columns[n].unit))));
        let what = deep.unwrap_or_else(|| {
            pieces(row[mass], each).unwrap_or_else(|| bare(row[mass].unwrap_or(0.0), columns[mass].unit))
        });
        Some(format!("{what} at {place}"))
    };
    let shares: Vec<String> = rows.iter().enumerate().filter_map(share).collect();
    (!shares.is_empty()).then(|| shares.join(", "))
}

/// `3 × 1.35 g`
fn pieces(mass: Option<f64>, each: Option<Mass>) -> Option<String> {
    let each = each?;
    let count = (mass? / each.raw()).round();
    (count >= 1.0).then(|| format!("{count:.0} × {}", grams(each)))
}

/// What that is as a mass, and what it leaves.
fn rest(work: &WorkResults<'_>) -> Words {
    let Some(mass) = work.mass.get() else { return Words::default() };
    let words = Words::said("In all ")
        .state(grams(mass.amount()))
        .say(" at ")
        .state(angle_of(work))
        .say(" and the correction radius.");
    let left = [&result::LEFT_BY_ROUNDING, &result::NOT_REACHED];
    work.made.iter().filter(|entry| left.contains(&entry.spec)).fold(words, |words, entry| match entry.outcome {
        Outcome::Vector { base, unit, .. } => {
            words.say(" ").state(entry.name().into_owned()).say(": ").state(bare(base, unit)).say(".")
        }
        _ => words,
    })
}
