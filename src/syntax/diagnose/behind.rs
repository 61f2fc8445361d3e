//! What comes after an operand: signs, connectives, limits, or text that does not belong.

use super::walk::{Step, Walk, connective};
use super::{Cursor, SyntaxError, SyntaxErrorKind, mended, number};
use crate::syntax::grammar::Rule;
use crate::text::Span;

impl Walk<'_> {
    /// What follows a number or a closing parenthesis; `true` when another operand must come.
    pub(super) fn behind_operand(&mut self) -> Result<bool, SyntaxError> {
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

    /// The name of a scale after `on`.
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
            "×" | "·" | "⋅" | "•" | "∙" => "*",
            "÷" | ":" => "/",
            "−" | "–" | "—" => "-",
            "∠" => "@",
            "+-" | "+−" => "±",
            sign => sign,
        };
        if sign == "+" && !blanks.is_empty() && two_limits(self.next.rest()) {
            return self.fail(self.next.rest_span(), SyntaxErrorKind::BadLimits);
        }
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

    /// A dash between two amounts means a range, a dot or cross before letters joins units.
    fn other_meaning(&self, span: Span, sign: &str, blanks: Span) -> Option<SyntaxError> {
        let mut after = self.next;
        let between = blanks.to(span).to(after.blanks());
        match (sign, after.peek()?) {
            ("–" | "—", '0'..='9') => Some(mended(span, SyntaxErrorKind::BadRange, between, " to ")),
            ("·" | "⋅" | "•" | "∙" | "×", c) if c.is_alphabetic() => {
                let unit = self.unit_before?.to(after.unit());
                let parted = between.len() > span.len();
                let kind = if parted { SyntaxErrorKind::SpaceInUnit } else { SyntaxErrorKind::UnitSpelling };
                Some(mended(unit, kind, between, "·"))
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

/// The operator or sign ahead, right or wrong.
fn sign<'t>(next: Cursor<'t>) -> Option<&'t str> {
    if next.rest().starts_with("+/-") {
        return Some("+/-");
    }
    if let Some(sign) = ["+-", "+−"].into_iter().find(|sign| next.rest().starts_with(sign)) {
        return Some(sign);
    }
    let here = next.here().of(next.text);
    let divided = next.rest().strip_prefix(": ").is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    let known = ["+", "-", "*", "/", "@", "±", "×", "·", "⋅", "•", "∙", "÷", "−", "–", "—", "∠"];
    (divided || known.contains(&here)).then_some(here)
}

/// `+0.1 -0.2`, `+0.1/-0.2`: limits that are not alike on both sides.
fn two_limits(rest: &str) -> bool {
    let number = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let lower = |text: &str| text.split(['-', '−']).nth(1).is_some_and(number);
    rest.strip_prefix('+').is_some_and(|behind| number(behind) && lower(behind))
}
