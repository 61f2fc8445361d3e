//! One value of the tree, read as its key demands.

use super::amount::{self, Stated};
use super::block::{FieldValue, NameAt, SettingValue, StatedRange, StatedReading};
use super::problem::{FactProblem, FactProblemKind as P};
use super::schema::{KeySpec, NameOf, Sign, Standing, ValueType};
use super::words::nearest;
use crate::syntax::{Amount, Expr, Name, Number, Shape, Value};
use crate::text::Span;
use crate::units::{Dimension, Unit};

/// Reads values of one file; what is wrong is reported once, and leaves a hole.
pub(super) struct Reader<'a> {
    pub text: &'a str,
    pub problems: &'a mut Vec<FactProblem>,
}

impl Reader<'_> {
    /// The value of a fact; a hole when it cannot be read as `expected`.
    pub fn read(&mut self, value: &Value, expected: ValueType, key: &KeySpec) -> FieldValue {
        match value.shape {
            Shape::Nothing | Shape::Broken => FieldValue::Hole,
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
            T::Range(dimensions) => V::Range(self.range(value, dimensions, key)?),
            T::QuantityOrRange(dimensions) => V::Range(self.range_or_point(value, dimensions, key)?),
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
            T::Grade => V::Grade(self.grade(value)?),
            T::Text => V::Text(self.text(value, expected)?),
            T::Reference(_) | T::Name(_) => V::Name(self.name(value, expected)?),
            T::Names(_) | T::Positions | T::LineHeads => {
                V::Names(self.each(value, |reader, one| reader.name_or_number(one, expected))?)
            }
            T::Choice(choices) => V::Choice(self.choice(value, choices, expected)?),
            T::Reading => V::Reading(self.reading(value, super::schema::READING_DIMENSIONS, key)?),
            T::Readings => V::Readings(
                self.each(value, |reader, one| reader.reading(one, super::schema::READING_DIMENSIONS, key))?,
            ),
            T::UnbalanceVector => V::Reading(self.reading(value, &[Dimension::UNBALANCE], key)?),
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
        })
    }

    fn report<T>(&mut self, span: Span, kind: P) -> Option<T> {
        self.problems.push(FactProblem { span, kind });
        None
    }

    /// What the parser could not read has been reported by it.
    fn wrong_form<T>(&mut self, value: &Value, expected: ValueType) -> Option<T> {
        if matches!(value.shape, Shape::Broken | Shape::Nothing) {
            return None;
        }
        self.report(value.span, P::WrongForm { expected, found: form_of(&value.shape) })
    }

    fn each<T>(&mut self, value: &Value, mut read: impl FnMut(&mut Self, &Value) -> Option<T>) -> Option<Vec<T>> {
        let Shape::List(values) = &value.shape else { return Some(vec![read(self, value)?]) };
        let read: Vec<Option<T>> = values.iter().map(|one| read(self, one)).collect();
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

    fn quantity(&mut self, value: &Value, dimensions: &'static [Dimension], key: &KeySpec) -> Option<Stated> {
        let Shape::Amount(amount) = &value.shape else {
            return self.wrong_form(value, ValueType::Quantity(dimensions));
        };
        self.amount(amount, dimensions, key)
    }

    fn amount(&mut self, amount: &Amount, dimensions: &'static [Dimension], key: &KeySpec) -> Option<Stated> {
        let before = self.problems.len();
        let Some(stated) = amount::evaluate(self.text, amount, self.problems) else {
            self.name_expected(before, dimensions);
            return None;
        };
        if let (Some(limits), Standing::Demand) = (&amount.limits, key.standing) {
            return self.report(limits.span, P::LimitsNotWanted);
        }
        self.dimensioned(stated, amount.span, dimensions, amount::last_unit(&amount.expr))?;
        self.signed(stated, amount.span, key)
    }

    /// A problem found in the arithmetic does not know what the key expects; the sheet does.
    fn name_expected(&mut self, from: usize, dimensions: &'static [Dimension]) {
        for problem in &mut self.problems[from..] {
            if let P::WrongDimension { expected, .. } | P::MissingUnit { expected, .. } = &mut problem.kind {
                *expected = dimensions;
            }
        }
    }

    fn dimensioned(
        &mut self,
        stated: Stated,
        span: Span,
        dimensions: &'static [Dimension],
        from: Option<Span>,
    ) -> Option<()> {
        if stated.plain {
            return self.report(span, P::MissingUnit { expected: dimensions, from });
        }
        if dimensions.contains(&stated.dimension()) {
            return Some(());
        }
        self.report(span, P::WrongDimension { expected: dimensions, found: stated.dimension() })
    }

    fn signed(&mut self, stated: Stated, span: Span, key: &KeySpec) -> Option<Stated> {
        let needs = match key.sign {
            Sign::Positive if stated.base <= 0.0 => "more than zero",
            Sign::NotNegative if stated.base < 0.0 => "zero or more",
            _ => return Some(stated),
        };
        self.report(span, P::OutOfRange { needs })
    }

    fn percentage(&mut self, value: &Value, key: &KeySpec) -> Option<Stated> {
        let Shape::Amount(amount) = &value.shape else { return self.wrong_form(value, ValueType::Percentage) };
        self.amount(amount, &[Dimension::NONE], key)
    }

    fn percentage_or_amount(&mut self, value: &Value, key: &KeySpec) -> Option<Stated> {
        let Shape::Amount(amount) = &value.shape else { return self.wrong_form(value, ValueType::PercentageOrAmount) };
        self.amount(amount, super::schema::PERCENTAGE_OR_READING, key)
    }

    fn end(
        &mut self,
        expr: &Expr,
        other: Option<&Expr>,
        dimensions: &'static [Dimension],
        key: &KeySpec,
    ) -> Option<Stated> {
        let before = self.problems.len();
        let Some(stated) = amount::evaluate_expr(self.text, expr, self.problems) else {
            self.name_expected(before, dimensions);
            return None;
        };
        let span = expr_span(expr);
        self.dimensioned(stated, span, dimensions, other.and_then(amount::last_unit))?;
        self.signed_end(stated, span, key)
    }

    /// The low end of a range may be zero.
    fn signed_end(&mut self, stated: Stated, span: Span, key: &KeySpec) -> Option<Stated> {
        if key.sign != Sign::Any && stated.base < 0.0 {
            return self.report(span, P::OutOfRange { needs: "zero or more" });
        }
        Some(stated)
    }

    fn range(&mut self, value: &Value, dimensions: &'static [Dimension], key: &KeySpec) -> Option<StatedRange> {
        let Shape::Range { from, to } = &value.shape else {
            return self.wrong_form(value, ValueType::Range(dimensions));
        };
        let low = from.as_ref().map(|expr| self.end(expr, to.as_ref(), dimensions, key));
        let high = to.as_ref().map(|expr| self.end(expr, from.as_ref(), dimensions, key));
        let range = StatedRange { low: flatten(low)?, high: flatten(high)? };
        self.ordered(value.span, range)
    }

    /// Angles run with increasing angle and may pass zero; everything else runs from low to high.
    fn ordered(&mut self, span: Span, range: StatedRange) -> Option<StatedRange> {
        let (Some(low), Some(high)) = (range.low, range.high) else { return Some(range) };
        if low.dimension() != high.dimension() {
            let kind = P::OperandsDiffer { left: (span, low.dimension()), right: (span, high.dimension()) };
            return self.report(span, kind);
        }
        if low.dimension() != Dimension::ANGLE && low.base > high.base {
            return self.report(span, P::RangeReversed);
        }
        Some(range)
    }

    fn range_or_point(
        &mut self,
        value: &Value,
        dimensions: &'static [Dimension],
        key: &KeySpec,
    ) -> Option<StatedRange> {
        if let Shape::Amount(_) = value.shape {
            let point = self.quantity(value, dimensions, key)?;
            return Some(StatedRange { low: Some(point), high: Some(point) });
        }
        self.range(value, dimensions, key)
    }

    fn plain(&mut self, amount: &Amount) -> Option<f64> {
        let stated = amount::evaluate(self.text, amount, self.problems)?;
        match amount::last_unit(&amount.expr) {
            Some(unit) if !stated.plain => self.report(unit, P::UnitNotWanted { unit }),
            _ => Some(stated.base),
        }
    }

    fn number(&mut self, value: &Value, key: &KeySpec) -> Option<f64> {
        let Shape::Amount(amount) = &value.shape else { return self.wrong_form(value, ValueType::Number) };
        let number = self.plain(amount)?;
        if key.sign == Sign::Positive && number <= 0.0 {
            return self.report(value.span, P::OutOfRange { needs: "more than zero" });
        }
        Some(number)
    }

    fn count(&mut self, value: &Value, key: &KeySpec) -> Option<f64> {
        let Shape::Amount(_) = &value.shape else { return self.wrong_form(value, ValueType::Count) };
        let number = self.number(value, key)?;
        if number.fract() != 0.0 {
            return self.report(value.span, P::NotWhole);
        }
        Some(number)
    }

    fn plain_end(&mut self, expr: Option<&Expr>, open: f64) -> Option<f64> {
        let Some(expr) = expr else { return Some(open) };
        let stated = amount::evaluate_expr(self.text, expr, self.problems)?;
        match amount::last_unit(expr) {
            Some(unit) if !stated.plain => self.report(unit, P::UnitNotWanted { unit }),
            _ => Some(stated.base),
        }
    }

    fn number_range(&mut self, value: &Value, key: &KeySpec) -> Option<FieldValue> {
        let Shape::Range { from, to } = &value.shape else { return self.wrong_form(value, ValueType::NumberRange) };
        let low = self.plain_end(from.as_ref(), if key.sign == Sign::Any { f64::NEG_INFINITY } else { 0.0 })?;
        let high = self.plain_end(to.as_ref(), f64::INFINITY)?;
        if low > high {
            return self.report(value.span, P::RangeReversed);
        }
        Some(FieldValue::NumberRange(low, high))
    }

    /// A dial is graduated in plain numbers, or in a unit.
    fn dial_range(&mut self, value: &Value, key: &KeySpec) -> Option<FieldValue> {
        let Shape::Range { from, to } = &value.shape else { return self.wrong_form(value, ValueType::DialRange) };
        let unit = [from, to].into_iter().flatten().find_map(amount::last_unit);
        if unit.is_none() {
            return self.number_range(value, key);
        }
        Some(FieldValue::Range(self.range(value, super::schema::DIAL_DIMENSIONS, key)?))
    }

    fn unit_name(&mut self, value: &Value, dimensions: &'static [Dimension]) -> Option<Unit> {
        if value.shape != Shape::Words {
            return self.wrong_form(value, ValueType::UnitName(dimensions));
        }
        match Unit::parse(value.span.of(self.text)) {
            Err(error) => self.report(value.span, P::UnknownUnit { error }),
            Ok(unit) if dimensions.contains(&unit.dimension()) => Some(unit),
            Ok(unit) => {
                let found = unit.dimension();
                self.report(value.span, P::UnitOfOtherDimension { expected: dimensions, found })
            }
        }
    }

    fn grade(&mut self, value: &Value) -> Option<f64> {
        let Shape::Grade { number, .. } = &value.shape else { return self.wrong_form(value, ValueType::Grade) };
        let Number { value: number, span, .. } = *number;
        if number <= 0.0 {
            return self.report(span, P::OutOfRange { needs: "more than zero" });
        }
        Some(number)
    }

    fn text(&mut self, value: &Value, expected: ValueType) -> Option<Box<str>> {
        match &value.shape {
            Shape::Quoted(name) => Some(name.text.clone()),
            Shape::List(_) | Shape::Range { .. } | Shape::Reading { .. } | Shape::Weighing { .. } => {
                self.wrong_form(value, expected)
            }
            _ => self.report(value.span, P::NeedsQuotes { whole: value.span }),
        }
    }

    fn name(&mut self, value: &Value, expected: ValueType) -> Option<NameAt> {
        match &value.shape {
            Shape::Quoted(name) => Some(name_at(name)),
            Shape::Words => self.one_word(value.span),
            _ => self.wrong_form(value, expected),
        }
    }

    fn one_word(&mut self, span: Span) -> Option<NameAt> {
        let text = span.of(self.text);
        if text.contains(|c: char| !(c.is_alphanumeric() || c == '-' || c == '_')) {
            return self.report(span, P::NameNeedsQuotes);
        }
        Some(NameAt { text: text.into(), span, quoted: false })
    }

    /// Positions of a switch and numbered places may be plain numbers too; `half open` needs no quotes in a list.
    fn name_or_number(&mut self, value: &Value, expected: ValueType) -> Option<NameAt> {
        let listed = matches!(expected, ValueType::Positions | ValueType::Names(NameOf::Place));
        match &value.shape {
            Shape::Amount(_) | Shape::Words if listed => {
                Some(NameAt { text: value.span.of(self.text).into(), span: value.span, quoted: false })
            }
            _ => self.name(value, expected),
        }
    }

    fn choice(&mut self, value: &Value, choices: &'static [&'static str], expected: ValueType) -> Option<&'static str> {
        let written = match &value.shape {
            Shape::Words => value.span.of(self.text),
            Shape::Quoted(name) => &name.text,
            _ => return self.wrong_form(value, expected),
        };
        let folded = written.split_whitespace();
        if let Some(choice) = choices.iter().find(|choice| choice.split(' ').eq(folded.clone())) {
            if !matches!(value.shape, Shape::Quoted(_)) {
                return Some(choice);
            }
        }
        let suggestion = nearest(written, choices.iter().copied());
        self.report(value.span, P::UnknownChoice { choices, suggestion })
    }

    fn reading(&mut self, value: &Value, dimensions: &'static [Dimension], key: &KeySpec) -> Option<StatedReading> {
        match &value.shape {
            Shape::Amount(amount) => {
                Some(StatedReading { amount: self.amount(amount, dimensions, key)?, scale: None, angle: None })
            }
            Shape::Reading { amount, scale, angle } => {
                let amount = self.amount(amount, dimensions, key);
                let angle = angle.as_ref().map(|angle| self.amount(angle, &[Dimension::ANGLE], &ANY_SIGN));
                Some(StatedReading { amount: amount?, scale: scale.as_ref().map(name_at), angle: flatten(angle)? })
            }
            _ => self.wrong_form(value, ValueType::Reading),
        }
    }

    fn clock(&mut self, value: &Value, expected: ValueType) -> Option<FieldValue> {
        let Shape::Clock { hour, minute } = value.shape else { return self.wrong_form(value, expected) };
        Some(FieldValue::Clock { hour, minute })
    }

    fn date(&mut self, value: &Value, expected: ValueType) -> Option<FieldValue> {
        let Shape::Date { year, month, day } = value.shape else { return self.wrong_form(value, expected) };
        if jiff::civil::Date::new(year, month, day).is_err() {
            return self.report(value.span, P::NoSuchDay);
        }
        Some(FieldValue::Date { year, month, day })
    }

    fn weighing(&mut self, value: &Value, key: &KeySpec) -> Option<FieldValue> {
        let pairs = self.each(value, |reader, one| {
            let Shape::Weighing { amount, at } = &one.shape else {
                return reader.wrong_form(one, ValueType::Weighing);
            };
            let mass = reader.amount(amount, &[Dimension::MASS], key);
            let at = reader.amount(at, &[Dimension::LENGTH], &ANY_SIGN);
            Some((mass?, at?))
        })?;
        match pairs[..] {
            [first, second] => Some(FieldValue::Weighing([first, second])),
            _ => self.report(value.span, P::WrongCount { expected: 2, found: pairs.len() }),
        }
    }

    fn places(&mut self, value: &Value) -> Option<FieldValue> {
        let Shape::Places { count, from } = &value.shape else { return self.wrong_form(value, ValueType::Places) };
        if count.value < 1.0 || count.value.fract() != 0.0 || count.value > 10_000.0 {
            return self.report(count.span, P::NotWhole);
        }
        let from = self.amount(from, &[Dimension::ANGLE], &ANY_SIGN)?;
        Some(FieldValue::Places { count: count.value as u32, from })
    }

    fn setting(&mut self, value: &Value) -> Option<SettingValue> {
        match &value.shape {
            Shape::Quoted(name) => Some(SettingValue::Position(name.text.clone())),
            Shape::Words if value.span.of(self.text) == "as found" => Some(SettingValue::AsFound),
            Shape::Words => Some(SettingValue::Position(value.span.of(self.text).into())),
            Shape::Amount(amount) => {
                let stated = amount::evaluate(self.text, amount, self.problems)?;
                Some(if stated.plain { SettingValue::Number(stated.base) } else { SettingValue::Quantity(stated) })
            }
            _ => self.wrong_form(value, ValueType::Setting),
        }
    }
}

