//! Readings, dates, places of the clock and around the rotor, weighings and settings.

use super::{ANY_SIGN, Reader, flatten, name_at};
use crate::sheet::amount;
use crate::sheet::block::{DatedReading, FieldValue, SettingValue, StatedReading};
use crate::sheet::problem::FactProblemKind as P;
use crate::syntax::{Reading, Shape, Value};
use crate::units::Dimension;
use crate::vocabulary::{self, KeySpec, ValueType};

impl Reader<'_> {
    pub(super) fn reading(
        &mut self,
        value: &Value,
        dimensions: &'static [Dimension],
        key: &KeySpec,
    ) -> Option<StatedReading> {
        match &value.shape {
            Shape::Amount(amount) => {
                Some(StatedReading { amount: self.amount(amount, dimensions, key)?, scale: None, angle: None })
            }
            Shape::Reading(reading) => {
                let Reading { amount, scale, angle } = &**reading;
                let amount = self.amount(amount, dimensions, key);
                let angle = angle.as_ref().map(|angle| self.amount(angle, &[Dimension::ANGLE], &ANY_SIGN));
                Some(StatedReading { amount: amount?, scale: scale.as_ref().map(name_at), angle: flatten(angle)? })
            }
            _ => self.wrong_form(value, ValueType::Reading),
        }
    }

    pub(super) fn clock(&mut self, value: &Value, expected: ValueType) -> Option<FieldValue> {
        let Shape::Clock { hour, minute } = value.shape else { return self.wrong_form(value, expected) };
        Some(FieldValue::Clock { hour, minute })
    }

    pub(super) fn date(&mut self, value: &Value, expected: ValueType) -> Option<FieldValue> {
        let Shape::Date { year, month, day } = value.shape else { return self.wrong_form(value, expected) };
        if jiff::civil::Date::new(year, month, day).is_err() {
            return self.report(value.span, P::NoSuchDay);
        }
        Some(FieldValue::Date { year, month, day })
    }

    /// `2026-05-03, 12.2 div`
    pub(super) fn reading_of_day(&mut self, value: &Value, expected: ValueType, key: &KeySpec) -> Option<FieldValue> {
        let Shape::List(values) = &value.shape else { return self.wrong_form(value, expected) };
        let [of_day, read] = &values[..] else { return self.wrong_form(value, expected) };
        let FieldValue::Date { year, month, day } = self.date(of_day, expected)? else { return None };
        let reading = self.reading(read, vocabulary::READING_DIMENSIONS, key)?;
        Some(FieldValue::OfDay(Box::new(DatedReading { year, month, day, reading })))
    }

    pub(super) fn weighing(&mut self, value: &Value, key: &KeySpec) -> Option<FieldValue> {
        let weighing = |one: &Value| matches!(one.shape, Shape::Weighing(_));
        let weighings = match &value.shape {
            Shape::List(values) => values.iter().all(weighing),
            _ => weighing(value),
        };
        if !weighings {
            return self.wrong_form(value, ValueType::Weighing);
        }
        let pairs = self.each(value, |reader, one| {
            let Shape::Weighing(weighing) = &one.shape else { return None };
            let mass = reader.amount(&weighing.amount, &[Dimension::MASS], key);
            let at = reader.amount(&weighing.at, &[Dimension::LENGTH], &ANY_SIGN);
            Some((mass?, at?))
        })?;
        match pairs[..] {
            [(first, _), (second, _)] if first.base + second.base <= 0.0 => {
                self.report(value.span, P::OutOfRange { needs: "more than zero in all" })
            }
            [first, second] => Some(FieldValue::Weighing(Box::new([first, second]))),
            _ => self.report(value.span, P::WrongCount { expected: 2, found: pairs.len() }),
        }
    }

    pub(super) fn places(&mut self, value: &Value) -> Option<FieldValue> {
        let Shape::Places { count, from } = &value.shape else { return self.wrong_form(value, ValueType::Places) };
        if count.value < 1.0 || count.value.fract() != 0.0 || count.value > 10_000.0 {
            return self.report(count.span, P::NotWhole);
        }
        let from = self.amount(from, &[Dimension::ANGLE], &ANY_SIGN)?;
        Some(FieldValue::Places { count: count.value as u32, from })
    }

    pub(super) fn setting(&mut self, value: &Value) -> Option<SettingValue> {
        match &value.shape {
            Shape::Quoted(name) => Some(SettingValue::Position(name.text.clone())),
            Shape::Words if value.span.of(self.text) == SettingValue::AS_FOUND => Some(SettingValue::AsFound),
            Shape::Words => Some(SettingValue::Position(value.span.of(self.text).into())),
            Shape::Amount(amount) => {
                let stated = amount::evaluate(self.text, amount, self.problems)?;
                Some(if stated.plain { SettingValue::Number(stated.base) } else { SettingValue::Quantity(stated) })
            }
            _ => self.wrong_form(value, ValueType::Setting),
        }
    }
}
