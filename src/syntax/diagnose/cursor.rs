//! A place in a value, and what lies ahead of it.

use crate::text::Span;

#[derive(Clone, Copy)]
pub(super) struct Cursor<'t> {
    pub text: &'t str,
    pub at: u32,
    pub end: u32,
}

impl<'t> Cursor<'t> {
    pub fn new(text: &'t str, span: Span) -> Self {
        Self { text, at: span.start, end: span.end }
    }

    pub fn rest(&self) -> &'t str {
        Span::new(self.at, self.end).of(self.text)
    }

    pub fn rest_span(&self) -> Span {
        Span::new(self.at, self.end)
    }

    pub fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// The character after the next one.
    pub fn second(&self) -> Option<char> {
        self.rest().chars().nth(1)
    }

    /// The place of the next character.
    pub fn here(&self) -> Span {
        Span::new(self.at, self.at + self.peek().map_or(0, char::len_utf8) as u32)
    }

    pub fn eat(&mut self, words: &str) -> bool {
        let found = self.rest().starts_with(words);
        self.at += if found { words.len() as u32 } else { 0 };
        found
    }

    /// Passes over the characters that `wanted` takes; where they stand.
    pub fn pass(&mut self, wanted: impl Fn(char) -> bool) -> Span {
        let rest = self.rest();
        let length = rest.find(|c| !wanted(c)).unwrap_or(rest.len()) as u32;
        self.at += length;
        Span::new(self.at - length, self.at)
    }

    pub fn blanks(&mut self) -> Span {
        self.pass(|c| matches!(c, ' ' | '\t'))
    }

    pub fn digits(&mut self) -> Span {
        self.pass(|c| c.is_ascii_digit())
    }

    /// A number as the grammar takes it.
    pub fn number(&mut self) -> Span {
        let start = self.at;
        self.digits();
        if !self.rest().starts_with("..") && self.eat(".") {
            self.digits();
        }
        let mut exponent = *self;
        if exponent.eat("e") || exponent.eat("E") {
            let _ = exponent.eat("+") || exponent.eat("-");
            if !exponent.digits().is_empty() {
                *self = exponent;
            }
        }
        Span::new(start, self.at)
    }

    /// A run of the characters that units are made of.
    pub fn unit(&mut self) -> Span {
        self.pass(|c| c.is_alphanumeric() || "·*/.^²³⁴⁵⁶⁷⁸⁹°%".contains(c))
    }
}
