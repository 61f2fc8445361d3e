//! A diameter written as a radius and back, with the digits that were read.

use super::{Action, ActionKind, Asked};
use crate::syntax::{Amount, Expr, LineKind, Operator, Shape};
use crate::text::Edit;
use crate::units;
use crate::vocabulary::{AnyFact, plane};

/// Facts that say the same by diameter and by radius, in whichever block.
const PAIRS: [(AnyFact, AnyFact); 2] =
    [(plane::DIAMETER.any(), plane::RADIUS.any()), (plane::SURFACE_DIAMETER.any(), plane::SURFACE_RADIUS.any())];

pub(super) fn at(asked: &Asked<'_, '_>) -> Option<Action> {
    let LineKind::Fact(fact) = &asked.place.line.kind else { return None };
    let (block, field) = asked.place.field()?;
    // What is no length is neither.
    if field.value.is_hole() {
        return None;
    }
    let (other, halved) = PAIRS.into_iter().find_map(|(diameter, radius)| match field.key {
        key if key.is(diameter) => Some((radius, true)),
        key if key.is(radius) => Some((diameter, false)),
        _ => None,
    })?;
    if block.spec().key(other.words()).is_none() || block.field(other).is_some() {
        return None;
    }
    let Shape::Amount(amount) = &fact.value.shape else { return None };
    let value = written(&asked.place.source.text, amount, halved)?;
    let edits = vec![Edit::replace(fact.head.span, other.words()), Edit::replace(fact.value.span, value.clone())];
    Some(asked.action(ActionKind::Rewrite, format!("Write as `{other}: {value}`"), edits))
}

/// Half of an amount, or twice it. What was read stays as it was read: `268.4 mm / 2`.
fn written(text: &str, amount: &Amount, halved: bool) -> Option<String> {
    let (operator, sign, factor) = match halved {
        true => (Operator::Multiply, "/", 0.5),
        false => (Operator::Divide, "*", 2.0),
    };
    let whole = amount.expr.span().of(text);
    if let Some(limits) = &amount.limits {
        let Expr::Literal(literal) = &amount.expr else { return None };
        let unit =
            |span: Option<crate::text::Span>| span.map_or_else(String::new, |unit| format!(" {}", unit.of(text)));
        let coverage = if limits.expanded { " (k=2)" } else { "" };
        let share = limits.unit.is_some_and(|unit| unit.of(text) == "%");
        let width = if share { limits.number.value } else { factor * limits.number.value };
        let value = units::plainly(factor * literal.number.value);
        let width = format!("{}{}{coverage}", units::plainly(width), unit(limits.unit));
        return Some(format!("{value}{} ± {width}", unit(literal.unit)));
    }
    Some(match &amount.expr {
        Expr::Binary { operator: written, left, right, .. } if *written == operator && is_two(right) => {
            left.span().of(text).to_owned()
        }
        Expr::Binary { .. } | Expr::Negative { .. } => format!("({whole}) {sign} 2"),
        Expr::Literal(_) | Expr::Group { .. } => format!("{whole} {sign} 2"),
    })
}

fn is_two(expr: &Expr) -> bool {
    matches!(expr, Expr::Literal(literal) if literal.unit.is_none() && literal.number.value == 2.0)
}
