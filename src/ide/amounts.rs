//! Numbers with units as they are in the tree.

use crate::sheet::{Limits, Stated};
use crate::syntax::{Amount, Expr, Literal, Shape, Value};
use crate::text::Span;
use crate::units::Unit;

/// More units than these are of no use to who reads the sheet.
const MOST_UNITS: usize = 4;

/// Every amount in a value, in the order in which they stand.
pub(super) fn of_value(value: &Value) -> Vec<Amount> {
    let bare = |expr: &Expr| Amount { span: expr.span(), expr: expr.clone(), limits: None };
    match &value.shape {
        Shape::Amount(amount) => vec![amount.clone()],
        Shape::Range { from, to } => [from, to].into_iter().flatten().map(bare).collect(),
        Shape::Reading(reading) => std::iter::once(&reading.amount).chain(&reading.angle).cloned().collect(),
        Shape::Weighing(weighing) => vec![weighing.amount.clone(), weighing.at.clone()],
        Shape::Places { from, .. } => vec![(**from).clone()],
        Shape::List(values) => values.iter().flat_map(of_value).collect(),
        _ => Vec::new(),
    }
}

/// A literal as the sheet would read it alone, with the limits of `amount` where it is all of that.
pub(super) fn stated(text: &str, literal: &Literal, unit: Unit, amount: Option<&Amount>) -> Stated {
    let number = literal.number;
    let negative = amount.is_some_and(|amount| matches!(amount.expr, Expr::Negative { .. }));
    let value = if negative { -number.value } else { number.value };
    let half_step = 0.5 * 10f64.powi(i32::from(number.last_digit)) * unit.factor();
    let limits = amount.and_then(|amount| amount.limits.as_deref()).and_then(|limits| {
        let own = limits.unit.and_then(|unit| Unit::parse(unit.of(text)).ok());
        let half_width = match own {
            Some(own) if own == Unit::PERCENT && unit != Unit::PERCENT => {
                limits.number.value / 100.0 * unit.to_base(value).abs()
            }
            Some(own) if own.dimension() == unit.dimension() => limits.number.value * own.factor(),
            _ => return None,
        };
        Some(if limits.expanded { Limits::Expanded(half_width) } else { Limits::Bounds(half_width) })
    });
    Stated { base: unit.to_base(value), unit, half_step, limits, plain: false }
}

/// The literal of an amount that is at an offset.
pub(super) fn literal_at(expr: &Expr, offset: u32) -> Option<&Literal> {
    let here = |span: Span| super::place::covers(span, offset);
    match expr {
        Expr::Literal(literal) => here(literal.span).then_some(literal),
        Expr::Negative { span, inner } if here(*span) => match &**inner {
            Expr::Literal(literal) => Some(literal),
            inner => literal_at(inner, offset),
        },
        Expr::Negative { inner, .. } | Expr::Group { inner, .. } => literal_at(inner, offset),
        Expr::Binary { left, right, .. } => literal_at(right, offset).or_else(|| literal_at(left, offset)),
    }
}

/// The other units that make a number of a readable size.
pub(super) fn other_units(base: f64, unit: Unit) -> Vec<Unit> {
    let mut units = vec![unit];
    for other in unit.dimension().usual_units().iter().filter_map(|other| Unit::parse(other).ok()) {
        let size = other.from_base(base).abs();
        let readable = base == 0.0 || (1e-3..1e6).contains(&size);
        let new = units.iter().all(|known| (known.factor() / other.factor() - 1.0).abs() > 1e-12);
        if readable && new && units.len() <= MOST_UNITS {
            units.push(other);
        }
    }
    units.split_off(1)
}
