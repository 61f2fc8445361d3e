//! Numbers with units, evaluated: dimension-checked at every operator, with what the digits say of their precision.

use super::problem::{FactProblem, FactProblemKind as P};
use crate::syntax::{Amount, Expr, Literal, Operator};
use crate::text::Span;
use crate::units::{self, Dimension, Quantity, Unit};

/// A quantity as stated in a sheet. All amounts are in base units of its dimension.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Stated {
    pub base: f64,
    /// The unit it is written in, or that of its first operand of the same dimension.
    pub unit: Unit,
    /// Half a step of the last digit as written; combined by root of squares in arithmetic.
    pub half_step: f64,
    pub limits: Option<Limits>,
    /// A plain number: no unit stands anywhere in it.
    pub plain: bool,
}

/// What comes after `±`.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Limits {
    /// The true value lies within ± this of the stated one.
    Bounds(f64),
    /// An expanded uncertainty with k = 2.
    Expanded(f64),
}

impl Stated {
    pub fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }

    /// As the formulas take it, by whoever knows its dimension.
    pub fn typed<T: units::Amount>(&self) -> T {
        T::from_raw(self.base)
    }

    pub fn quantity(&self) -> Quantity {
        Quantity::new(self.unit.from_base(self.base), self.unit)
    }

    /// The standard uncertainty that the written limits state; GUM 4.3.7 (from memory): a/√3 for bounds ± a.
    pub fn stated_uncertainty(&self) -> Option<f64> {
        self.limits.map(|limits| match limits {
            Limits::Bounds(half_width) => half_width / 3f64.sqrt(),
            Limits::Expanded(expanded) => expanded / 2.0,
        })
    }
}

/// An operand on its way through the arithmetic.
struct Operand {
    base: f64,
    dimension: Dimension,
    /// Variance-like sum of squared half steps.
    squares: f64,
    unit: Option<Unit>,
    has_unit: bool,
    /// The last unit written in it.
    unit_span: Option<Span>,
    span: Span,
}

/// Evaluates an amount; `Err` has been added to `problems`.
pub(super) fn evaluate(text: &str, amount: &Amount, problems: &mut Vec<FactProblem>) -> Option<Stated> {
    let result = operand(text, &amount.expr).and_then(|value| finish(text, amount, value));
    result.map_err(|problem| problems.push(problem)).ok()
}

/// Evaluates an expression that can have no limits.
pub(super) fn evaluate_expr(text: &str, expr: &Expr, problems: &mut Vec<FactProblem>) -> Option<Stated> {
    operand(text, expr).and_then(stated).map_err(|problem| problems.push(problem)).ok()
}

fn finish(text: &str, amount: &Amount, value: Operand) -> Result<Stated, FactProblem> {
    let mut result = stated(value)?;
    let Some(limits) = &amount.limits else { return Ok(result) };
    let half_width = match limits.unit {
        None if result.plain => limits.number.value,
        None => {
            let from = last_unit(&amount.expr);
            let at = limits.number.span;
            return Err(FactProblem { span: at, kind: P::MissingUnit { expected: &[], from } });
        }
        Some(span) => {
            let unit = unit_at(text, span)?;
            let percent = unit == Unit::PERCENT && result.unit != Unit::PERCENT;
            if result.plain && !percent {
                let kind = P::MissingUnit { expected: &[], from: Some(span) };
                return Err(FactProblem { span: amount.expr.span(), kind });
            }
            if percent {
                limits.number.value / 100.0 * result.base.abs()
            } else if unit.dimension() == result.dimension() {
                limits.number.value * unit.factor()
            } else {
                let left = (amount.expr.span(), result.dimension());
                return Err(FactProblem { span, kind: P::OperandsDiffer { left, right: (span, unit.dimension()) } });
            }
        }
    };
    result.limits = Some(if limits.expanded { Limits::Expanded(half_width) } else { Limits::Bounds(half_width) });
    Ok(result)
}

fn stated(value: Operand) -> Result<Stated, FactProblem> {
    if !value.base.is_finite() {
        return Err(FactProblem { span: value.span, kind: P::NotFinite });
    }
    let unit = value.unit.filter(|unit| unit.dimension() == value.dimension);
    // A plain number is not a percentage, although both have no dimension.
    let usual = || usual(value.dimension).filter(|_| value.has_unit);
    let unit = unit.or_else(usual).unwrap_or(Unit::ONE);
    if unit.dimension() != value.dimension {
        return Err(FactProblem {
            span: value.span,
            kind: P::WrongDimension { expected: &[], found: value.dimension },
        });
    }
    Ok(Stated { base: value.base, unit, half_step: value.squares.sqrt(), limits: None, plain: !value.has_unit })
}

