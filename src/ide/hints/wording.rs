//! Which results a hint shows, and in how few words.

use crate::book::{self, Book, Entry, Meaning, Outcome, SetupResults};
use crate::units::{self, Unit};
use crate::vocabulary::readout::Shown;
use crate::vocabulary::{Hint, Of, OfVector};

/// What a hint says of a result, beside its tooltip.
pub(super) struct Said {
    /// The plane, channel or bearing, where it is named.
    pub of: Option<String>,
    pub label: String,
    /// A fact of the block that was left out.
    pub left_out: bool,
}

/// What is said of a result; nothing of holes.
pub(super) fn said(book: &Book, entry: &Entry) -> Option<Said> {
    let hint = entry.spec.hint?;
    let value = value(book, entry, hint)?;
    let before = match (&entry.outcome, hint.vector) {
        (Outcome::Vector { .. }, OfVector::Instruction) => "",
        _ => hint.before,
    };
    let of = entry.of.as_ref().filter(|_| hint.says_of).map(Of::to_string);
    Some(Said { of, label: format!("{before}{value}{}", hint.behind), left_out: hint.is_left_out })
}

/// The same of one that is in a row with others of its name.
pub(super) fn said_in_row(book: &Book, entry: &Entry) -> Option<String> {
    let hint = entry.spec.hint?;
    let value = value(book, entry, hint)?;
    let of = entry.of.as_ref().map(Of::to_string).unwrap_or_default();
    Some(format!("{of} {}{value}{}", hint.before, hint.behind_in_row))
}

fn value(book: &Book, entry: &Entry, hint: Hint) -> Option<String> {
    Some(match &entry.outcome {
        Outcome::Missing(_) | Outcome::Table { .. } => return None,
        Outcome::Amount { .. } if hint.has_limits => book::text_of(book, entry),
        Outcome::Amount { base, unit, .. } => book::display_value(*base, *unit, 0.0),
        outcome if hint.vector == OfVector::BeyondUncertainty && outcome.points_anywhere() => return None,
        Outcome::Vector { .. } => vector(&entry.outcome)?,
        Outcome::Direction { angle, .. } => degrees(*angle),
        Outcome::ToSet { base, unit, decimals, .. } => book::to_set_text(*base, *unit, *decimals),
        Outcome::Count(count) => count.to_string(),
        Outcome::Words(words) | Outcome::Void(words) => words.to_string(),
    })
}

/// An amount at its angle, and what is to be done there; without the angle when it may point anywhere.
fn vector(outcome: &Outcome) -> Option<String> {
    let Outcome::Vector { base, angle, unit, meaning, .. } = outcome else { return None };
    let what = match meaning {
        Meaning::ToAdd | Meaning::ToAddOrRemoveOpposite => "add ",
        Meaning::ToRemove => "remove ",
        _ => "",
    };
    let amount = book::display_value(*base, *unit, 0.0);
    Some(match outcome.points_anywhere() {
        true => format!("{what}{amount}"),
        false => format!("{what}{amount} @ {}", degrees(*angle)),
    })
}

/// Whether a hint leaves the angle of a vector out, so that accepting it must not write one.
pub(super) fn hides_its_angle(entry: &Entry) -> bool {
    entry.outcome.points_anywhere()
}

fn degrees(angle: f64) -> String {
    units::quantity(Unit::DEGREE.from_base(angle).rem_euclid(360.0), &Unit::DEGREE.to_string(), None)
}

/// How many times the tolerance, in words.
pub(super) fn times(times: f64) -> String {
    format!("{} × tolerance", units::number(times, None))
}

/// A plain number of a unit, as it was given.
pub(super) fn given(base: f64, unit: Unit) -> String {
    crate::ide::explain::with_unit(units::plainly(unit.from_base(base)), unit)
}

/// The unbalance that a plane's readings are shown in.
pub(super) fn readout_shows(setup: &SetupResults<'_>) -> Option<Shown> {
    setup.machine.as_ref()?.readout.as_ref()?.shows
}
