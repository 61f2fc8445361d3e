//! What is done before the first correction, each with a box to tick.

use super::{Sheet, hole};
use crate::book::{CalibrateResults, EffectiveBlock};
use crate::card::cautions;
use crate::card::document::{Part, Section, Step, Value};
use crate::card::values::{self, amount, text_of_fact};
use crate::card::words::Words;
use crate::syntax::Kind;
use crate::vocabulary::calibrate::TakenAs;
use crate::vocabulary::machine::Supports;
use crate::vocabulary::readout::AngleDisplay;
use crate::vocabulary::{AnyFact, ResultSpec, calibrate, check_mass, machine, result, setup, shop, trial};

pub(super) fn steps(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let mut steps = Vec::new();
    let check = check_mass(sheet);
    let checks = check.is_some();
    if let Some(check) = check {
        steps.push(check);
        steps.extend(masses_off("Check mass", 1, None));
    }
    steps.extend(pre_balance(sheet));
    let calibrated: Vec<&CalibrateResults<'_>> =
        sheet.setup.calibrations.iter().filter(|one| one.block.is_some()).collect();
    let trials = sheet.setup.block.inner(Kind::Trial).count();
    if !calibrated.is_empty() {
        steps.extend(separation(sheet, &calibrated));
        steps.extend(calibrated.iter().map(|one| calibrate(sheet, one)));
        let in_all = checks.then_some(calibrated.len() + 1);
        steps.extend(masses_off("Calibration masses", calibrated.len(), in_all));
    }
    if trials > 0 && calibrated.is_empty() {
        steps.extend(sheet.setup.block.inner(Kind::Trial).map(|trial| trial_step(sheet, trial)));
        let masses = trials.saturating_sub(1);
        let in_all = checks.then_some(masses + 1);
        steps.extend(masses_off("Trial masses", masses, in_all));
    }
    let machine = sheet.setup.machine.as_ref().map(|machine| &machine.block);
    let hard = machine.and_then(|machine| machine.choice(machine::SUPPORTS)) == Some(Supports::Hard)
        && (sheet.setup.block.field(setup::LEFT_SUPPORT_TO_LEFT_PLANE).is_some()
            || sheet.results().entry(sheet.whole(), &result::LEFT_SUPPORT_TO_LEFT_PLANE).is_some());
    let section = Section::new("Steps before the first correction");
    if calibrated.is_empty() && trials == 0 && !hard {
        let words = Words::said("Not computed, because the sheet has neither a calibration nor trial runs.");
        let section = section.text(words);
        // The sheet may still be proven with its check mass.
        return Some(match steps.is_empty() {
            true => section,
            false => section.cautions(cautions::masses()).part(Part::Steps(steps)),
        });
    }
    if calibrated.is_empty() && trials == 0 {
        steps.insert(0, Step::new("Planes and supports set as above; nothing to calibrate on hard supports."));
    }
    Some(section.cautions(cautions::masses()).part(Part::Steps(steps)))
}

fn check_mass(sheet: &Sheet<'_, '_>) -> Option<Step> {
    let check = sheet.setup.check_mass.as_ref()?;
    let results = sheet.results();
    let fact = |fact: AnyFact| values::fact(sheet.book, &check.block, fact);
    let reads = |spec: &'static ResultSpec| results.at_the_machine(&check.block.path, spec, sheet.step());
    let reading = fact(check_mass::READING.any()).or_else(|| reads(&result::CHECK_READING));
    let does = Words::said("Check mass in plane ").stress(check.plane).say(", before the sheet is used again. ");
    let step = Step::new(does.say(mass_alone(sheet)).say(" Outside the band: stop, do not use this sheet."));
    let band = match (reads(&result::CHECK_LOWEST), reads(&result::CHECK_HIGHEST)) {
        (Some(Value::Text(low)), Some(Value::Text(high))) => Some(Value::Text(low.say(" to ").with(&high))),
        (low, high) => low.or(high),
    };
    let step = step
        .row_of("Mass", fact(check_mass::MASS.any()))
        .row_of("Radius", fact(check_mass::RADIUS.any()).or_else(|| fact(check_mass::DIAMETER.any()).map(diameter)))
        .row_of("Angle", fact(check_mass::ANGLE.any()))
        .row_of("Must read", reading)
        .row_of("Within", band.or_else(|| fact(check_mass::WITHIN.any())));
    Some(match shows_angle(sheet) {
        true => two_blanks(sheet, step, check.plane, ["Without it", "With it"])
            .row("Difference as vectors", Value::Blank("")),
        false => step.row("Reads", Value::Blank("")),
    })
}

