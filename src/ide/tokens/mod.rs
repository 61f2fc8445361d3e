//! What each piece of a sheet is, for colours.

#[cfg(test)]
mod tests;

use super::place;
use crate::book::SourceFile;
use crate::sheet::Expected;
use crate::syntax::{Amount, Expr, Head, Kind, Line, LineKind, Shape, Value};
use crate::text::Span;
use crate::vocabulary::{self, NameOf, ValueType};

/// One piece of one line. Tokens follow one another and do not overlap.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Token {
    pub span: Span,
    pub kind: TokenKind,
    /// It is the name that an item or block begins with.
    pub describes: bool,
    /// It belongs to a pinned result.
    pub pinned: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum TokenKind {
    /// `plane`, `made of`
    Kind,
    Key,
    /// A name, quoted or not.
    Name,
    /// With a date, a place of the clock and a grade, which are read as one.
    Number,
    Unit,
    /// `±`, `@`, `to`, `*`, `=>` and the like.
    Operator,
    Choice,
    /// Text in quotes that names nothing.
    Text,
    Comment,
}

/// The tokens of a file, or of the lines that `range` touches.
pub fn tokens(source: &SourceFile, range: Option<Span>) -> Vec<Token> {
    let mut painter = Painter { source, text: &source.text, tokens: Vec::new(), pinned: false };
    let mut kinds: Vec<Option<Kind>> = Vec::new();
    for line in &source.tree().lines {
        kinds.resize(usize::from(line.depth), None);
        if range.is_none_or(|range| line.span.touches(range)) {
            painter.line(line, kinds.last().copied().flatten());
        }
        if let LineKind::Open(open) = &line.kind {
            kinds.push(Some(open.kind));
        }
    }
    painter.tokens
}

struct Painter<'t> {
    source: &'t SourceFile,
    text: &'t str,
    tokens: Vec<Token>,
    pinned: bool,
}