/// Angles and axial places beside another amount may have either sign.
const ANY_SIGN: KeySpec = super::schema::key("", ValueType::Number, "").any_sign();

fn name_at(name: &Name) -> NameAt {
    NameAt { text: name.text.clone(), span: name.span, quoted: name.quoted }
}

fn flatten<T>(read: Option<Option<T>>) -> Option<Option<T>> {
    match read {
        None => Some(None),
        Some(value) => value.map(Some),
    }
}

fn expr_span(expr: &Expr) -> Span {
    match expr {
        Expr::Literal(literal) => literal.span,
        Expr::Negative { span, .. } | Expr::Group { span, .. } => *span,
        Expr::Binary { left, right, .. } => expr_span(left).to(expr_span(right)),
    }
}

/// What a shape is called in a message.
fn form_of(shape: &Shape) -> &'static str {
    match shape {
        Shape::Nothing => "nothing",
        Shape::Quoted(_) => "a text in quotes",
        Shape::Words => "words",
        Shape::Grade { .. } => "a balance quality grade",
        Shape::Amount(_) => "an amount",
        Shape::Range { .. } => "a range",
        Shape::Reading { .. } => "a reading",
        Shape::Weighing { .. } => "a mass at a place",
        Shape::Places { .. } => "a number of places",
        Shape::Clock { .. } => "a place of the clock",
        Shape::Date { .. } => "a date",
        Shape::List(_) => "a list",
        Shape::Broken => "something unreadable",
    }
}
