//! What is done before the first correction, each with a box to tick.

use super::{Sheet, hole};
use crate::book::{CalibrateResults, EffectiveBlock};
use crate::card::cautions;
use crate::card::document::{Part, Section, Step, Value};
use crate::card::values::{self, amount, text_of_fact};
use crate::card::words::{Rank, Words};
use crate::syntax::Kind;
use crate::vocabulary::calibrate::TakenAs;
use crate::vocabulary::machine::Supports;
use crate::vocabulary::{AnyFact, calibrate, machine, result, setup, shop, trial};

pub(super) fn steps(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let mut steps = Vec::new();
    steps.extend(pre_balance(sheet));
    let calibrated: Vec<&CalibrateResults<'_>> =
        sheet.setup.calibrations.iter().filter(|one| one.block.is_some()).collect();
    let trials = sheet.setup.block.inner(Kind::Trial).count();
    if !calibrated.is_empty() {
        steps.extend(separation(sheet, &calibrated));
        steps.extend(calibrated.iter().map(|one| calibrate(sheet, one)));
        steps.extend(masses_off("Calibration masses", calibrated.len()));
    }
    if sheet.is_by_trials() {
        steps.extend(sheet.setup.block.inner(Kind::Trial).map(|trial| trial_step(sheet, trial)));
        steps.extend(masses_off("Trial masses", trials.saturating_sub(1)));
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
        steps.insert(0, Step::new("Set planes and supports as above. On hard supports there is nothing to calibrate."));
    }
    Some(section.cautions(cautions::masses()).part(Part::Steps(steps)))
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

/// In the size in which a hand sets it.
fn set(value: Value) -> Value {
    match value {
        Value::Text(words) => Value::Text(Words::hand(words.plain())),
        other => other,
    }
}

fn diameter(value: Value) -> Value {
    match value {
        Value::Text(words) => Value::Text(Words::said("diameter ").with(&words)),
        other => other,
    }
}

fn pre_balance(sheet: &Sheet<'_, '_>) -> Option<Step> {
    let to = sheet.fact(setup::PRE_BALANCE_TO)?;
    let mut step = Step::new("Pre-balance: correct roughly until every plane reads below")
        .row(Words::said("Below").about(Rank::Limits), to);
    for (plane, _) in sheet.planes() {
        if let Some(value) = sheet.results().at_the_machine(&sheet.calibration(plane), &result::PRE_BALANCE_UNBALANCE) {
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
            Words::said("Separate: the mass of plane ").stress(one.plane).say(" on; adjust the machine until ");
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
        _ => Value::text("5 %"),
    }
}

fn calibrate(sheet: &Sheet<'_, '_>, one: &CalibrateResults<'_>) -> Step {
    let block = one.block.as_ref();
    let path = sheet.calibration(one.plane);
    let fact = |fact: AnyFact| block.and_then(|block| values::fact(sheet.book, block, fact));
    let results = sheet.results();
    let radius = match block.and_then(|block| block.field(calibrate::RADIUS)) {
        Some(_) => values::at_the_machine(sheet.book, &one.radius),
        None => fact(calibrate::DIAMETER.any())
            .map(diameter)
            .unwrap_or_else(|| values::at_the_machine(sheet.book, &one.radius)),
    };
    let step = Step::new(Words::said("Calibrate plane ").stress(one.plane).say(taken(block)))
        .row("Mass", set(amount(sheet.book, block, calibrate::MASS, &one.mass)))
        .row("Radius to its centre", set(radius))
        .row("Angle", set(fact(calibrate::ANGLE.any()).unwrap_or_else(|| hole("the sheet gives no angle"))))
        .row_of("Then shows", fact(calibrate::SHOWS.any()))
        .row("Set the reading to", set(reading(sheet, one)))
        .row_of("On scale", results.value(&path, &result::SCALE));
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
            Some(text) => Value::Text(Words::hand(text)),
            None => values::stated(sheet.book, field),
        },
        None => values::at_the_machine(sheet.book, &one.reading),
    }
}

fn taken(block: Option<&EffectiveBlock<'_>>) -> &'static str {
    match block.and_then(|block| block.choice(calibrate::TAKEN_AS)) {
        Some(TakenAs::MeanOfTwoOppositePositions) => {
            ": read, move the mass half a turn round, read again, and set the mean of the two."
        }
        Some(TakenAs::VectorDifference) => {
            ": read without and with the mass, and set the vector difference of the two."
        }
        Some(TakenAs::OnePosition) => ": one reading with the mass on.",
        None => ".",
    }
}

fn masses_off(which: &'static str, count: usize) -> Vec<Step> {
    if count == 0 {
        return Vec::new();
    }
    let mut off = Step::new("ALL MASSES OFF. Count them: as many off as on.")
        .row(which, Value::strong(count.to_string()))
        .row("Put on", Value::Blank(""))
        .row("Taken off", Value::Blank(""));
    off.boxed = true;
    let back = Step::new("Back to the start: a run without masses must read as it did before they went on.")
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
        .row_of("Mass", fact(trial::MASS.any()).map(set))
        .row_of(
            "Radius to its centre",
            fact(trial::RADIUS.any()).or_else(|| fact(trial::DIAMETER.any()).map(diameter)).map(set),
        )
        .row_of("Angle", fact(trial::ANGLE.any()).map(set));
    for (channel, field) in trial.named(trial::READING) {
        let read = values::stated(sheet.book, field);
        step = step.row(Words::said("On the sheet, ").state(&*channel.text), read);
        step = step.row(Words::said("Now reads ").state(&*channel.text), Value::Blank(""));
    }
    step
}
