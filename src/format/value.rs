//! One value in its canonical form: its pieces as written, with one space between them where there is any.

use crate::syntax::{Amount, Expr, Limits, Literal, Number, Operator, Reading, Shape, Value};
use crate::text::Span;
use crate::units;

/// `None` when the value is not readable, and so to be left as it is.
pub(super) fn canonical(text: &str, value: &Value) -> Option<String> {
    let writer = Writer { text };
    Some(match &value.shape {
        Shape::Nothing | Shape::Broken => return None,
        Shape::Unknown => "?".to_owned(),
        Shape::Quoted(name) => name.span.of(text).to_owned(),
        Shape::Words | Shape::Grade { .. } | Shape::Clock { .. } | Shape::Date { .. } => spaced(value.span.of(text)),
        Shape::Amount(amount) => writer.amount(amount),
        Shape::Range { from: Some(from), to: Some(to) } => format!("{} to {}", writer.expr(from), writer.expr(to)),
        Shape::Range { from: None, to: Some(to) } => format!("up to {}", writer.expr(to)),
        Shape::Range { from: Some(from), to: None } => format!("from {}", writer.expr(from)),
        Shape::Range { from: None, to: None } => return None,
        Shape::Reading(reading) => {
            let Reading { amount, scale, angle } = &**reading;
            let scale = scale.as_ref().map(|scale| format!(" on {}", scale.span.of(text)));
            let angle = angle.as_ref().map(|angle| format!(" @ {}", writer.amount(angle)));
            format!("{}{}{}", writer.amount(amount), scale.unwrap_or_default(), angle.unwrap_or_default())
        }
        Shape::Weighing(weighing) => format!("{} at {}", writer.amount(&weighing.amount), writer.amount(&weighing.at)),
        Shape::Places { count, from } => format!("{} from {}", writer.number(count), writer.amount(from)),
        Shape::List(items) => {
            let items: Option<Vec<_>> = items.iter().map(|item| canonical(text, item)).collect();
            items?.join(", ")
        }
    })
}

/// Words with one space between them.
pub(super) fn spaced(words: &str) -> String {
    words.split([' ', '\t']).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

struct Writer<'t> {
    text: &'t str,
}

impl Writer<'_> {
    fn amount(&self, amount: &Amount) -> String {
        let expr = self.expr(&amount.expr);
        match amount.limits.as_deref() {
            Some(Limits { number, unit, expanded, .. }) => {
                let coverage = if *expanded { " (k=2)" } else { "" };
                format!("{expr} ± {}{coverage}", self.with_unit(number, *unit))
            }
            None => expr,
        }
    }

    fn expr(&self, expr: &Expr) -> String {
        match expr {
            Expr::Literal(Literal { number, unit, .. }) => self.with_unit(number, *unit),
            Expr::Negative { inner, .. } => format!("-{}", self.expr(inner)),
            Expr::Group { inner, .. } => format!("({})", self.expr(inner)),
            Expr::Binary { operator, left, right, .. } => {
                format!("{} {} {}", self.expr(left), sign(*operator), self.expr(right))
            }
        }
    }

    fn number(&self, number: &Number) -> &str {
        number.span.of(self.text)
    }

    fn with_unit(&self, number: &Number, unit: Option<Span>) -> String {
        let number = self.number(number);
        match unit.map(|unit| unit.of(self.text)) {
            Some(unit) => {
                // Such a power is a slip of the finger, `m8` for `mm`, and is not made to look meant.
                let respelled = units::respell(unit).filter(|unit| !unit.contains(['⁵', '⁶', '⁷', '⁸', '⁹']));
                format!("{number} {}", respelled.as_deref().unwrap_or(unit))
            }
            None => number.to_owned(),
        }
    }
}

fn sign(operator: Operator) -> char {
    match operator {
        Operator::Add => '+',
        Operator::Subtract => '-',
        Operator::Multiply => '*',
        Operator::Divide => '/',
    }
}
