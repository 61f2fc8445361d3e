//! What is to be done now, at the size that is read across the bench.

use super::Sheet;
use super::runs::number;
use crate::book::{Entry, Meaning, Outcome, PlaneResults, RecordResults, WorkResults};
use crate::card::document::{Part, Section};
use crate::card::values::{bare, made};
use crate::card::words::Words;
use crate::check::place_as_written;
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
    let section =
        wanted(record).into_iter().fold(Section::boxed(title), |section, work| in_plane(sheet, section, work));
    match section.parts.is_empty() {
        true => Some(
            section.text("Not computed, because the run does not tell the unbalance of the planes with its angle."),
        ),
        false => Some(section),
    }
}

/// What is to be done in one plane, in the words of the card and as the facts that a `correction` has when it was done so.
#[derive(Clone, Debug)]
pub struct CalledFor {
    pub plane: String,
    /// `DRILL 4.4 mm deep at 307 deg`
    pub order: String,
    /// Whether mass is put on.
    pub adds: bool,
    /// The lines of each block that it takes; empty where they are not computed, and for weights that are turned.
    pub blocks: Vec<Vec<String>>,
    /// Where sliding weights go, weight 1 first.
    pub weights_to: Option<String>,
    /// Whether the plane is above its tolerance.
    pub is_over: bool,
}

impl CalledFor {
    /// A mass at the correction radius of a plane, in base units of its unit, at an angle in radians.
    pub fn of_mass(plane: &str, (mass, unit): (f64, Unit), angle: f64, meaning: Meaning) -> Self {
        let adds = meaning != Meaning::ToRemove;
        let angle = format!("{:.0} deg", Unit::DEGREE.from_base(angle).rem_euclid(360.0));
        let mass = bare(mass, unit);
        let does = if adds { correction::ADD } else { correction::REMOVE };
        Self {
            plane: plane.to_owned(),
            order: format!("{} {mass} at {angle}", if adds { "PUT ON" } else { "TAKE OFF" }),
            adds,
            blocks: vec![vec![format!("{does}: {mass}"), format!("{}: {angle}", correction::ANGLE)]],
            weights_to: None,
            is_over: true,
        }
    }
}

/// What the last run of a record calls for, in the planes above their tolerance; in all planes where none is.
pub fn called_for(record: &RecordResults<'_>) -> Vec<CalledFor> {
    let works = wanted(record);
    works.into_iter().filter_map(|work| Some(of_work(record, plane_of(record, work)?, work))).collect()
}

fn of_work(record: &RecordResults<'_>, plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> CalledFor {
    let weights_to = weights_to(record, work.plane);
    CalledFor {
        plane: work.plane.to_owned(),
        order: order(record, plane, work),
        adds: work.adds,
        blocks: if weights_to.is_some() { Vec::new() } else { facts(plane, work) },
        weights_to,
        is_over: is_over(record, work),
    }
}

fn plane_of<'r, 'b>(record: &'r RecordResults<'b>, work: &WorkResults<'_>) -> Option<&'r PlaneResults<'b>> {
    record.setup.as_deref()?.rotor.as_deref()?.plane(work.plane)
}

fn is_over(record: &RecordResults<'_>, work: &WorkResults<'_>) -> bool {
    let tolerance = plane_of(record, work).and_then(|plane| plane.tolerance.get());
    let amount = work.unbalance.get().map(|unbalance| unbalance.amount());
    amount.zip(tolerance).is_none_or(|(amount, tolerance)| amount > tolerance)
}

/// Planes above their tolerance; all of them where none is.
fn wanted<'s, 'b>(record: &'s RecordResults<'b>) -> Vec<&'s WorkResults<'b>> {
    let over: Vec<&WorkResults<'b>> = record.work.iter().filter(|work| is_over(record, work)).collect();
    if over.is_empty() { record.work.iter().collect() } else { over }
}