/// The reading of a check mass is that of the mass alone: what the rotor itself reads must be taken out first.
/// Source: common practice, no source.
fn mass_alone(sheet: &Sheet<'_, '_>) -> &'static str {
    match shows_angle(sheet) {
        true => {
            "The reading below is that of the mass alone: read without it, put it on, read with it; the difference of \
             the two as vectors must be within the band. On the balanced sample rotor the reading with it will do."
        }
        false => {
            "The reading below is that of the mass alone, and the machine shows no angle: it holds on the balanced \
             sample rotor only, not on a rotor that is still to be balanced."
        }
    }
}

fn shows_angle(sheet: &Sheet<'_, '_>) -> bool {
    cautions::angle_display(sheet.setup) != Some(AngleDisplay::NotShown)
}

/// Two lines to fill in, of the channel that reads a plane.
fn two_blanks(sheet: &Sheet<'_, '_>, step: Step, plane: &str, labels: [&'static str; 2]) -> Step {
    let channel = sheet.planes().into_iter().find(|(own, _)| *own == plane).and_then(|(_, channel)| channel);
    labels.into_iter().fold(step, |step, label| {
        let words = match channel {
            Some(channel) => Words::said(label).say(", reads ").state(channel),
            None => Words::said(label).say(", reads"),
        };
        step.row(words, Value::Blank(""))
    })
}

fn diameter(value: Value) -> Value {
    match value {
        Value::Text(words) => Value::Text(Words::said("diameter ").with(&words)),
        other => other,
    }
}

fn pre_balance(sheet: &Sheet<'_, '_>) -> Option<Step> {
    let to = sheet.fact(setup::PRE_BALANCE_TO)?;
    let mut step = Step::new("Pre-balance: correct roughly until every plane reads below").row("Below", to);
    for (plane, _) in sheet.planes() {
        if let Some(value) = sheet.results().value(&sheet.calibration(plane), &result::PRE_BALANCE_UNBALANCE) {
            step = step.row(Words::said("In ").state(plane).say(" that is"), value);
        }
    }
    Some(blanks(sheet, step, "Reads"))
}

/// A line to fill in for each channel.
fn blanks(sheet: &Sheet<'_, '_>, step: Step, label: &'static str) -> Step {
    sheet
        .channels()
        .into_iter()
        .fold(step, |step, channel| step.row(Words::said(label).say(" ").state(channel), Value::Blank("")))
}

/// A mass in one plane must leave the reading of the other as it was.
fn separation(sheet: &Sheet<'_, '_>, calibrated: &[&CalibrateResults<'_>]) -> Vec<Step> {
    if calibrated.len() < 2 {
        return Vec::new();
    }
    let limit = interference(sheet);
    let each = calibrated.iter().map(|one| {
        let others: Vec<&str> =
            calibrated.iter().filter(|other| other.plane != one.plane).map(|other| other.plane).collect();
        let mut does =
            Words::said("Separate: the mass of plane ").stress(one.plane).say(" put on, set the machine until ");
        for (n, other) in others.iter().enumerate() {
            does = if n > 0 { does.say(", ") } else { does }.stress(*other);
        }
        let does = does.say(" reads as it did without the mass.");
        let step = Step::new(does).row("Interference at most", limit.clone());
        others.iter().fold(step, |step, other| {
            step.row(Words::said("Without, ").state(*other), Value::Blank(""))
                .row(Words::said("With, ").state(*other), Value::Blank(""))
        })
    });
    each.collect()
}

/// The shop's rule, as it stands or as the format has it.
fn interference(sheet: &Sheet<'_, '_>) -> Value {
    let stated = sheet.book.shop().and_then(|shop| shop.field(shop::INTERFERENCE));
    match (stated, sheet.book.shop_id()) {
        (Some(field), Some(id)) => Value::text(field.value_span.of(&sheet.book.file(id.file).text).to_owned()),
        _ => Value::text("5 % (the default of the format)"),
    }
}

fn calibrate(sheet: &Sheet<'_, '_>, one: &CalibrateResults<'_>) -> Step {
    let block = one.block.as_ref();
    let path = sheet.calibration(one.plane);
    let fact = |fact: AnyFact| block.and_then(|block| values::fact(sheet.book, block, fact));
    let results = sheet.results();
    let radius = fact(calibrate::DIAMETER.any()).map(diameter);
    let radius = radius.unwrap_or_else(|| amount(sheet.book, block, calibrate::RADIUS, &one.radius));
    let step = Step::new(Words::said("Calibrate plane ").stress(one.plane).say(taken(block)))
        .row("Mass", amount(sheet.book, block, calibrate::MASS, &one.mass))
        .row("Radius to its centre", radius)
        .row("Angle", fact(calibrate::ANGLE.any()).unwrap_or_else(|| hole("the sheet gives no angle")))
        .row_of("Then shows", fact(calibrate::SHOWS.any()))
        .row("Set the reading to", reading(sheet, one))
        .row_of("On scale", results.value(&path, &result::SCALE))
        .row_of("Residual falsifies it by", results.value(&path, &result::RESIDUAL_ERROR));
    match block.and_then(|block| block.choice(calibrate::TAKEN_AS)) {
        Some(TakenAs::VectorDifference) => {
            return two_blanks(sheet, step, one.plane, ["Without it", "With it"])
                .row("Difference as vectors", Value::Blank(""));
        }
        Some(TakenAs::MeanOfTwoOppositePositions) => {
            return two_blanks(sheet, step, one.plane, ["As put on", "Half a turn on"]);
        }
        Some(TakenAs::OnePosition) | None => {}
    }
    let channel = sheet.planes().into_iter().find(|(plane, _)| *plane == one.plane).and_then(|(_, channel)| channel);
    let label = match channel {
        Some(channel) => Words::said("Reads ").state(channel),
        None => Words::said("Reads"),
    };
    step.row(label, Value::Blank(""))
}

/// The reading to set: as it is demanded, else as it follows from mass and radius.
fn reading(sheet: &Sheet<'_, '_>, one: &CalibrateResults<'_>) -> Value {
    let stated = one.block.as_ref().and_then(|block| block.field(calibrate::READING));
    match stated {
        Some(field) => match text_of_fact(sheet.book, field) {
            Some(text) => Value::strong(text),
            None => values::stated(sheet.book, field),
        },
        None => values::val_at_the_machine(sheet.book, &one.reading, sheet.step()),
    }
}

fn taken(block: Option<&EffectiveBlock<'_>>) -> &'static str {
    match block.and_then(|block| block.choice(calibrate::TAKEN_AS)) {
        Some(TakenAs::MeanOfTwoOppositePositions) => {
            ": read, move the mass half a turn on, read again; the mean of both is set."
        }
        Some(TakenAs::VectorDifference) => ": read without and with the mass; the vector difference of both is set.",
        Some(TakenAs::OnePosition) => ": one reading with the mass on.",
        None => ". The sheet does not say how the reading is taken.",
    }
}

/// `in_all` counts the check mass, which went on and came off before, with the others.
fn masses_off(which: &'static str, count: usize, in_all: Option<usize>) -> Vec<Step> {
    if count == 0 {
        return Vec::new();
    }
    let mut off = Step::new("ALL MASSES OFF. Count them: put on and taken off must agree.")
        .row(which, Value::strong(count.to_string()))
        .row_of("Together with the check mass", in_all.map(|all| Value::strong(all.to_string())))
        .row("Put on", Value::Blank(""))
        .row("Taken off", Value::Blank(""));
    off.boxed = true;
    let back = Step::new("Back to the start: one run without masses must read as before they went on.")
        .row("Before", Value::Blank(""))
        .row("Now", Value::Blank(""));
    vec![off, back]
}

fn trial_step(sheet: &Sheet<'_, '_>, trial: &EffectiveBlock<'_>) -> Step {
    let fact = |fact: AnyFact| values::fact(sheet.book, trial, fact);
    let does = Words::said("Trial run: ").stress(trial.name_text());
    let does = match fact(trial::TRIAL_MASS.any()) {
        Some(Value::Text(words)) => does.say("; then the mass is ").with(&words),
        _ => does,
    };
    let mut step = Step::new(does)
        .row_of("Mass in", fact(trial::MASS_IN.any()))
        .row_of("Mass", fact(trial::MASS.any()))
        .row_of("Radius to its centre", fact(trial::RADIUS.any()).or_else(|| fact(trial::DIAMETER.any()).map(diameter)))
        .row_of("Angle", fact(trial::ANGLE.any()));
    for (channel, field) in trial.named(trial::READING) {
        let read = values::stated(sheet.book, field);
        step = step.row(Words::said("Sheet reads ").state(&*channel.text), read);
        step = step.row(Words::said("Now reads ").state(&*channel.text), Value::Blank(""));
    }
    step
}
