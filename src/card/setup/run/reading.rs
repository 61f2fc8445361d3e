//! How the machine is read.

use super::super::Sheet;
use crate::card::document::Value;
use crate::card::values::{self, bare};
use crate::card::words::{Rank, Words};
use crate::vocabulary::readout;
use crate::vocabulary::readout::{AngleDisplay, StrobeShows};

/// The head of a column for what is read for the angle; nothing where the machine shows none.
pub(super) fn head(sheet: &Sheet<'_, '_>) -> Option<Words> {
    let readout = sheet.setup.machine.as_ref().and_then(|machine| machine.readout.as_ref());
    let shown = readout.and_then(|readout| readout.block.choice(readout::ANGLES));
    match shown {
        Some(AngleDisplay::NotShown) => None,
        Some(AngleDisplay::Measured) => Some("at, deg".into()),
        Some(AngleDisplay::ByStrobe) | None => Some("at".into()),
    }
}

/// `1 mark on fine is 0.5 div, on coarse 2 div.` Tables are in what a reading means; a needle shows marks.
fn marks(sheet: &Sheet<'_, '_>) -> Option<Words> {
    let readout = sheet.setup.machine.as_ref()?.readout.as_ref()?;
    let marks = readout.scales.iter().filter_map(|one| Some((one.one_mark?, one.name)));
    let mut scales: Vec<(f64, &str)> = marks.collect();
    scales.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let mut scales = scales.into_iter().map(|(mark, name)| (name.to_owned(), bare(mark, readout.unit)));
    let (name, first) = scales.next()?;
    let words = Words::said("1 mark on ").state(name).say(" is ").stress(first);
    let words = scales.fold(words, |words, (name, one)| words.say(", on ").state(name).say(" ").stress(one));
    Some(words.say("."))
}

/// How the angle is read, and what a mark of a scale means.
pub(super) fn how(sheet: &Sheet<'_, '_>) -> Option<Words> {
    match (of_angle(sheet), marks(sheet)) {
        (Some(angle), Some(marks)) => Some(angle.say(" ").with(&marks)),
        (angle, marks) => angle.or(marks),
    }
}

/// `At: the number at the pointer (3 o'clock, seen from the drive end).`
fn of_angle(sheet: &Sheet<'_, '_>) -> Option<Words> {
    let block = &sheet.setup.machine.as_ref()?.readout.as_ref()?.block;
    let text = |value: Option<Value>| match value {
        Some(Value::Text(words)) => Some(words.plain()),
        _ => None,
    };
    let pointer = text(values::fact(sheet.book, block, readout::POINTER_AT));
    let from =
        text(values::fact(sheet.book, block, readout::POINTER_SEEN_FROM)).map(|end| format!("seen from the {end}"));
    let (words, place) = match block.choice(readout::STROBE_SHOWS)? {
        StrobeShows::NumberAtPointer => {
            (Words::said("At: the number at the pointer"), [pointer.as_ref(), from.as_ref()])
        }
        StrobeShows::ClockPlaceOfMark => {
            (Words::said("At: where the strobe shows the zero mark, as on a clock"), [None, from.as_ref()])
        }
    };
    let place: Vec<&str> = place.into_iter().flatten().map(String::as_str).collect();
    let words = words.about(Rank::Places);
    let words = if place.is_empty() { words.say(".") } else { words.say(", ").state(place.join(", ")).say(".") };
    Some(match (block.choice(readout::STROBE_SHOWS)?, pointer) {
        (StrobeShows::ClockPlaceOfMark, Some(pointer)) => words
            .say(" With the rotor stopped and its mark turned back to that place, the machine points to ")
            .state(pointer)
            .say("."),
        _ => words,
    })
}