fn usual(dimension: Dimension) -> Option<Unit> {
    dimension.usual_units().first().and_then(|unit| Unit::parse(unit).ok())
}

fn unit_at(text: &str, span: Span) -> Result<Unit, FactProblem> {
    Unit::parse(span.of(text)).map_err(|error| FactProblem { span, kind: P::UnknownUnit { error } })
}

fn operand(text: &str, expr: &Expr) -> Result<Operand, FactProblem> {
    match expr {
        Expr::Literal(literal) => self::literal(text, literal),
        Expr::Negative { span, inner } => {
            let value = operand(text, inner)?;
            Ok(Operand { base: -value.base, span: *span, ..value })
        }
        Expr::Group { span, inner } => Ok(Operand { span: *span, ..operand(text, inner)? }),
        Expr::Binary { operator, operator_span, left, right } => {
            combine(*operator, *operator_span, operand(text, left)?, operand(text, right)?)
        }
    }
}

fn literal(text: &str, literal: &Literal) -> Result<Operand, FactProblem> {
    let number = literal.number;
    let Some(at) = literal.unit else {
        return Ok(Operand {
            base: number.value,
            dimension: Dimension::NONE,
            squares: 0.0,
            unit: None,
            has_unit: false,
            unit_span: None,
            span: literal.span,
        });
    };
    let unit = unit_at(text, at)?;
    let half_step = 0.5 * power_of_ten(number.last_digit) * unit.factor();
    Ok(Operand {
        base: unit.to_base(number.value),
        dimension: unit.dimension(),
        squares: half_step * half_step,
        unit: Some(unit),
        has_unit: true,
        unit_span: Some(at),
        span: literal.span,
    })
}

fn power_of_ten(exponent: i16) -> f64 {
    const NEAR: [f64; 9] = [1e-4, 1e-3, 1e-2, 1e-1, 1e0, 1e1, 1e2, 1e3, 1e4];
    match usize::try_from(exponent + 4) {
        Ok(index) if index < NEAR.len() => NEAR[index],
        _ => 10f64.powi(i32::from(exponent)),
    }
}

fn combine(operator: Operator, at: Span, left: Operand, right: Operand) -> Result<Operand, FactProblem> {
    let span = left.span.to(right.span);
    let unit = left.unit.or(right.unit);
    let has_unit = left.has_unit || right.has_unit;
    let unit_span = right.unit_span.or(left.unit_span);
    let (base, dimension, squares) = match operator {
        Operator::Add | Operator::Subtract => {
            // A number without a unit beside one that has it: the unit was forgotten.
            if left.has_unit != right.has_unit {
                let bare = if left.has_unit { &right } else { &left };
                let kind = P::MissingUnit { expected: &[], from: unit_span };
                return Err(FactProblem { span: bare.span, kind });
            }
            if left.dimension != right.dimension {
                let kind =
                    P::OperandsDiffer { left: (left.span, left.dimension), right: (right.span, right.dimension) };
                return Err(FactProblem { span: at, kind });
            }
            let sign = if operator == Operator::Add { 1.0 } else { -1.0 };
            (left.base + sign * right.base, left.dimension, left.squares + right.squares)
        }
        Operator::Multiply => (
            left.base * right.base,
            left.dimension.times(right.dimension),
            left.squares * right.base.powi(2) + right.squares * left.base.powi(2),
        ),
        Operator::Divide => {
            if right.base == 0.0 {
                return Err(FactProblem { span: right.span, kind: P::DivisionByZero });
            }
            let ratio = left.base / right.base;
            let squares = (left.squares + right.squares * ratio.powi(2)) / right.base.powi(2);
            (ratio, left.dimension.per(right.dimension), squares)
        }
    };
    Ok(Operand { base, dimension, squares, unit, has_unit, unit_span, span })
}

/// The last unit written in an expression: what a number beside it most likely lacks.
pub(super) fn last_unit(expr: &Expr) -> Option<Span> {
    match expr {
        Expr::Literal(literal) => literal.unit,
        Expr::Negative { inner, .. } | Expr::Group { inner, .. } => last_unit(inner),
        Expr::Binary { left, right, .. } => last_unit(right).or_else(|| last_unit(left)),
    }
}
