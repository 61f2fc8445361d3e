//! Whether yesterday's sheet still holds: a check mass, and one band that it must read in.

use super::super::Sheet;
use super::limits;
use crate::book::{CheckMassResults, Outcome};
use crate::card::cautions;
use crate::card::document::{Part, Row, Section, Value};
use crate::card::values;
use crate::card::words::{Rank, Words};
use crate::trend;
use crate::units::Unit;
use crate::vocabulary::readout::AngleDisplay;
use crate::vocabulary::{AnyFact, ResultSpec, check_mass, result};

pub(super) fn section(sheet: &Sheet<'_, '_>, title: Words) -> Section {
    let section = Section::new(title);
    let Some(check) = &sheet.setup.check_mass else { return without(sheet, section) };
    let shows_angle = shows_angle(sheet);
    let section = section.part(Part::Text(put_on(sheet, check))).part(Part::Text(must_read(sheet, check)));
    let section = match shows_angle {
        true => section.part(Part::Text(
            "Without it ________ with it ________ difference as vectors ________ (on the balanced sample rotor: with it)"
                .into(),
        )),
        false => section.part(Part::Text(
            "Reads ________ The machine shows no angle: this holds on the balanced sample rotor only.".into(),
        )),
    };
    let name = sheet.book.item(sheet.setup.id).name_text();
    let drift = trend::of_check_mass(name, sheet.setup).and_then(|check| check.drift());
    let section = match drift {
        Some(drift) => section.part(Part::Text(Words::said("The check mass ").say(drift).say("."))),
        None => section,
    };
    section
        .part(Part::Text("☐ in the band: go on  ☐ outside: STOP, use the set-up card".into()))
        .part(Part::Text(Words::said("☐ ").stress("MASS OFF").say(", counted, and the reading back to where it was")))
}

fn shows_angle(sheet: &Sheet<'_, '_>) -> bool {
    cautions::angle_display(sheet.setup) != Some(AngleDisplay::NotShown)
}

/// `Put 3.00 g on rim at radius 141.0 mm, at 0 deg.`
fn put_on(sheet: &Sheet<'_, '_>, check: &CheckMassResults<'_>) -> Words {
    let fact = |fact: AnyFact| match values::fact(sheet.book, &check.block, fact) {
        Some(Value::Text(words)) => Some(words.plain()),
        _ => None,
    };
    let hand = |value: Option<String>| Words::hand(value.unwrap_or_else(|| "________".to_owned()));
    let words = Words::said("Weigh the mass with its wax or tape. Put ").with(&hand(fact(check_mass::MASS.any())));
    let words = words.say(" on ").set(check.plane);
    let words = match (fact(check_mass::RADIUS.any()), fact(check_mass::DIAMETER.any())) {
        (None, Some(diameter)) => words.say(" at diameter ").set(diameter),
        (radius, _) => words.say(" at radius ").with(&hand(radius)),
    };
    match fact(check_mass::ANGLE.any()) {
        Some(angle) => words.say(", at ").set(angle).say("."),
        None => words.say("."),
    }
}

/// `The mass alone must read 11.5 to 12.7 div.`
fn must_read(sheet: &Sheet<'_, '_>, check: &CheckMassResults<'_>) -> Words {
    let read = |spec: &'static ResultSpec| amount(sheet, check, spec);
    let channel = sheet.channel_of(check.plane);
    let words = match channel {
        Some(channel) => Words::said("The mass alone must read, ").state(channel).say(": "),
        None => Words::said("The mass alone must read: "),
    }
    .about(Rank::Limits);
    match (read(&result::CHECK_LOWEST), read(&result::CHECK_HIGHEST), read(&result::CHECK_READING)) {
        (Some((low, unit)), Some((high, _)), _) => {
            let low = values::bare(low, unit);
            let number = low.split(' ').next().unwrap_or_default().to_owned();
            words.set(format!("{number} to {}", values::bare(high, unit))).say(in_marks(sheet, high))
        }
        (.., Some((base, unit))) => words.set(values::bare(base, unit)),
        _ => {
            let stated = values::fact(sheet.book, &check.block, check_mass::READING);
            match stated {
                Some(Value::Text(reading)) => words.set(reading.plain()),
                _ => words.say("________ (not computed)"),
            }
        }
    }
}

fn amount(sheet: &Sheet<'_, '_>, check: &CheckMassResults<'_>, spec: &'static ResultSpec) -> Option<(f64, Unit)> {
    match sheet.results().entry(&check.block.path, spec)?.outcome {
        Outcome::Amount { base, unit, .. } => Some((base, unit)),
        _ => None,
    }
}

fn in_marks(sheet: &Sheet<'_, '_>, base: f64) -> String {
    limits::on_scale(sheet, base).map(|marks| format!(" (up to {marks})")).unwrap_or_default()
}

/// A sheet that names no check mass is known to hold by nothing on this card.
fn without(sheet: &Sheet<'_, '_>, section: Section) -> Section {
    if sheet.setup.is_on_stand() {
        // Source: common practice, no source.
        return section.text(
            "A static stand has no setting. Level the edges or rollers along and across; clean them and the journals. A small \
             mass must start the rotor, put on at two places half a turn apart: ________ g and ________ g.",
        );
    }
    let words = match sheet.is_by_trials() {
        true if !sheet.has_trials_made() => {
            return section.text(
                "The sheet rests on trial runs, and they are not made yet: make them first, by the set-up card. `balance` asks \
                 for them one by one.",
            );
        }
        true => {
            "The sheet rests on trial runs. It holds for this machine, with sensors, mounting and speed as they were then. \
             If one has changed: STOP, make the trial runs of the set-up card again."
        }
        false => {
            "The sheet has no check mass: nothing on this card can show that it still holds. After a change of machine, belt \
             or supports: STOP, set up again by the set-up card."
        }
    };
    let unchanged = match (sheet.is_by_trials(), sheet.setup.block.latest_proof()) {
        (true, _) => "Unchanged since the trial runs",
        (false, Some(_)) => "Unchanged since it was proven",
        (false, None) => return section.text(words).text("It is not proven yet: prove it first, by the set-up card."),
    };
    section.text(words).part(Part::Fields(vec![Row::new(unchanged, Value::Choice(vec!["yes", "no: STOP"]))]))
}
