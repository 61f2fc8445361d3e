//! How fast, and how the speed is found.

use super::{Sheet, rows};
use crate::card::cautions;
use crate::card::document::{Row, Section, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::vocabulary::setup::SpeedFoundBy;
use crate::vocabulary::{result, setup};

pub(super) fn speed(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let results = sheet.results();
    let how: Option<Words> = match sheet.setup.block.choice(setup::SPEED_FOUND_BY) {
        Some(SpeedFoundBy::Peak) => Some("turn the drive until the reading peaks, then leave it alone".into()),
        Some(SpeedFoundBy::Tachometer) => Some("set by the tachometer".into()),
        None => None,
    };
    let of_setup = |spec| results.at_the_machine(sheet.whole(), spec);
    let band = match (of_setup(&result::LOWEST_SAME_SPEED), of_setup(&result::HIGHEST_SAME_SPEED)) {
        (Some(Value::Text(low)), Some(Value::Text(high))) => Some(Value::Text(low.say(" to ").with(&high))),
        (low, high) => low.or(high),
    };
    let motor = values::at_the_machine(sheet.book, &sheet.setup.motor_speed);
    let motor = match motor {
        Value::Hole(_) if sheet.setup.motor_speed.is_left_out() => None,
        value => Some(sheet.fact(setup::MOTOR_SPEED).unwrap_or(value)),
    };
    let list = rows(vec![
        Some(Row::new("Balancing speed", sheet.wanted(setup::BALANCING_SPEED))),
        how.map(|how| Row::new("How", Value::Text(how))),
        band.map(|band| Row::new("Same speed from", band)),
        motor.map(|motor| Row::new("Motor speed", motor)),
        sheet.fact_row(setup::RESONANCE_FOUND_AT, "Resonance found at"),
    ]);
    Some(Section::new("Speed").cautions(cautions::running(sheet.setup)).rows(list))
}
