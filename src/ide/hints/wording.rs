//! Which results a hint shows, and in how few words.

use crate::book::{self, Book, Entry, Outcome, SetupResults};
use crate::syntax::Kind;
use crate::units::{self, Unit};

/// What a hint says of a result, beside its tooltip.
pub(super) struct Said {
    pub label: String,
    /// A fact of the block that was left out.
    pub left_out: bool,
}

/// The words around a value.
#[derive(Clone, Copy)]
struct Words {
    before: &'static str,
    behind: &'static str,
    left_out: bool,
    /// Whether `±` is shown too.
    limits: bool,
}

const fn before(before: &'static str) -> Words {
    Words { before, behind: "", left_out: false, limits: false }
}

const fn behind(behind: &'static str) -> Words {
    Words { behind, ..before("") }
}

/// A fact that may be left out.
const fn left_out(before: &'static str) -> Words {
    Words { before, behind: "", left_out: true, limits: false }
}

/// A number that is set or put on at the machine, where it matters how well it is known.
const fn to_set(before: &'static str) -> Words {
    Words { limits: true, ..left_out(before) }
}

/// The words of each result that a hint shows; `None` for what is only of interest to who asks for it.
fn words(block: Kind, name: &str) -> Option<Words> {
    Some(match (block, name) {
        (Kind::Rotor, "mass") => left_out("mass "),
        (Kind::Rotor, "mass centre") => left_out("centre "),
        (Kind::Rotor, "left for assembly") => before("left "),
        (Kind::Tolerance, "permissible unbalance") => before("permissible "),
        (Kind::Tolerance, "governing rule") => behind(" governs"),
        (Kind::Tolerance, "tolerance at a") => before("A "),
        (Kind::Tolerance, "tolerance at b") => before("B "),
        (Kind::Plane, "tolerance") => before("tolerance "),
        (Kind::Plane, "correction radius") => before("radius "),
        (Kind::Plane, "greatest correction") => before("at most "),
        (Kind::Keyway, "half-key mass") => before("half key "),
        (Kind::MadeOf, "fit unbalance" | "runout couple") => before(""),
        (Kind::Setup, "motor speed") => left_out("motor "),
        (Kind::Setup, "lowest same speed") => before("from "),
        (Kind::Setup, "highest same speed") => before("to "),
        (Kind::Setup, "resonance ratio") => behind(" × resonance"),
        (Kind::Setup, "arrangement") => left_out(""),
        (Kind::Setup, "a") => left_out("a "),
        (Kind::Setup, "b") => left_out("b "),
        (Kind::Setup, "c") => left_out("c "),
        (Kind::Setup, "r1") => left_out("r1 "),
        (Kind::Setup, "r2") => left_out("r2 "),
        (Kind::Calibrate | Kind::CheckMass, "reading") => to_set("reading "),
        (Kind::Calibrate, "mass") => to_set("mass "),
        (Kind::Calibrate, "radius") => to_set("radius "),
        (Kind::Calibrate, "times tolerance") => behind(" × tolerance"),
        (Kind::Calibrate, "scale") => before(""),
        (Kind::Calibrate, "one division") => before("1 div = "),
        (Kind::Trial, "interference") => before("interference "),
        (Kind::Separation, "interference") => before("interference "),
        (Kind::Setup, "correction") => before(""),
        (Kind::Run, "reduction") => before("reduced by "),
        (Kind::Correction, "remove") => left_out("remove "),
        (Kind::Correction, "add") => left_out("add "),
        (Kind::Correction, "angle") => left_out("at "),
        (Kind::Correction, "depth") => left_out("depth "),
        (Kind::Correction, "not reached") => before("not reached "),
        (Kind::Record, "limit") => before("limit "),
        (Kind::Record, "verdict") => before(""),
        (Kind::Traverse, "residual") => before("residual "),
        (Kind::CheckMass, "lowest reading") => before("from "),
        (Kind::CheckMass, "highest reading") => before("to "),
        _ => return None,
    })
}

/// What is said of a result; nothing of holes.
pub(super) fn said(book: &Book, entry: &Entry) -> Option<Said> {
    let Words { before, behind, left_out, limits } = words(entry.spec.block, entry.spec.name)?;
    let value = match &entry.outcome {
        Outcome::Missing(_) | Outcome::Table { .. } => return None,
        Outcome::Amount { .. } if limits => book::text_of(book, entry),
        Outcome::Amount { base, unit, .. } => book::display_value(*base, *unit, 0.0),
        Outcome::Words(words) => words.to_string(),
        Outcome::Vector { .. } | Outcome::Count(_) | Outcome::Direction { .. } => book::text_of(book, entry),
    };
    Some(Said { label: format!("{before}{value}{behind}"), left_out })
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::RESULTS;

    /// Shown to who asks: in tooltips, hovers and the preview.
    const QUIET: [&str; 71] = [
        "journal load a",
        "journal load b",
        "left at worst",
        "order of balancing",
        "permissible specific unbalance",
        "equivalent grade",
        "static limit",
        "couple limit",
        "wrong key unbalance",
        "mass on machine",
        "calibration unbalance",
        "centrifugal force",
        "rim speed",
        "residual error",
        "suggested mass",
        "one division as mass",
        "one division as depth",
        "one division as pieces",
        "division table",
        "full scale is",
        "pre-balance unbalance",
        "tolerance over residual",
        "unbalance",
        "unbalance of parts",
        "correction for parts",
        "clocked unbalance",
        "clocking search",
        "clocking",
        "smallest residual",
        "traverse test mass",
        "trial unbalance",
        "change of amount",
        "change of angle",
        "influence",
        "misfit",
        "condition",
        "likeness of planes",
        "advice",
        "unbalance found",
        "left after correction",
        "disagreement of the runs",
        "static unbalance",
        "couple unbalance",
        "left after a step",
        "steps needed",
        "effect of correction",
        "holes",
        "places",
        "spread of weights",
        "left by rounding",
        "done",
        "left",
        "holding force",
        "fit",
        "arbor unbalance",
        "rotor unbalance",
        "index scatter",
        "measured",
        "combined error",
        "errors",
        "limit at a later check",
        "verdict at",
        "reasons",
        "residual by extremes",
        "heavy spot",
        "departure from mean",
        "own reading error",
        "departure from line",
        "return to start",
        "repeatability",
        "calibration",
    ];

    #[test]
    fn every_result_is_shown_by_a_hint_or_quiet_on_purpose() {
        for result in RESULTS {
            let quiet = QUIET.contains(&result.name);
            // The runs of a record repeat what a calibration and its trials are named.
            let both = matches!(result.name, "times tolerance" | "correction");
            assert!(both || words(result.block, result.name).is_some() != quiet, "{} of {}", result.name, result.block);
        }
    }
}