fn in_plane(sheet: &Sheet<'_, '_>, section: Section, work: &WorkResults<'_>) -> Section {
    let Some(plane) = plane_of(sheet.record, work) else { return section };
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
    if let Some(shares) = entry(&result::CORRECTION_PLACES).and_then(shares) {
        return format!("{verb} {}", as_words(&shares, each_of(plane)));
    }
    let depth = entry(&result::CORRECTION_DEPTH).map(amount);
    let holes = entry(&result::CORRECTION_HOLES).and_then(|entry| match entry.outcome {
        Outcome::Count(holes) => Some(holes),
        _ => None,
    });
    match (holes, depth) {
        (Some(holes), Some(depth)) => format!("{verb} {holes} holes side by side, each {depth} deep, about {angle}"),
        (None, Some(depth)) => format!("{verb} {depth} deep at {angle}"),
        _ => format!(
            "{} {} at {angle}",
            if work.adds { "PUT ON" } else { "TAKE OFF" },
            mass_text(mass.amount(), work.mass.unit)
        ),
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

/// In the unit that the shop shows masses in.
fn mass_text(mass: Mass, unit: Unit) -> String {
    bare(mass.raw(), unit)
}

fn amount(entry: &Entry) -> String {
    match entry.outcome {
        Outcome::Amount { base, unit, .. } => made(base, unit),
        _ => "________".to_owned(),
    }
}

/// What goes to one place or angle.
struct Share<'e> {
    /// `place 7`, without a name an angle: `120 deg`
    place: String,
    /// The name of a place that has one.
    name: Option<&'e str>,
    angle: String,
    /// In base units; below zero one that is on comes off.
    mass: Option<f64>,
    unit: Unit,
    depth: Option<String>,
}

fn shares(entry: &Entry) -> Option<Vec<Share<'_>>> {
    let Outcome::Table { heads, columns, rows } = &entry.outcome else { return None };
    let column = |name: &str| columns.iter().position(|column| column.name == name);
    let (angle, mass) = (column(correction::ANGLE.words())?, column(trial::MASS.words())?);
    let depth = column(correction::DEPTH.words());
    let share = |(n, row): (usize, &Vec<Option<f64>>)| {
        let name = heads.get(n).map(|name| &**name);
        let angle = row[angle].map(|angle| format!("{:.0} deg", Unit::DEGREE.from_base(angle).rem_euclid(360.0)));
        Some(Share {
            place: match name {
                Some(name) => format!("place {name}"),
                None => angle.clone()?,
            },
            name,
            angle: angle.unwrap_or_default(),
            mass: row[mass],
            unit: columns[mass].unit,
            depth: depth.and_then(|n| Some(made(row[n]?, columns[n].unit))),
        })
    };
    let shares: Vec<Share<'_>> = rows.iter().enumerate().filter_map(share).collect();
    (!shares.is_empty()).then_some(shares)
}

/// `3.48 g at place 7, 2.82 g at place 8`
fn as_words(shares: &[Share<'_>], each: Option<(Mass, Unit)>) -> String {
    let words = |share: &Share<'_>| {
        let deep = share.depth.as_ref().map(|depth| format!("{depth} deep"));
        let what =
            deep.or_else(|| pieces(share.mass, each)).unwrap_or_else(|| bare(share.mass.unwrap_or(0.0), share.unit));
        format!("{what} at {}", share.place)
    };
    shares.iter().map(words).collect::<Vec<_>>().join(", ")
}

/// The lines of each `correction` block by which it is written down once it is done.
fn facts(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> Vec<Vec<String>> {
    let entry = |spec: &'static ResultSpec| work.made.iter().find(|entry| entry.is(spec));
    let does = |adds: bool| if adds { correction::ADD.words() } else { correction::REMOVE.words() };
    let Some(mass) = work.mass.get() else { return Vec::new() };
    let each = plane.geometry.mass_each.get();
    let whole = |mass: f64| each.map_or(mass, |each| (mass / each.raw()).round() * each.raw());
    if let Some(shares) = entry(&result::CORRECTION_PLACES).and_then(shares) {
        let done = shares.iter().filter_map(|share| Some((share, whole(share.mass?)))).filter(|(_, mass)| *mass != 0.0);
        let adds = |mass: f64| work.adds == (mass > 0.0);
        if shares.iter().all(|share| share.name.is_some()) {
            let line = |(share, mass): (&Share<'_>, f64)| {
                let name = place_as_written(share.name.unwrap_or_default());
                let fact = if adds(mass) { correction::ADD_PLACE } else { correction::REMOVE_PLACE };
                format!("{fact} {name}: {}", bare(mass.abs(), share.unit))
            };
            return vec![done.map(line).collect()];
        }
        let block = |(share, mass): (&Share<'_>, f64)| {
            let mut lines = vec![
                format!("{}: {}", does(adds(mass)), bare(mass.abs(), share.unit)),
                format!("{}: {}", correction::ANGLE, share.angle),
            ];
            lines.extend(share.depth.as_ref().map(|depth| format!("{}: {depth}", correction::DEPTH)));
            lines
        };
        return done.map(block).collect();
    }
    let mut lines = vec![
        format!("{}: {}", does(work.adds), mass_text(mass.amount(), work.mass.unit)),
        format!("{}: {}", correction::ANGLE, angle_of(work)),
    ];
    let depth = entry(&result::CORRECTION_DEPTH).map(amount).filter(|depth| !depth.starts_with(['<', '_']));
    // Holes side by side have a depth each, and one block has one.
    let depth = depth.filter(|_| entry(&result::CORRECTION_HOLES).is_none());
    lines.extend(depth.map(|depth| format!("{}: {depth}", correction::DEPTH)));
    vec![lines]
}

/// One of the pieces that a plane takes.
fn each_of(plane: &PlaneResults<'_>) -> Option<(Mass, Unit)> {
    let each = &plane.geometry.mass_each;
    Some((each.get()?, each.unit))
}

/// `3 × 1.35 g`
fn pieces(mass: Option<f64>, each: Option<(Mass, Unit)>) -> Option<String> {
    let (each, unit) = each?;
    let count = (mass? / each.raw()).round();
    (count >= 1.0).then(|| format!("{count:.0} × {}", mass_text(each, unit)))
}

/// What that is as a mass, and what it leaves.
fn rest(work: &WorkResults<'_>) -> Words {
    let Some(mass) = work.mass.get() else { return Words::default() };
    let words = Words::said("In all ")
        .state(mass_text(mass.amount(), work.mass.unit))
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
