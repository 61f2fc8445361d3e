//! How fast, and how the speed is found.

use super::{Sheet, rows};
use crate::card::cautions;
use crate::card::document::{Row, Section, Value};
use crate::card::values;
use crate::card::words::Words;
use crate::vocabulary::setup;
use crate::vocabulary::setup::SpeedFoundBy;

/// The band that counts as the balancing speed, both ends within it.
pub(super) fn same_speed(sheet: &Sheet<'_, '_>) -> Option<[String; 2]> {
    let [low, high] = sheet.setup.same_speed.as_ref()?;
    Some(values::within([(low.get()?, low.unit), (high.get()?, high.unit)]))
}

pub(super) fn speed(sheet: &Sheet<'_, '_>) -> Option<Section> {
    // On a stand nothing turns at a speed.
    if sheet.setup.is_on_stand() {
        return None;
    }
    let how: Option<Words> = match sheet.setup.block.choice(setup::SPEED_FOUND_BY) {
        Some(SpeedFoundBy::Peak) => Some("turn the drive until the reading peaks, then leave it alone".into()),
        Some(SpeedFoundBy::Tachometer) => Some("set by the tachometer".into()),
        None => None,
    };
    let band = same_speed(sheet).map(|[low, high]| Value::text(format!("{low} to {high}")));
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
