//! Which results a hint shows, and in how few words.

use crate::book::{self, Book, Entry, Outcome, SetupResults};
use crate::units::{self, Unit};

/// What a hint says of a result, beside its tooltip.
pub(super) struct Said {
    pub label: String,
    /// A fact of the block that was left out.
    pub left_out: bool,
}

/// The words of a result; `None` for holes, and for what is only of interest to who asks for it.
pub(super) fn said(book: &Book, entry: &Entry) -> Option<Said> {
    let value = match &entry.outcome {
        Outcome::Missing(_) | Outcome::Table { .. } => return None,
        Outcome::Amount { base, unit, .. } => book::display_value(*base, *unit, 0.0),
        Outcome::Words(words) => words.to_string(),
    };
    let block = entry.spec.block.words();
    let with_limits = || book::text_of(book, entry);
    let result = |label: String| Some(Said { label, left_out: false });
    let left_out = |label: String| Some(Said { label, left_out: true });
    match (block, entry.spec.name) {
        ("rotor", "mass") => left_out(format!("mass {value}")),
        ("rotor", "mass centre") => left_out(format!("centre {value}")),
        ("rotor", "left for assembly") => result(format!("left {value}")),
        ("tolerance", "permissible unbalance") => result(format!("permissible {value}")),
        ("tolerance", "governing rule") => result(format!("{value} governs")),
        ("tolerance", "tolerance at a") => result(format!("A {value}")),
        ("tolerance", "tolerance at b") => result(format!("B {value}")),
        ("plane", "tolerance") => result(format!("tolerance {value}")),
        ("plane", "correction radius") => result(format!("radius {value}")),
        ("plane", "greatest correction") => result(format!("at most {value}")),
        ("keyway", "half-key mass") => result(format!("half key {value}")),
        ("made of", "fit unbalance") => result(value),
        ("made of", "runout couple") => result(value),
        ("setup", "motor speed") => left_out(format!("motor {value}")),
        ("setup", "lowest same speed") => result(format!("from {value}")),
        ("setup", "highest same speed") => result(format!("to {value}")),
        ("setup", "resonance ratio") => result(format!("{value} × resonance")),
        ("setup", "arrangement") => left_out(value),
        ("setup", name @ ("a" | "b" | "c" | "r1" | "r2")) => left_out(format!("{name} {value}")),
        ("calibrate", "reading") => left_out(format!("reading {}", with_limits())),
        ("calibrate", "mass") => left_out(format!("mass {}", with_limits())),
        ("calibrate", "radius") => left_out(format!("radius {}", with_limits())),
        ("calibrate", "times tolerance") => result(format!("{value} × tolerance")),
        ("calibrate", "scale") => result(value),
        ("calibrate", "one division") => result(format!("1 div = {value}")),
        ("check mass", "reading") => left_out(format!("reading {}", with_limits())),
        ("check mass", "lowest reading") => result(format!("from {value}")),
        ("check mass", "highest reading") => result(format!("to {value}")),
        _ => None,
    }
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
pub(super) fn readout_shows(setup: &SetupResults<'_>) -> Option<&'static str> {
    setup.machine.as_ref()?.readout.as_ref()?.shows
}
