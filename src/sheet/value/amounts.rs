//! Quantities, ranges of them, plain numbers and units.

use super::{Reader, flatten};
use crate::sheet::amount::{self, Stated};
use crate::sheet::block::{FieldValue, StatedRange};
use crate::sheet::problem::FactProblemKind as P;
use crate::syntax::{Amount, Expr, Number, Operator, Shape, Value};
use crate::text::Span;
use crate::units::{Dimension, Unit};
use crate::vocabulary::{self, KeySpec, Sign, Standing, ValueType};

impl Reader<'_> {
    pub(super) fn quantity(
        &mut self,
        value: &Value,
        dimensions: &'static [Dimension],
        key: &KeySpec,
    ) -> Option<Stated> {
        let Shape::Amount(amount) = &value.shape else {
            return self.wrong_form(value, ValueType::Quantity(dimensions));
        };
        self.amount(amount, dimensions, key)
    }

    pub(super) fn amount(
        &mut self,
        amount: &Amount,
        dimensions: &'static [Dimension],
        key: &KeySpec,
    ) -> Option<Stated> {
        let before = self.problems.len();
        let Some(stated) = amount::evaluate(self.text, amount, self.problems) else {
            self.name_expected(before, dimensions);
            return None;
        };
        if let (Some(limits), Standing::Demand) = (&amount.limits, key.standing) {
            return self.report(limits.span, P::LimitsNotWanted);
        }
        self.dimensioned(stated, amount.expr.span(), dimensions, self.neighbour)?;
        self.signed(stated, amount.expr.span(), key)
    }

    /// A problem found in the arithmetic does not know what the key expects; the sheet does.
    pub(super) fn name_expected(&mut self, from: usize, dimensions: &'static [Dimension]) {
        for problem in &mut self.problems[from..] {
            if let P::WrongDimension { expected, .. } | P::MissingUnit { expected, .. } = &mut problem.kind {
                *expected = dimensions;
            }
        }
    }

    pub(super) fn dimensioned(
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

    pub(super) fn signed(&mut self, stated: Stated, span: Span, key: &KeySpec) -> Option<Stated> {
        let needs = match key.sign {
            Sign::Positive if stated.base <= 0.0 => "more than zero",
            Sign::NotNegative if stated.base < 0.0 => "zero or more",
            _ => return Some(stated),
        };
        self.report(span, P::OutOfRange { needs })
    }

    pub(super) fn percentage(&mut self, value: &Value, key: &KeySpec) -> Option<Stated> {
        let Shape::Amount(amount) = &value.shape else { return self.wrong_form(value, ValueType::Percentage) };
        self.amount(amount, &[Dimension::NONE], key)
    }

    pub(super) fn percentage_or_amount(&mut self, value: &Value, key: &KeySpec) -> Option<Stated> {
        let Shape::Amount(amount) = &value.shape else { return self.wrong_form(value, ValueType::PercentageOrAmount) };
        self.amount(amount, vocabulary::PERCENTAGE_OR_READING, key)
    }

    pub(super) fn end(
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
        let span = expr.span();
        self.dimensioned(stated, span, dimensions, other.and_then(amount::last_unit))?;
        self.signed_end(stated, span, key)
    }

    /// The low end of a range may be zero.
    pub(super) fn signed_end(&mut self, stated: Stated, span: Span, key: &KeySpec) -> Option<Stated> {
        if key.sign != Sign::Any && stated.base < 0.0 {
            return self.report(span, P::OutOfRange { needs: "zero or more" });
        }
        Some(stated)
    }

    pub(super) fn range(
        &mut self,
        value: &Value,
        dimensions: &'static [Dimension],
        key: &KeySpec,
    ) -> Option<StatedRange> {
        let Shape::Range { from, to } = &value.shape else {
            return self.wrong_form(value, ValueType::Range(dimensions));
        };
        let low = from.as_ref().map(|expr| self.end(expr, to.as_ref(), dimensions, key));
        let high = to.as_ref().map(|expr| self.end(expr, from.as_ref(), dimensions, key));
        let range = StatedRange { low: flatten(low)?, high: flatten(high)? };
        let ends = [from, to].map(|end| end.as_ref().map_or(value.span, Expr::span));
        self.ordered(value.span, ends, range)
    }

    /// Angles run with increasing angle and may pass zero; everything else runs from low to high.
    pub(super) fn ordered(&mut self, span: Span, ends: [Span; 2], range: StatedRange) -> Option<StatedRange> {
        let (Some(low), Some(high)) = (range.low, range.high) else { return Some(range) };
        if low.dimension() != high.dimension() {
            let kind = P::OperandsDiffer { left: (ends[0], low.dimension()), right: (ends[1], high.dimension()) };
            return self.report(span, kind);
        }
        if low.dimension() != Dimension::ANGLE && low.base > high.base {
            return self.report(span, P::RangeReversed);
        }
        Some(range)
    }

    pub(super) fn range_or_point(
        &mut self,
        value: &Value,
        dimensions: &'static [Dimension],
        key: &KeySpec,
    ) -> Option<StatedRange> {
        if let Shape::Amount(amount) = &value.shape {
            if is_dash(self.text, &amount.expr) {
                return self.wrong_form(value, ValueType::Range(dimensions));
            }
            let point = self.quantity(value, dimensions, key)?;
            return Some(StatedRange { low: Some(point), high: Some(point) });
        }
        self.range(value, dimensions, key)
    }

    pub(super) fn plain(&mut self, amount: &Amount) -> Option<f64> {
        let stated = amount::evaluate(self.text, amount, self.problems)?;
        match amount::last_unit(&amount.expr) {
            Some(unit) if !stated.plain => self.report(unit, P::UnitNotWanted { unit }),
            _ => Some(stated.base),
        }
    }

    pub(super) fn number(&mut self, value: &Value, key: &KeySpec) -> Option<f64> {
        let Shape::Amount(amount) = &value.shape else { return self.wrong_form(value, ValueType::Number) };
        let number = self.plain(amount)?;
        if key.sign == Sign::Positive && number <= 0.0 {
            return self.report(value.span, P::OutOfRange { needs: "more than zero" });
        }
        Some(number)
    }

    pub(super) fn count(&mut self, value: &Value, key: &KeySpec) -> Option<f64> {
        let Shape::Amount(_) = &value.shape else { return self.wrong_form(value, ValueType::Count) };
        let number = self.number(value, key)?;
        if number.fract() != 0.0 {
            return self.report(value.span, P::NotWhole);
        }
        Some(number)
    }

    pub(super) fn plain_end(&mut self, expr: Option<&Expr>, open: f64) -> Option<f64> {
        let Some(expr) = expr else { return Some(open) };
        let stated = amount::evaluate_expr(self.text, expr, self.problems)?;
        match amount::last_unit(expr) {
            Some(unit) if !stated.plain => self.report(unit, P::UnitNotWanted { unit }),
            _ => Some(stated.base),
        }
    }

    pub(super) fn number_range(&mut self, value: &Value, key: &KeySpec) -> Option<FieldValue> {
        let Shape::Range { from, to } = &value.shape else { return self.wrong_form(value, ValueType::NumberRange) };
        let low = self.plain_end(from.as_ref(), if key.sign == Sign::Any { f64::NEG_INFINITY } else { 0.0 })?;
        let high = self.plain_end(to.as_ref(), f64::INFINITY)?;
        if low > high {
            return self.report(value.span, P::RangeReversed);
        }
        Some(FieldValue::NumberRange(low, high))
    }

    /// A dial is graduated in plain numbers, or in a unit.
    pub(super) fn dial_range(&mut self, value: &Value, key: &KeySpec) -> Option<FieldValue> {
        let Shape::Range { from, to } = &value.shape else { return self.wrong_form(value, ValueType::DialRange) };
        let unit = [from, to].into_iter().flatten().find_map(amount::last_unit);
        let Some(unit) = unit else { return self.number_range(value, key) };
        if let Err(error) = Unit::parse(unit.of(self.text)) {
            return self.report(unit, P::UnknownUnit { error });
        }
        Some(FieldValue::Range(Box::new(self.range(value, vocabulary::DIAL_DIMENSIONS, key)?)))
    }

    /// A dial moves by a plain number, or by a quantity.
    pub(super) fn dial_step(&mut self, value: &Value, key: &KeySpec) -> Option<FieldValue> {
        let Shape::Amount(amount) = &value.shape else { return self.wrong_form(value, ValueType::DialStep) };
        Some(match amount::last_unit(&amount.expr) {
            None => FieldValue::Number(self.number(value, key)?),
            Some(_) => FieldValue::Quantity(self.amount(amount, vocabulary::DIAL_DIMENSIONS, key)?),
        })
    }

    pub(super) fn unit_name(&mut self, value: &Value, dimensions: &'static [Dimension]) -> Option<Unit> {
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

    pub(super) fn one_a_dimension(&mut self, units: Vec<(Unit, Span)>) -> Option<Vec<Unit>> {
        for (n, (unit, span)) in units.iter().enumerate() {
            let same = |(other, _): &&(Unit, Span)| other.dimension() == unit.dimension();
            if let Some((_, first)) = units[..n].iter().find(same) {
                return self.report(*span, P::UnitsOfOneDimension { first: *first, dimension: unit.dimension() });
            }
        }
        Some(units.into_iter().map(|(unit, _)| unit).collect())
    }

    pub(super) fn grade(&mut self, value: &Value) -> Option<f64> {
        let Shape::Grade { number, .. } = &value.shape else { return self.wrong_form(value, ValueType::Grade) };
        let Number { value: number, span, .. } = *number;
        if number <= 0.0 {
            return self.report(span, P::OutOfRange { needs: "more than zero" });
        }
        Some(number)
    }
}

/// `400 - 6000 rpm`, `400 rpm - 6000 rpm`: a range with a dash for its `to`. A difference leaves more than nothing.
fn is_dash(text: &str, expr: &Expr) -> bool {
    let Expr::Binary { operator: Operator::Subtract, left, right, .. } = expr else { return false };
    let (Expr::Literal(left), Expr::Literal(right)) = (&**left, &**right) else { return false };
    let unit = |span: Span| span.of(text);
    match (left.unit.map(unit), right.unit.map(unit)) {
        (None, Some(_)) => true,
        (left_unit, right_unit) => {
            left_unit.is_some() && left_unit == right_unit && left.number.value < right.number.value
        }
    }
}
