//! The check mass, before the first rotor of a day: whether the sheet still holds.

use super::forms::{Form, Readout};
use super::question::{Into, Line, Question, Wanted};
use super::record::PutOn;
use super::runs;
use super::set_to::SetTo;
use crate::book::{self, Book, CheckMassResults, Day, Outcome, SetupResults};
use crate::vocabulary::calibrate::TakenAs;
use crate::vocabulary::{AnyFact, ResultSpec, calibrate, check_mass, proof, result};

/// Asks what the check mass reads where `checked every` has run out, or where what it read last is not in its band. Written
/// into the sheet, it is asked once.
pub(super) fn due<'b>(book: &'b Book, setup: &SetupResults<'b>, today: &str) -> Option<Question<'b>> {
    let check = setup.check_mass.as_ref()?;
    let block = check.block.own?;
    let day = Day::read(today)?;
    let proven = setup.block.latest_proof().and_then(|proof| proof.day(proof::DATE));
    let holds = |done: Day| check.holds(done, day);
    let last = check.checked.last();
    if !last.is_some_and(|last| check.is_outside(last)) {
        check.block.field(check_mass::CHECKED_EVERY)?;
        if last.map(|last| last.day).max(proven).is_some_and(holds) {
            return None;
        }
    }
    // Read as the calibration of its plane is: a mass on a rotor that has unbalance of its own is a difference of two readings.
    let calibration = setup.calibrations.iter().find(|one| one.plane == check.plane);
    let taken_as = calibration.and_then(|one| one.block.as_ref()?.choice(calibrate::TAKEN_AS));
    let is_difference = taken_as == Some(TakenAs::VectorDifference);
    let set_to = SetTo::of_check(is_difference, &Readout::of(setup).near(check.reading.get()));
    let fact = |fact: AnyFact| runs::fact_as_written(book, &check.block, fact);
    let place = [
        fact(check_mass::RADIUS.any()).map(|radius| format!(", radius {radius}")),
        fact(check_mass::DIAMETER.any()).map(|diameter| format!(", diameter {diameter}")),
        fact(check_mass::ANGLE.any()).map(|angle| format!(", at {angle}")),
    ];
    let place: String = place.into_iter().flatten().collect();
    let mass = fact(check_mass::MASS.any()).unwrap_or_else(|| "the check mass".to_owned());
    let band = band(setup, check).map(|band| format!("; in the band: {band}")).unwrap_or_default();
    Some(Question {
        about: format!(
            "Does the sheet still hold? PUT {mass} in plane {}{place}{band}. TAKE IT OFF when it is read",
            check.plane
        ),
        asks: set_to.asks_of_check().to_owned(),
        example: format!("{}; `-` where it is not put on", set_to.example()),
        usual: None,
        head: check_mass::CHECKED.to_string(),
        wanted: Wanted::Line(Box::new(Line {
            into: Into::Block(setup.id, block),
            form: Form::OfDay(today.to_owned(), set_to),
            puts_on: Some(PutOn::Check),
            may_be_left_out: true,
            once: None,
        })),
    })
}

/// Why no rotor is balanced by the sheet: what the check mass read last, whenever that was, is not in its band.
pub fn stop_by_check_mass(setup: &SetupResults<'_>) -> Option<String> {
    let check = setup.check_mass.as_ref()?;
    let last = check.checked.last().filter(|last| check.is_outside(last))?;
    let band = band(setup, check)?;
    let read = last.reading.get().map(|read| book::display_value(read.value(), last.reading.unit, 0.0))?;
    Some(format!(
        "the check mass reads {read}, outside {band}: nothing is balanced before the machine is set again, by the set-up card"
    ))
}

/// `11.5 div to 12.7 div`
fn band(setup: &SetupResults<'_>, check: &CheckMassResults<'_>) -> Option<String> {
    let end = |spec: &'static ResultSpec| {
        let entry = setup.entries.iter().find(|entry| entry.is(spec) && entry.path == check.block.path)?;
        match entry.outcome {
            Outcome::Amount { base, unit, .. } => Some(book::display_value(base, unit, 0.0)),
            _ => None,
        }
    };
    Some(format!("{} to {}", end(&result::CHECK_LOWEST)?, end(&result::CHECK_HIGHEST)?))
}
