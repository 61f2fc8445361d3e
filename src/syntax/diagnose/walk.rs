//! Walks through a value of numbers up to the first thing that does not belong.

use super::{Cursor, SyntaxError, SyntaxErrorKind, error, mended, number, unit};
use crate::syntax::grammar::Rule;
use crate::text::Span;

/// Either the way is clear or the error has been found.
pub(super) type Step = Result<(), SyntaxError>;

pub(super) struct Walk<'t> {
    pub(super) next: Cursor<'t>,
    pub(super) rule: Rule,
    /// The last sign or connective that wants something after it.
    pub(super) wanting: Option<Span>,
    /// The unit before the last operator, in case the operator belongs inside it.
    pub(super) unit_before: Option<Span>,
    pub(super) seen_to: bool,
    pub(super) limits: Option<Span>,
}

impl<'t> Walk<'t> {
    pub fn new(text: &'t str, span: Span, rule: Rule) -> Self {
        let next = Cursor::new(text, span);
        Self { next, rule, wanting: None, unit_before: None, seen_to: false, limits: None }
    }

    pub fn error(mut self) -> Option<SyntaxError> {
        self.lead_in();
        self.walk().err()
    }

    /// Passes over what the value's rule starts with.
    fn lead_in(&mut self) {
        let words: &[&str] = match self.rule {
            Rule::up_to => &["up", "to"],
            Rule::from_up => &["from"],
            Rule::grade => &[if self.next.rest().starts_with('g') { "g" } else { "G" }],
            _ => &[],
        };
        let start = self.next.at;
        for word in words {
            self.next.eat(word);
            self.wanting = Some(Span::new(start, self.next.at));
            self.next.blanks();
        }
        self.seen_to = self.rule == Rule::up_to;
    }

    fn walk(&mut self) -> Step {
        loop {
            self.operand()?;
            if !self.behind_operand()? {
                return Ok(());
            }
        }
    }

    pub(super) fn fail<T>(&self, span: Span, kind: SyntaxErrorKind) -> Result<T, SyntaxError> {
        Err(error(span, kind))
    }

    /// A number with its unit, after signs and parentheses.
    fn operand(&mut self) -> Step {
        loop {
            self.next.blanks();
            let here = self.next.here();
            match (self.next.peek(), self.next.second()) {
                (None, _) => return self.nothing_more(),
                (Some('('), _) => self.next.at = here.end,
                (Some('-'), Some('0'..='9' | '.' | '(')) => self.next.at = here.end,
                (Some('-'), Some(' ' | '\t')) if self.wanting.is_none() => return Err(self.parted_sign(here)),
                (Some('0'..='9'), _) | (Some('.'), Some('0'..='9')) => return self.number(),
                (Some('+'), _) => return Err(mended(here, SyntaxErrorKind::MissingOperand, here, "")),
                (Some(c), _) if c.is_alphabetic() => return Err(self.unit_without_number()),
                (Some('−' | '–'), _) => return Err(mended(here, SyntaxErrorKind::OperatorSpelling, here, "-")),
                (Some('*' | '/' | '-' | '@' | ')' | '×' | '÷' | '±'), _) => {
                    return self.fail(here, SyntaxErrorKind::MissingOperand);
                }
                _ => return self.fail(self.next.rest_span(), SyntaxErrorKind::BadValue),
            }
        }
    }

    fn nothing_more(&self) -> Step {
        let here = Span::at(self.next.at);
        match self.wanting {
            Some(sign) => {
                let range = sign.of(self.next.text) == "to" || matches!(self.rule, Rule::up_to | Rule::from_up);
                let limits = matches!(sign.of(self.next.text), "±" | "+/-");
                let kind = match (range, limits) {
                    (true, _) => SyntaxErrorKind::BadRange,
                    (_, true) => SyntaxErrorKind::BadLimits,
                    _ => SyntaxErrorKind::MissingOperand,
                };
                self.fail(sign, kind)
            }
            None => self.fail(here, SyntaxErrorKind::MissingOperand),
        }
    }

    /// `- 3 mm`
    fn parted_sign(&self, sign: Span) -> SyntaxError {
        let mut after = Cursor { at: sign.end, ..self.next };
        let blanks = after.blanks();
        mended(sign, SyntaxErrorKind::MissingOperand, blanks, "")
    }

