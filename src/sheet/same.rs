//! Whether two facts say the same, whatever unit they say it in.

use super::amount::Stated;
use super::block::{FieldValue, SettingValue, StatedRange};
use crate::units;
use crate::vocabulary::Choice;
use crate::vocabulary::rotor::Rotation;

impl FieldValue {
    /// Whether two values of one key say the same. An amount in another unit does to the digits of either, for a
    /// conversion ends somewhere. What could not be read says nothing else than what could not be read.
    pub fn says_the_same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Quantity(a), Self::Quantity(b)) => amounts(a, b),
            (Self::Quantities(a), Self::Quantities(b)) => {
                a.len() == b.len() && a.iter().zip(b).all(|(a, b)| amounts(a, b))
            }
            (Self::Range(a), Self::Range(b)) => ranges(a, b),
            (Self::Number(a), Self::Number(b)) | (Self::Grade(a), Self::Grade(b)) => units::is_same(*a, *b),
            (Self::Name(a), Self::Name(b)) => a.text == b.text,
            (Self::Choice(a), Self::Choice(b)) => a == b || is_one_rotation(a, b),
            (Self::Names(a), Self::Names(b)) => a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.text == b.text),
            (Self::Reading(a), Self::Reading(b)) => {
                let scale = |reading: &super::StatedReading| reading.scale.as_ref().map(|scale| scale.text.clone());
                amounts(&a.amount, &b.amount) && scale(a) == scale(b) && ends(a.angle.as_ref(), b.angle.as_ref())
            }
            (Self::Places { count: a, from: a_from }, Self::Places { count: b, from: b_from }) => {
                a == b && amounts(a_from, b_from)
            }
            (Self::Setting(SettingValue::Number(a)), Self::Setting(SettingValue::Number(b))) => units::is_same(*a, *b),
            (Self::Setting(SettingValue::Quantity(a)), Self::Setting(SettingValue::Quantity(b))) => amounts(a, b),
            _ => self == other,
        }
    }
}

/// Exactly in one unit, and in two within half a step of the last digit of the finer.
fn amounts(a: &Stated, b: &Stated) -> bool {
    let written = if a.unit == b.unit { 0.0 } else { a.half_step.min(b.half_step) };
    let apart = (a.base - b.base).abs();
    a.dimension() == b.dimension() && (apart <= written || units::is_same(a.base, b.base))
}

fn ranges(a: &StatedRange, b: &StatedRange) -> bool {
    ends(a.low.as_ref(), b.low.as_ref()) && ends(a.high.as_ref(), b.high.as_ref())
}

fn ends(a: Option<&Stated>, b: Option<&Stated>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => amounts(a, b),
        (a, b) => a.is_none() && b.is_none(),
    }
}

/// Whether two words are of one rotation, seen from either end.
fn is_one_rotation(a: &str, b: &str) -> bool {
    Rotation::of(a).zip(Rotation::of(b)).is_some_and(|(a, b)| a.is_same_as(b))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unit;

    fn stated(value: f64, half_step: f64, unit: &str) -> FieldValue {
        let unit = Unit::parse(unit).unwrap();
        let base = unit.to_base(value);
        FieldValue::Quantity(Stated { base, unit, half_step: half_step * unit.factor(), limits: None, plain: false })
    }

    /// 1150 ÷ 60 = 19.1666…; one inch is 25.4 mm, so that 141 ÷ 25.4 = 5.551181…
    #[test]
    fn an_amount_in_another_unit_is_the_same_to_its_digits() {
        let speed = stated(1150.0, 0.5, "rpm");
        for (value, half_step, is_same) in
            [(19.1667, 5e-5, true), (19.17, 5e-3, true), (19.2, 0.05, false), (19.0, 0.5, false)]
        {
            assert_eq!(speed.says_the_same(&stated(value, half_step, "Hz")), is_same, "{value} Hz");
            assert_eq!(stated(value, half_step, "Hz").says_the_same(&speed), is_same, "{value} Hz");
        }
        assert!(!speed.says_the_same(&stated(1151.0, 0.5, "rpm")) && speed.says_the_same(&stated(1150.0, 0.05, "rpm")));
        assert!(stated(141.0, 0.05, "mm").says_the_same(&stated(5.55118, 5e-6, "in")));
        assert!(!stated(3.0, 0.005, "g").says_the_same(&stated(3.01, 0.005, "g")));
        assert!(!stated(3.0, 0.005, "g").says_the_same(&FieldValue::Hole));
    }
}
