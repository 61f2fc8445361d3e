//! Walks through a value of numbers up to the first thing that does not belong.

use super::{Cursor, SyntaxError, SyntaxErrorKind, error, mended, number, unit};
use crate::syntax::grammar::Rule;
use crate::text::Span;

/// Either the way is clear or the error has been found.
type Step = Result<(), SyntaxError>;

pub(super) struct Walk<'t> {
    next: Cursor<'t>,
    rule: Rule,
    /// The last sign or connective that wants something behind it.
    wanting: Option<Span>,
    /// The unit before the last operator, in case the operator belongs inside it.
    unit_before: Option<Span>,
    seen_to: bool,
    limits: Option<Span>,
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

    fn fail<T>(&self, span: Span, kind: SyntaxErrorKind) -> Result<T, SyntaxError> {
        Err(error(span, kind))
    }

    /// A number with its unit, behind signs and parentheses.
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
        match ahead.peek() {
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
                "1/min" => mended(unit, SyntaxErrorKind::UnitSpelling, unit, "r/min"),
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
                return self.fail(number.to(unit), SyntaxErrorKind::LetterInNumber);
            }
            return Err(unit::followed(unit, ahead));
        }
        self.unit_before = Some(unit);
        Ok(())
    }

    /// What follows a number or a closing parenthesis; `true` when another operand must come.
    fn behind_operand(&mut self) -> Result<bool, SyntaxError> {
        loop {
            let blanks = self.next.blanks();
            let Some(first) = self.next.peek() else { return Ok(false) };
            let here = self.next.here();
            if first == ')' {
                self.next.at = here.end;
                continue;
            }
            if first == '(' && self.limits.is_some() {
                self.coverage()?;
                continue;
            }
            if let Some(word) = connective(self.next) {
                return self.connective(word);
            }
            let sign = sign(self.next).unwrap_or_default();
            return match sign {
                "" => self.text_behind(here, blanks),
                "±" | "+/-" => self.plus_minus(blanks, sign),
                _ => self.operator(blanks, sign),
            };
        }
    }

    fn text_behind(&self, here: Span, blanks: Span) -> Result<bool, SyntaxError> {
        if here.of(self.next.text) == "," && blanks.is_empty() {
            if here.end == self.next.end {
                return Err(mended(here, SyntaxErrorKind::MissingValue, here, ""));
            }
            let replace = Span::at(here.end);
            return Err(mended(here, SyntaxErrorKind::CommaWithoutSpace, replace, " "));
        }
        if self.next.rest().starts_with(['.', '…']) {
            return Err(number::dots(blanks, self.next));
        }
        self.fail(self.next.rest_span(), SyntaxErrorKind::TextAfterValue)
    }

    fn connective(&mut self, word: &'static str) -> Result<bool, SyntaxError> {
        let span = Span::new(self.next.at, self.next.at + word.len() as u32);
        self.next.at = span.end;
        if word == "to" {
            if self.rule == Rule::from_up && !self.seen_to {
                return Err(self.superfluous_from(span));
            }
            if self.seen_to {
                return self.fail(span, SyntaxErrorKind::BadRange);
            }
            self.seen_to = true;
        }
        self.wanting = Some(span);
        self.limits = None;
        if word == "on" { self.scale(span) } else { Ok(true) }
    }

    /// `from 3 mm to 6 mm`
    fn superfluous_from(&self, to: Span) -> SyntaxError {
        let start = self.next.text[..to.start as usize].rfind("from").map_or(to.start, |at| at as u32);
        let mut after = Cursor { at: start, ..self.next };
        after.eat("from");
        after.blanks();
        mended(Span::new(start, start + 4), SyntaxErrorKind::BadRange, Span::new(start, after.at), "")
    }

    /// The name of a scale behind `on`.
    fn scale(&mut self, on: Span) -> Result<bool, SyntaxError> {
        self.next.blanks();
        let name = self.next.pass(|c| !matches!(c, ' ' | '\t'));
        match name.of(self.next.text) {
            "" => self.fail(on, SyntaxErrorKind::MissingOperand),
            bare if bare.starts_with(|c: char| c.is_ascii_digit()) => {
                Err(mended(name, SyntaxErrorKind::BadValue, name, format!("\"{bare}\"")))
            }
            _ => self.behind_operand(),
        }
    }

    fn operator(&mut self, blanks: Span, sign: &str) -> Result<bool, SyntaxError> {
        let span = Span::new(self.next.at, self.next.at + sign.len() as u32);
        if let Some(limits) = self.limits.filter(|_| sign != "@") {
            return self.fail(limits, SyntaxErrorKind::BadLimits);
        }
        if ["//", "/*", "--"].iter().any(|remark| self.next.rest().starts_with(remark)) {
            return self.fail(self.next.rest_span(), SyntaxErrorKind::TextAfterValue);
        }
        let right = match sign {
            "×" | "·" | "⋅" => "*",
            "÷" | ":" => "/",
            "−" | "–" | "—" => "-",
            "∠" => "@",
            "+-" | "+−" => "±",
            sign => sign,
        };
        self.next.at = span.end;
        let after = self.next.peek();
        let spaced = !blanks.is_empty() && after.is_none_or(|c| matches!(c, ' ' | '\t'));
        if right != sign {
            if let Some(error) = self.other_meaning(span, sign, blanks) {
                return Err(error);
            }
            let instead = if spaced { right.to_owned() } else { format!(" {right} ") };
            let between = if spaced { span } else { blanks.to(span).to(self.next.blanks()) };
            return Err(mended(span, SyntaxErrorKind::OperatorSpelling, between, instead));
        }
        if after.is_some() && !spaced {
            let between = blanks.to(span).to(self.next.blanks());
            return Err(mended(span, SyntaxErrorKind::OperatorWithoutSpaces, between, format!(" {sign} ")));
        }
        self.wanting = Some(span);
        self.limits = if sign == "@" { None } else { self.limits };
        Ok(true)
    }

    /// A dash between two amounts stands for a range, a dot before letters joins units.
    fn other_meaning(&self, span: Span, sign: &str, blanks: Span) -> Option<SyntaxError> {
        let mut after = self.next;
        let between = blanks.to(span).to(after.blanks());
        match (sign, after.peek()?) {
            ("–" | "—", '0'..='9') => Some(mended(span, SyntaxErrorKind::BadRange, between, " to ")),
            ("·" | "⋅", c) if c.is_alphabetic() => {
                let unit = self.unit_before?.to(after.unit());
                Some(mended(unit, SyntaxErrorKind::SpaceInUnit, between, "·"))
            }
            _ => None,
        }
    }

    fn plus_minus(&mut self, blanks: Span, sign: &str) -> Result<bool, SyntaxError> {
        let span = Span::new(self.next.at, self.next.at + sign.len() as u32);
        if blanks.is_empty() {
            return Err(mended(span, SyntaxErrorKind::OperatorWithoutSpaces, Span::at(span.start), " "));
        }
        self.next.at = span.end;
        self.next.blanks();
        let number = self.next.peek().is_some_and(|c| c.is_ascii_digit() || c == '.');
        let range = self.seen_to || matches!(self.rule, Rule::up_to | Rule::from_up);
        if self.limits.is_some() || range || !number {
            return self.fail(span, SyntaxErrorKind::BadLimits);
        }
        self.limits = Some(Span::new(span.start, self.next.end));
        Ok(true)
    }

    /// `(k=1)` and the like: only k = 2 is known.
    fn coverage(&mut self) -> Step {
        let start = self.next.at;
        let inside = self.next.pass(|c| c != ')');
        self.next.eat(")");
        let plain: String = inside.of(self.next.text).chars().filter(|c| !matches!(c, ' ' | '\t')).collect();
        if plain == "(k=2" { Ok(()) } else { self.fail(Span::new(start, self.next.at), SyntaxErrorKind::BadLimits) }
    }
}

/// The connective ahead.
fn connective(next: Cursor<'_>) -> Option<&'static str> {
    ["to", "at", "on", "from"].into_iter().find(|word| {
        let rest = next.rest().strip_prefix(word);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t']))
    })
}

/// The operator or sign ahead, right or wrong.
fn sign<'t>(next: Cursor<'t>) -> Option<&'t str> {
    if next.rest().starts_with("+/-") {
        return Some("+/-");
    }
    if let Some(sign) = ["+-", "+−"].into_iter().find(|sign| next.rest().starts_with(sign)) {
        return Some(sign);
    }
    let divided = next.rest().strip_prefix(": ").is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    let here = next.here().of(next.text);
    if divided {
        return Some(here);
    }
    ["+", "-", "*", "/", "@", "±", "×", "·", "⋅", "÷", "−", "–", "—", "∠"].contains(&here).then_some(here)
}