    /// `3 g * mm`, `268.4 mm / s`: the operator was meant to join units.
    fn unit_without_number(&self) -> SyntaxError {
        let mut after = self.next;
        let unit = after.unit();
        if let (Some(before), Some(sign)) = (self.unit_before, self.wanting)
            && matches!(sign.of(self.next.text), "*" | "/")
        {
            let between = Span::new(before.end, unit.start);
            let joiner = if sign.of(self.next.text) == "*" { "·" } else { "/" };
            return mended(before.to(unit), SyntaxErrorKind::SpaceInUnit, between, joiner);
        }
        error(unit, SyntaxErrorKind::MissingOperand)
    }

    fn number(&mut self) -> Step {
        self.wanting = None;
        self.unit_before = None;
        let number = self.next.number();
        if let Some(error) = number::power_of_ten(number, self.next).or_else(|| number::minutes(number, self.next)) {
            return Err(error);
        }
        if let Some(error) = number::stuck(number, self.next) {
            return Err(error);
        }
        if self.rule == Rule::grade {
            self.next.blanks();
            let rest = self.next.rest_span();
            return if rest.is_empty() { Ok(()) } else { self.fail(rest, SyntaxErrorKind::TextAfterValue) };
        }
        let mut ahead = self.next;
        ahead.blanks();
        if let Some(error) = number::power_of_ten(number, ahead).or_else(|| number::vulgar(number, ahead)) {
            return Err(error);
        }
        let mut reciprocal = ahead;
        match ahead.peek() {
            Some('1') if ahead.at > number.end && reciprocal.unit().of(ahead.text) == "1/min" => {
                self.next = ahead;
                self.unit(number)
            }
            Some('0'..='9') => self.number_behind_number(number, ahead),
            Some('"' | '″') => number::stuck(number, ahead).map_or(Ok(()), Err),
            Some(c) if (c.is_alphabetic() || "°%".contains(c)) && connective(ahead).is_none() => {
                self.next = ahead;
                self.unit(number)
            }
            _ => Ok(()),
        }
    }

    fn number_behind_number(&self, number: Span, ahead: Cursor<'_>) -> Step {
        let reciprocal = ahead.rest().strip_prefix("1/").filter(|unit| unit.starts_with(char::is_alphabetic));
        if reciprocal.is_some() {
            let mut after = ahead;
            let unit = after.unit();
            return Err(match unit.of(self.next.text) {
                "1/s" => mended(unit, SyntaxErrorKind::UnitSpelling, unit, "Hz"),
                _ => error(unit, SyntaxErrorKind::UnitSpelling),
            });
        }
        let found = number::followed(number, ahead);
        Err(found.unwrap_or_else(|| error(ahead.rest_span(), SyntaxErrorKind::TextAfterValue)))
    }

    fn unit(&mut self, number: Span) -> Step {
        let unit = self.next.unit();
        let mut ahead = self.next;
        let blanks = ahead.blanks();
        let then_number = !blanks.is_empty() && ahead.peek().is_some_and(|c| c.is_ascii_digit());
        if then_number && matches!(unit.of(self.next.text), "x" | "X") {
            let stuck = if unit.start == number.end { " * " } else { "* " };
            return Err(mended(unit, SyntaxErrorKind::OperatorSpelling, unit.to(blanks), stuck));
        }
        if then_number && unit.of(self.next.text).ends_with(['*', '/']) {
            let sign = Span::new(unit.end - 1, unit.end);
            return Err(mended(sign, SyntaxErrorKind::OperatorWithoutSpaces, Span::at(sign.start), " "));
        }
        let found = unit::unit(self.next.text, number, unit).or_else(|| unit::stuck(unit, self.next));
        if let Some(error) = found {
            return Err(error);
        }
        if ahead.peek().is_some_and(char::is_alphabetic) && connective(ahead).is_none() {
            if number.end == unit.start {
                let letter = unit.len() == 1 && unit.of(self.next.text).starts_with(|c: char| c.is_ascii_uppercase());
                return match letter {
                    true => self.fail(number.to(unit), SyntaxErrorKind::LetterInNumber),
                    false => Err(mended(number.to(unit), SyntaxErrorKind::UnitWithoutSpace, Span::at(unit.start), " ")),
                };
            }
            return Err(unit::followed(unit, ahead));
        }
        self.unit_before = Some(unit);
        Ok(())
    }
}

/// The connective ahead.
pub(super) fn connective(next: Cursor<'_>) -> Option<&'static str> {
    ["to", "at", "on", "from"].into_iter().find(|word| {
        let rest = next.rest().strip_prefix(word);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t']))
    })
}
