//! From the grammar's tokens, which come flat, to amounts, ranges and readings.

use super::number;
use crate::syntax::grammar::Rule;
use crate::syntax::quoting::{bare, quoted};
use crate::syntax::{
    Amount, Expr, Limits, Literal, Number, Operator, Reading, Shape, SyntaxError, SyntaxErrorKind, Weighing, diagnose,
};
use crate::text::Span;

#[derive(Clone, Copy, Debug)]
pub(super) struct Token {
    pub rule: Rule,
    pub span: Span,
}

/// Reads tokens from left to right. `None` anywhere means that the value is broken; the error is in `errors` then.
pub(super) struct Builder<'a> {
    text: &'a str,
    whole: Span,
    tokens: std::slice::Iter<'a, Token>,
    errors: &'a mut Vec<SyntaxError>,
}

impl<'a> Builder<'a> {
    pub fn new(text: &'a str, whole: Span, tokens: &'a [Token], errors: &'a mut Vec<SyntaxError>) -> Self {
        Self { text, whole, tokens: tokens.iter(), errors }
    }

    fn peek(&self) -> Option<Token> {
        self.tokens.as_slice().first().copied()
    }

    fn take(&mut self, rule: Rule) -> Option<Span> {
        let token = self.peek().filter(|token| token.rule == rule)?;
        self.tokens.next();
        Some(token.span)
    }

    fn fail<T>(&mut self, span: Span, kind: SyntaxErrorKind, replace: Option<(Span, String)>) -> Option<T> {
        self.errors.push(SyntaxError { span, kind, replace });
        None
    }

    /// An amount, and what may follow it.
    pub fn numeric(&mut self) -> Option<Shape> {
        let amount = self.amount()?;
        let Some(next) = self.tokens.next() else { return Some(Shape::Amount(amount)) };
        match next.rule {
            Rule::to => self.range(amount),
            Rule::angle_sign => {
                let angle = Some(self.amount()?);
                Some(Shape::Reading(Box::new(Reading { amount, scale: None, angle })))
            }
            Rule::on => self.on_scale(amount),
            Rule::at => Some(Shape::Weighing(Box::new(Weighing { amount, at: self.amount()? }))),
            Rule::from => self.places(amount, next.span),
            _ => None,
        }
    }

    /// `up to b`, `from a`
    pub fn one_sided(&mut self) -> Option<Shape> {
        let upper = self.tokens.next()?.rule == Rule::to;
        let end = Some(self.sum()?);
        Some(if upper { Shape::Range { from: None, to: end } } else { Shape::Range { from: end, to: None } })
    }

    /// `G 6.3`
    pub fn grade(&mut self) -> Option<Shape> {
        let span = self.take(Rule::number)?;
        let number = number::read(self.text, span, false, self.errors)?;
        let letter = Span::new(self.whole.start, self.whole.start + 1);
        if letter.of(self.text) == "g" {
            let replace = Some((Span::new(letter.start, span.start), "G ".to_owned()));
            self.errors.push(SyntaxError { span: letter, kind: SyntaxErrorKind::GradeSpelling, replace });
        }
        Some(Shape::Grade { number, tight: letter.end == span.start })
    }

    fn range(&mut self, from: Amount) -> Option<Shape> {
        if let Some(limits) = from.limits {
            return self.fail(limits.span, SyntaxErrorKind::BadLimits, None);
        }
        Some(Shape::Range { from: Some(from.expr), to: Some(self.sum()?) })
    }

    fn on_scale(&mut self, amount: Amount) -> Option<Shape> {
        let scale = self.tokens.next()?;
        let scale = match scale.rule {
            Rule::string => quoted(self.text, scale.span, true),
            _ => bare(self.text, scale.span),
        };
        let angle = match self.take(Rule::angle_sign) {
            Some(_) => Some(self.amount()?),
            None => None,
        };
        Some(Shape::Reading(Box::new(Reading { amount, scale: Some(scale), angle })))
    }

