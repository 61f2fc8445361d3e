//! One value of the tree, read as its key demands.

mod amounts;
mod forms;
mod words;

use super::amount;
use super::block::FieldValue;
use super::head::name_at;
use super::problem::{FactProblem, FactProblemKind as P, Form};
use crate::syntax::{Shape, Value};
use crate::text::Span;
use crate::units::Dimension;
use crate::vocabulary::{self, KeySpec, ValueType};
use words::{begins_quoted, takes_text};

pub(super) struct Reader<'a> {
    text: &'a str,
    problems: &'a mut Vec<FactProblem>,
    /// A unit of the list that is being read; a value that lacks its own most likely has the same.
    neighbour: Option<Span>,
}

impl<'a> Reader<'a> {
    pub fn new(text: &'a str, problems: &'a mut Vec<FactProblem>) -> Self {
        Self { text, problems, neighbour: None }
    }

    /// The value of a fact; a hole when it cannot be read as `expected`.
    pub fn read(&mut self, value: &Value, expected: ValueType, key: &KeySpec) -> FieldValue {
        match value.shape {
            Shape::Nothing => FieldValue::Hole,
            Shape::Unknown => FieldValue::Unknown,
            // Whatever text without quotes looks like, what it lacks is its quotes.
            Shape::Broken if takes_text(expected) && !begins_quoted(value.span.of(self.text)) => {
                self.unquoted(value.span, expected)
            }
            Shape::Broken => FieldValue::Hole,
            _ => self.typed(value, expected, key).unwrap_or(FieldValue::Hole),
        }
    }

    fn typed(&mut self, value: &Value, expected: ValueType, key: &KeySpec) -> Option<FieldValue> {
        use FieldValue as V;
        use ValueType as T;
        Some(match expected {
            T::Quantity(dimensions) => V::Quantity(self.quantity(value, dimensions, key)?),
            T::Percentage => V::Quantity(self.percentage(value, key)?),
            T::PercentageOrAmount => V::Quantity(self.percentage_or_amount(value, key)?),
            T::Range(dimensions) => V::Range(Box::new(self.range(value, dimensions, key)?)),
            T::QuantityOrRange(dimensions) => V::Range(Box::new(self.range_or_point(value, dimensions, key)?)),
            T::Ranges(dimensions) => {
                V::Ranges(self.each(value, |reader, one| reader.range_or_point(one, dimensions, key))?)
            }
            T::Quantities(dimensions, count) => {
                let list = self.each(value, |reader, one| reader.quantity(one, dimensions, key))?;
                self.counted(value, count, list.len())?;
                V::Quantities(list)
            }
            T::Number => V::Number(self.number(value, key)?),
            T::Count => V::Number(self.count(value, key)?),
            T::NumberRange => self.number_range(value, key)?,
            T::UnitName(dimensions) => V::Unit(self.unit_name(value, dimensions)?),
            T::UnitNames(dimensions) => {
                let units = self.each(value, |reader, one| Some((reader.unit_name(one, dimensions)?, one.span)))?;
                V::Units(self.one_a_dimension(units)?)
            }
            T::Grade => V::Grade(self.grade(value)?),
            T::Text => V::Text(self.text(value, expected)?),
            T::Reference(_) | T::Name(_) => V::Name(self.name(value, expected)?),
            T::Names(_) | T::Positions | T::LineHeads => {
                V::Names(self.each(value, |reader, one| reader.name_or_number(one, expected))?)
            }
            T::Choice(choices) => V::Choice(self.choice(value, choices, expected)?),
            T::Reading => V::Reading(Box::new(self.reading(value, vocabulary::READING_DIMENSIONS, key)?)),
            T::Readings => {
                V::Readings(self.each(value, |reader, one| reader.reading(one, vocabulary::READING_DIMENSIONS, key))?)
            }
            T::ReadingOfDay => self.reading_of_day(value, expected, key)?,
            T::UnbalanceVector => V::Reading(Box::new(self.reading(value, &[Dimension::UNBALANCE], key)?)),
            T::UnbalanceOrPercentage => {
                V::Reading(Box::new(self.reading(value, &[Dimension::UNBALANCE, Dimension::NONE], key)?))
            }
            T::Clock => self.clock(value, expected)?,
            T::ClockOrAngle => match value.shape {
                Shape::Clock { hour, minute } => V::Clock { hour, minute },
                _ => V::Quantity(self.quantity(value, &[Dimension::ANGLE], key)?),
            },
            T::Date => self.date(value, expected)?,
            T::Weighing => self.weighing(value, key)?,
            T::Places => self.places(value)?,
            T::Setting => V::Setting(self.setting(value)?),
            T::DialRange => self.dial_range(value, key)?,
            T::DialStep => self.dial_step(value, key)?,
        })
    }

    fn report<T>(&mut self, span: Span, kind: P) -> Option<T> {
        self.problems.push(FactProblem { span, kind });
        None
    }

    /// What could not even be read has been reported for that.
    fn wrong_form<T>(&mut self, value: &Value, expected: ValueType) -> Option<T> {
        let broken = |value: &Value| matches!(value.shape, Shape::Broken | Shape::Nothing);
        if broken(value) || matches!(&value.shape, Shape::List(values) if values.iter().any(broken)) {
            return None;
        }
        self.report(value.span, P::WrongForm { expected, found: form_of(&value.shape) })
    }

    fn each<T>(&mut self, value: &Value, mut read: impl FnMut(&mut Self, &Value) -> Option<T>) -> Option<Vec<T>> {
        let Shape::List(values) = &value.shape else { return Some(vec![read(self, value)?]) };
        self.neighbour = values.iter().find_map(|one| match &one.shape {
            Shape::Amount(amount) => amount::last_unit(&amount.expr),
            _ => None,
        });
        let read: Vec<Option<T>> = values.iter().map(|one| read(self, one)).collect();
        self.neighbour = None;
        read.into_iter().collect()
    }

    fn counted(&mut self, value: &Value, expected: Option<u8>, found: usize) -> Option<()> {
        match expected {
            Some(count) if usize::from(count) != found => {
                self.report(value.span, P::WrongCount { expected: count, found })
            }
            _ => Some(()),
        }
    }
}

/// Angles and axial places beside another amount may have either sign.
const ANY_SIGN: KeySpec = KeySpec::NUMBER_OF_ANY_SIGN;

fn flatten<T>(read: Option<Option<T>>) -> Option<Option<T>> {
    match read {
        None => Some(None),
        Some(value) => value.map(Some),
    }
}

fn form_of(shape: &Shape) -> Form {
    match shape {
        Shape::Nothing => Form::Nothing,
        Shape::Unknown => Form::Unknown,
        Shape::Quoted(_) => Form::Quoted,
        Shape::Words => Form::Words,
        Shape::Grade { .. } => Form::Grade,
        Shape::Amount(amount) if amount::last_unit(&amount.expr).is_none() => Form::PlainNumber,
        Shape::Amount(_) => Form::OneAmount,
        Shape::Range { .. } => Form::Range,
        Shape::Reading(_) => Form::Reading,
        Shape::Weighing(_) => Form::AmountAtPlace,
        Shape::Places { .. } => Form::Places,
        Shape::Clock { .. } => Form::Clock,
        Shape::Date { .. } => Form::Date,
        Shape::List(_) => Form::List,
        Shape::Broken => Form::Broken,
    }
}
