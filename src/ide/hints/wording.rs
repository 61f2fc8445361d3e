//! Which results a hint shows, and in how few words.

use crate::book::{self, Book, Entry, Meaning, Outcome, SetupResults};
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
    /// Whether the plane, channel or bearing that it is of is named.
    of: bool,
}

const fn before(before: &'static str) -> Words {
    Words { before, behind: "", left_out: false, limits: false, of: false }
}

const fn behind(behind: &'static str) -> Words {
    Words { behind, ..before("") }
}

/// A fact that may be left out.
const fn left_out(before: &'static str) -> Words {
    Words { left_out: true, ..self::before(before) }
}

/// A number that is set or put on at the machine, where it matters how well it is known.
const fn to_set(before: &'static str) -> Words {
    Words { limits: true, ..left_out(before) }
}

/// One of several results of a name, which says what it is of.
const fn each(before: &'static str) -> Words {
    Words { of: true, ..self::before(before) }
}

/// The words of each result that a hint shows; `None` for what is only of interest to who asks for it.
fn words(block: Kind, name: &str) -> Option<Words> {
    Some(match (block, name) {
        (Kind::Rotor, "mass") => left_out("mass "),
        (Kind::Rotor, "mass centre") => left_out("centre "),
        (Kind::Rotor, "left for assembly") => before("left "),
        (Kind::Tolerance, "permissible unbalance") => before("permissible "),
        (Kind::Tolerance, "governing rule") => behind(" governs"),
        (Kind::Tolerance, "tolerance at a") => before("bearing a "),
        (Kind::Tolerance, "tolerance at b") => before("bearing b "),
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
        (Kind::Calibrate, "limit to read") => before("limit "),
        (Kind::Setup, "calibration") => before("calibration "),
        (Kind::Setup | Kind::Run, "unbalance found" | "unbalance") => each(""),
        (Kind::Setup, "correction") => each("correct by "),
        (Kind::Run, "correction") => before("correct by "),
        (Kind::Trial, "trial unbalance") => before(""),
        (Kind::Trial | Kind::Separation, "interference") => before("interference "),
        (Kind::Separation, "own reading error") => before("off by "),
        (Kind::Linearity, "departure from line") => before("off the line by "),
        (Kind::Proof, "return to start") => before("back within "),
        (Kind::Proof, "repeatability") => before("repeats within "),
        (Kind::Run, "times tolerance") => behind(" × tolerance"),
        (Kind::Run, "reduction") => each("reduced by "),
        (Kind::Correction, "remove") => to_set("remove "),
        (Kind::Correction, "add") => to_set("add "),
        (Kind::Correction, "angle") => left_out("at "),
        (Kind::Correction, "depth") => to_set("depth "),
        (Kind::Correction, "holes") => before("holes "),
        (Kind::Correction, "spread of weights") => before("spread "),
        (Kind::Correction, "left") => before("leaves "),
        (Kind::Correction, "left by rounding") => before("rounding leaves "),
        (Kind::Correction, "not reached") => before("not reached "),
        (Kind::MadeOf, "clocking") => before("best at "),
        (Kind::Record, "verdict") => before("verdict "),
        (Kind::Traverse, "residual") => before("residual "),
        (Kind::Traverse, "heavy spot") => before("heavy spot at "),
        (Kind::CheckMass, "lowest reading") => before("from "),
        (Kind::CheckMass, "highest reading") => before("to "),
        _ => return None,
    })
}

/// What is said of a result; nothing of holes.
pub(super) fn said(book: &Book, entry: &Entry) -> Option<Said> {
    let Words { before, behind, left_out, limits, of } = words(entry.spec.block, entry.spec.name)?;
    let value = match &entry.outcome {
        Outcome::Missing(_) | Outcome::Table { .. } => return None,
        Outcome::Amount { .. } if limits => book::text_of(book, entry),
        Outcome::Amount { base, unit, .. } => book::display_value(*base, *unit, 0.0),
        // What the corrections leave within its own uncertainty is nothing to speak of.
        Outcome::Vector { base, standard, .. } if before == "leaves " && base <= standard => return None,
        Outcome::Vector { .. } => vector(&entry.outcome)?,
        Outcome::Direction { angle, .. } => degrees(*angle),
        Outcome::Count(count) => count.to_string(),
        Outcome::Words(words) => words.to_string(),
    };
    // A vector says itself whether it is to be added or removed.
    let says_itself = matches!(entry.outcome, Outcome::Vector { .. }) && before == "correct by ";
    let before = if says_itself { "" } else { before };
    let of = entry.of.as_ref().filter(|_| of).map(|of| format!("{of} ")).unwrap_or_default();
    Some(Said { label: format!("{of}{before}{value}{behind}"), left_out })
}

/// An amount at its angle, and what is to be done there; without the angle when it may point anywhere.
fn vector(outcome: &Outcome) -> Option<String> {
    let Outcome::Vector { base, angle, unit, standard, meaning, .. } = outcome else { return None };
    let what = match meaning {
        Meaning::ToAdd | Meaning::ToAddOrRemoveOpposite => "add ",
        Meaning::ToRemove => "remove ",
        _ => "",
    };
    let amount = book::display_value(*base, *unit, 0.0);
    Some(match base <= standard {
        true => format!("{what}{amount}"),
        false => format!("{what}{amount} @ {}", degrees(*angle)),
    })
}

/// Whether a hint leaves the angle of a vector out, so that accepting it must not write one.
pub(super) fn hides_its_angle(entry: &Entry) -> bool {
    matches!(&entry.outcome, Outcome::Vector { base, standard, .. } if base <= standard)
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
pub(super) fn readout_shows(setup: &SetupResults<'_>) -> Option<&'static str> {
    setup.machine.as_ref()?.readout.as_ref()?.shows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vocabulary::results;

    /// Shown to who asks: in tooltips, hovers and the preview.
    const QUIET: [&str; 62] = [
        "journal load a",
        "journal load b",
        "left at worst",
        "order of balancing",
        "unbalance of parts",
        "correction for parts",
        "clocked unbalance",
        "clocking search",
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
        "one division as spread",
        "division table",
        "full scale is",
        "pre-balance unbalance",
        "tolerance over residual",
        "smallest residual",
        "traverse test mass",
        "change of amount",
        "change of angle",
        "influence",
        "misfit",
        "condition",
        "likeness of planes",
        "advice",
        "left after correction",
        "disagreement of the runs",
        "static unbalance",
        "couple unbalance",
        "left after a step",
        "steps needed",
        "effect of correction",
        "effect in plane",
        "places",
        "done",
        "holding force",
        "fit",
        "arbor unbalance",
        "rotor unbalance",
        "index scatter",
        "measured",
        "combined error",
        "errors",
        "limit",
        "limit at a later check",
        "verdict at",
        "reasons",
        "residual by extremes",
        "departure from mean",
        "test of the machine",
        "own angle error",
    ];

    #[test]
    fn every_result_is_shown_by_a_hint_or_quiet_on_purpose() {
        for result in results() {
            let quiet = QUIET.contains(&result.name);
            assert_ne!(words(result.block, result.name).is_some(), quiet, "{} of {}", result.name, result.block);
        }
    }
}