    fn places(&mut self, count: Amount, from: Span) -> Option<Shape> {
        match count {
            Amount { expr: Expr::Literal(Literal { number, unit: None, .. }), limits: None, .. } => {
                Some(Shape::Places { count: number, from: Box::new(self.amount()?) })
            }
            _ => self.fail(from.to(Span::at(self.whole.end)), SyntaxErrorKind::TextAfterValue, None),
        }
    }

    fn amount(&mut self) -> Option<Amount> {
        let expr = self.sum()?;
        let span = expr.span();
        let Some(sign) = self.take(Rule::plus_minus) else { return Some(Amount { span, expr, limits: None }) };
        let limits = self.limits(sign)?;
        if matches!(expr, Expr::Binary { .. }) {
            return self.fail(limits.span, SyntaxErrorKind::BadLimits, None);
        }
        Some(Amount { span: span.to(limits.span), expr, limits: Some(Box::new(limits)) })
    }

    fn limits(&mut self, sign: Span) -> Option<Limits> {
        let Literal { span, number, unit } = self.literal()?;
        let coverage = self.take(Rule::coverage);
        let span = sign.to(coverage.unwrap_or(span));
        Some(Limits { span, number, unit, expanded: coverage.is_some() })
    }

    /// Products, added and subtracted from left to right.
    fn sum(&mut self) -> Option<Expr> {
        let mut left = self.product()?;
        while let Some((operator, operator_span)) = self.operator(|sign| matches!(sign, b'+' | b'-')) {
            let right = Box::new(self.product()?);
            left = Expr::Binary { operator, operator_span, left: Box::new(left), right };
        }
        Some(left)
    }

    fn product(&mut self) -> Option<Expr> {
        let mut left = self.factor()?;
        while let Some((operator, operator_span)) = self.operator(|sign| matches!(sign, b'*' | b'/')) {
            let right = Box::new(self.factor()?);
            left = Expr::Binary { operator, operator_span, left: Box::new(left), right };
        }
        Some(left)
    }

    /// The next operator, when it is one of those asked for.
    fn operator(&mut self, wanted: impl Fn(u8) -> bool) -> Option<(Operator, Span)> {
        let token = self.peek().filter(|token| token.rule == Rule::operator)?;
        let sign = self.text.as_bytes()[token.span.start as usize];
        if !wanted(sign) {
            return None;
        }
        self.tokens.next();
        let operator = match sign {
            b'+' => Operator::Add,
            b'-' => Operator::Subtract,
            b'*' => Operator::Multiply,
            _ => Operator::Divide,
        };
        Some((operator, token.span))
    }

    fn factor(&mut self) -> Option<Expr> {
        if let Some(sign) = self.take(Rule::minus) {
            let inner = Box::new(self.factor()?);
            return Some(Expr::Negative { span: sign.to(inner.span()), inner });
        }
        if let Some(opening) = self.take(Rule::opening) {
            let inner = Box::new(self.sum()?);
            let span = opening.to(self.take(Rule::closing)?);
            return Some(Expr::Group { span, inner });
        }
        Some(Expr::Literal(self.literal()?))
    }

    fn literal(&mut self) -> Option<Literal> {
        let span = self.take(Rule::number)?;
        let unit = self.take(Rule::unit);
        let stuck = unit.is_some_and(|unit| unit.start == span.end);
        let number = number::read(self.text, span, stuck, self.errors)?;
        match unit {
            Some(unit) => self.with_unit(number, unit, stuck),
            None => Some(Literal { span, number, unit: None }),
        }
    }

    fn with_unit(&mut self, number: Number, unit: Span, stuck: bool) -> Option<Literal> {
        if let Some(error) = diagnose::unit(self.text, number.span, unit) {
            self.errors.push(error);
            return None;
        }
        if stuck && !number.span.of(self.text).ends_with('.') {
            let replace = Some((Span::at(unit.start), " ".to_owned()));
            let span = number.span.to(unit);
            self.errors.push(SyntaxError { span, kind: SyntaxErrorKind::UnitWithoutSpace, replace });
        }
        Some(Literal { span: number.span.to(unit), number, unit: Some(unit) })
    }
}
