//! How fast, and how the speed is found.

use super::{Sheet, rows};
use crate::card::cautions;
use crate::card::document::{Row, Section, Value, Words};
use crate::card::values;

pub(super) fn speed(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let results = sheet.results();
    let found_by = match sheet.fact("speed found by") {
        Some(Value::Text(words)) => words.0.first().map(|piece| piece.text().to_owned()),
        _ => None,
    };
    let how: Words = match found_by.as_deref() {
        Some("peak") => "turn the drive until the reading peaks, then leave it alone".into(),
        Some("tachometer") => "set by the tachometer".into(),
        _ => "set by the machine's own speed display; the sheet does not say how".into(),
    };
    let band = match (results.value("", "lowest same speed"), results.value("", "highest same speed")) {
        (Some(Value::Text(low)), Some(Value::Text(high))) => Some(Value::Text(low.say(" to ").with(&high))),
        (low, high) => low.or(high),
    };
    let motor = values::printed(sheet.book, &sheet.setup.motor_speed);
    let motor = match motor {
        Value::Hole(_) if sheet.setup.motor_speed.is_left_out() => None,
        value => Some(sheet.fact("motor speed").unwrap_or(value)),
    };
    let list = rows(vec![
        Some(Row::new("Balancing speed", sheet.wanted("balancing speed"))),
        Some(Row::new("How", Value::Text(how))),
        band.map(|band| Row::new("Same speed from", band)),
        motor.map(|motor| Row::new("Motor speed", motor)),
        sheet.fact_row("resonance found at", "Resonance found at"),
    ]);
    Some(Section::new("Speed").cautions(cautions::running(sheet.setup)).rows(list))
}