impl Painter<'_> {
    fn push(&mut self, span: Span, kind: TokenKind) {
        if !span.is_empty() {
            self.tokens.push(Token { span, kind, describes: false, pinned: self.pinned });
        }
    }

    fn line(&mut self, line: &Line, block: Option<Kind>) {
        let start = self.tokens.len();
        match &line.kind {
            LineKind::Open(open) => {
                self.push(open.kind_span, TokenKind::Kind);
                if let Some(name) = &open.name {
                    self.push(name.span, TokenKind::Name);
                    let describes = vocabulary::block(open.kind).name == Some(NameOf::Own);
                    self.tokens.iter_mut().skip(start + 1).for_each(|token| token.describes = describes);
                }
            }
            LineKind::Fact(fact) => {
                let expected = block.and_then(|kind| place::expected(self.source, vocabulary::block(kind), &fact.head));
                self.head(&fact.head, expected.as_ref());
                self.value(&fact.value, expected.map(|expected| expected.value));
            }
            LineKind::Pin(pin) => {
                self.pinned = true;
                self.push(pin.head.span, TokenKind::Key);
                self.push(pin.arrow, TokenKind::Operator);
                self.value(&pin.value, None);
                self.pinned = false;
            }
            LineKind::Blank
            | LineKind::Comment
            | LineKind::Close(_)
            | LineKind::Unfinished(_)
            | LineKind::Junk
            | LineKind::Conflict => {}
        }
        if let Some(comment) = line.comment {
            self.push(comment, TokenKind::Comment);
        }
    }

    /// The words of a key, and the name after them or instead of them. What is no key of the block stays plain.
    fn head(&mut self, head: &Head, expected: Option<&Expected>) {
        let Some(expected) = expected else { return };
        match &expected.name {
            Some(name) if name.span == head.span => self.push(name.span, TokenKind::Name),
            Some(name) => {
                let words = Span::new(head.span.start, name.span.start);
                let length = words.of(self.text).trim_end().len() as u32;
                self.push(Span::new(words.start, words.start + length), TokenKind::Key);
                self.push(name.span, TokenKind::Name);
            }
            None => self.push(head.span, TokenKind::Key),
        }
    }

    fn value(&mut self, value: &Value, expected: Option<ValueType>) {
        let start = self.tokens.len();
        self.pieces(value, expected);
        if self.tokens.len() > start {
            self.fill_gaps(start, value.span);
        }
    }

    fn pieces(&mut self, value: &Value, expected: Option<ValueType>) {
        use TokenKind as T;
        match &value.shape {
            Shape::Nothing | Shape::Broken => {}
            Shape::Quoted(name) => self.push(name.span, quoted(expected)),
            Shape::Unknown => self.push(value.span, T::Choice),
            Shape::Words => self.push(value.span, words(expected)),
            Shape::Grade { .. } | Shape::Clock { .. } | Shape::Date { .. } => self.push(value.span, T::Number),
            Shape::Amount(_) if expected == Some(ValueType::Positions) => self.push(value.span, T::Choice),
            Shape::Amount(amount) => self.amount(amount),
            Shape::Range { from, to } => [from, to].into_iter().flatten().for_each(|end| self.expr(end)),
            Shape::Reading(reading) => {
                self.amount(&reading.amount);
                if let Some(scale) = &reading.scale {
                    self.push(scale.span, T::Name);
                }
                if let Some(angle) = &reading.angle {
                    self.amount(angle);
                }
            }
            Shape::Weighing(weighing) => {
                self.amount(&weighing.amount);
                self.amount(&weighing.at);
            }
            Shape::Places { count, from } => {
                self.push(count.span, T::Number);
                self.amount(from);
            }
            Shape::List(values) => values.iter().for_each(|value| self.pieces(value, expected)),
        }
    }

    fn amount(&mut self, amount: &Amount) {
        self.expr(&amount.expr);
        if let Some(limits) = &amount.limits {
            self.push(limits.number.span, TokenKind::Number);
            if let Some(unit) = limits.unit {
                self.push(unit, TokenKind::Unit);
            }
        }
    }

    fn expr(&mut self, expr: &Expr) {
        match expr {
            Expr::Literal(literal) => {
                self.push(literal.number.span, TokenKind::Number);
                if let Some(unit) = literal.unit {
                    self.push(unit, TokenKind::Unit);
                }
            }
            Expr::Negative { inner, .. } | Expr::Group { inner, .. } => self.expr(inner),
            Expr::Binary { left, right, .. } => {
                self.expr(left);
                self.expr(right);
            }
        }
    }

    /// What is between numbers, units and names joins them: `±`, `@`, `to`, `*`.
    fn fill_gaps(&mut self, start: usize, value: Span) {
        let pieces = self.tokens.split_off(start);
        let mut done = value.start;
        for piece in pieces {
            self.joiners(Span::new(done, piece.span.start));
            self.tokens.push(piece);
            done = piece.span.end;
        }
        self.joiners(Span::new(done, value.end));
    }

    fn joiners(&mut self, gap: Span) {
        if gap.end <= gap.start {
            return;
        }
        let mut at = gap.start;
        for word in gap.of(self.text).split([' ', '\t']) {
            let span = Span::new(at, at + word.len() as u32);
            at = span.end + 1;
            if word.chars().any(|c| c != ',') {
                self.push(span, TokenKind::Operator);
            }
        }
    }
}

fn quoted(expected: Option<ValueType>) -> TokenKind {
    use ValueType as T;
    match expected {
        Some(T::Reference(_) | T::Name(_) | T::Names(_) | T::LineHeads) => TokenKind::Name,
        Some(T::Choice(_) | T::Setting | T::Positions) => TokenKind::Choice,
        _ => TokenKind::Text,
    }
}

fn words(expected: Option<ValueType>) -> TokenKind {
    use ValueType as T;
    match expected {
        Some(T::Reference(_) | T::Name(_) | T::Names(_)) => TokenKind::Name,
        Some(T::UnitName(_) | T::UnitNames(_)) => TokenKind::Unit,
        _ => TokenKind::Choice,
    }
}
