//! The same piece of a tree in a text in which everything before it has become longer or shorter.

use super::{
    Amount, Expr, Fact, Head, Limits, Line, LineKind, Literal, Name, Number, Open, Pin, Reading, Shape, Value, Weighing,
};
use crate::text::Span;

/// How far a piece of text has moved. It may move to the front, so the difference of two offsets wraps around.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Distance(u32);

impl Distance {
    /// From the old offset to the new one.
    pub fn between(old: u32, new: u32) -> Self {
        Self(new.wrapping_sub(old))
    }

    pub fn offset(self, old: u32) -> u32 {
        old.wrapping_add(self.0)
    }

    pub fn span(self, old: Span) -> Span {
        Span::new(self.offset(old.start), self.offset(old.end))
    }
}

impl Line {
    pub(super) fn moved(&self, by: Distance) -> Self {
        if by.0 == 0 {
            return self.clone();
        }
        let kind = match &self.kind {
            LineKind::Blank => LineKind::Blank,
            LineKind::Comment => LineKind::Comment,
            LineKind::Junk => LineKind::Junk,
            LineKind::Conflict => LineKind::Conflict,
            LineKind::Open(open) => LineKind::Open(open.moved(by)),
            LineKind::Close(brace) => LineKind::Close(by.span(*brace)),
            LineKind::Fact(Fact { head, colon, value }) => {
                LineKind::Fact(Fact { head: head.moved(by), colon: by.span(*colon), value: value.moved(by) })
            }
            LineKind::Pin(Pin { head, arrow, value }) => {
                LineKind::Pin(Pin { head: head.moved(by), arrow: by.span(*arrow), value: value.moved(by) })
            }
            LineKind::Unfinished(head) => LineKind::Unfinished(head.moved(by)),
        };
        Self { span: by.span(self.span), kind, comment: self.comment.map(|span| by.span(span)), depth: self.depth }
    }
}

impl Open {
    pub(super) fn moved(&self, by: Distance) -> Self {
        Self {
            kind: self.kind,
            kind_span: by.span(self.kind_span),
            name: self.name.as_ref().map(|name| name.moved(by)),
            brace: by.span(self.brace),
        }
    }
}

impl Name {
    fn moved(&self, by: Distance) -> Self {
        Self { span: by.span(self.span), text: self.text.clone(), quoted: self.quoted }
    }
}

impl Head {
    fn moved(&self, by: Distance) -> Self {
        Self {
            span: by.span(self.span),
            words: self.words.map(|span| by.span(span)),
            name: self.name.as_ref().map(|name| name.moved(by)),
        }
    }
}

impl Value {
    fn moved(&self, by: Distance) -> Self {
        let shape = match &self.shape {
            Shape::Nothing => Shape::Nothing,
            Shape::Unknown => Shape::Unknown,
            Shape::Words => Shape::Words,
            Shape::Broken => Shape::Broken,
            Shape::Clock { hour, minute } => Shape::Clock { hour: *hour, minute: *minute },
            Shape::Date { year, month, day } => Shape::Date { year: *year, month: *month, day: *day },
            Shape::Quoted(name) => Shape::Quoted(name.moved(by)),
            Shape::Grade { number, tight } => Shape::Grade { number: number.moved(by), tight: *tight },
            Shape::Amount(amount) => Shape::Amount(amount.moved(by)),
            Shape::Range { from, to } => Shape::Range {
                from: from.as_ref().map(|expr| expr.moved(by)),
                to: to.as_ref().map(|expr| expr.moved(by)),
            },
            Shape::Reading(reading) => Shape::Reading(Box::new(Reading {
                amount: reading.amount.moved(by),
                scale: reading.scale.as_ref().map(|name| name.moved(by)),
                angle: reading.angle.as_ref().map(|amount| amount.moved(by)),
            })),
            Shape::Weighing(weighing) => {
                Shape::Weighing(Box::new(Weighing { amount: weighing.amount.moved(by), at: weighing.at.moved(by) }))
            }
            Shape::Places { count, from } => Shape::Places { count: count.moved(by), from: Box::new(from.moved(by)) },
            Shape::List(values) => Shape::List(values.iter().map(|value| value.moved(by)).collect()),
        };
        Self { span: by.span(self.span), shape }
    }
}

impl Amount {
    fn moved(&self, by: Distance) -> Self {
        let limits = self.limits.as_ref().map(|limits| {
            let Limits { span, number, unit, expanded } = &**limits;
            let unit = unit.map(|span| by.span(span));
            Box::new(Limits { span: by.span(*span), number: number.moved(by), unit, expanded: *expanded })
        });
        Self { span: by.span(self.span), expr: self.expr.moved(by), limits }
    }
}

impl Expr {
    /// As deep as the expression, which the reader keeps shallow.
    fn moved(&self, by: Distance) -> Self {
        match self {
            Expr::Literal(Literal { span, number, unit }) => Expr::Literal(Literal {
                span: by.span(*span),
                number: number.moved(by),
                unit: unit.map(|span| by.span(span)),
            }),
            Expr::Negative { span, inner } => Expr::Negative { span: by.span(*span), inner: Box::new(inner.moved(by)) },
            Expr::Group { span, inner } => Expr::Group { span: by.span(*span), inner: Box::new(inner.moved(by)) },
            Expr::Binary { operator, operator_span, left, right } => Expr::Binary {
                operator: *operator,
                operator_span: by.span(*operator_span),
                left: Box::new(left.moved(by)),
                right: Box::new(right.moved(by)),
            },
        }
    }
}

impl Number {
    fn moved(self, by: Distance) -> Self {
        Self { span: by.span(self.span), ..self }
    }
}
