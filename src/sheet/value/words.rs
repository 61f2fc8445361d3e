//! Texts, names and choices.

use super::{Reader, name_at};
use crate::sheet::block::{FieldValue, NameAt};
use crate::sheet::problem::{FactProblem, FactProblemKind as P};
use crate::sheet::synonyms;
use crate::syntax::{Shape, Value, is_word};
use crate::text::Span;
use crate::vocabulary::{Choices, NameOf, ValueType};

impl Reader<'_> {
    pub(super) fn text(&mut self, value: &Value, expected: ValueType) -> Option<Box<str>> {
        match &value.shape {
            Shape::Quoted(name) => Some(name.text.clone()),
            Shape::List(values) if values.iter().any(|one| begins_quoted(one.span.of(self.text))) => {
                self.wrong_form(value, expected)
            }
            _ => self.report(value.span, P::NeedsQuotes { whole: value.span }),
        }
    }

    pub(super) fn name(&mut self, value: &Value, expected: ValueType) -> Option<NameAt> {
        match &value.shape {
            Shape::Quoted(name) => Some(name_at(name)),
            Shape::Words => self.one_word(value.span),
            Shape::List(_) => self.wrong_form(value, expected),
            _ => self.report(value.span, P::NameNeedsQuotes),
        }
    }

    pub(super) fn unquoted(&mut self, whole: Span, expected: ValueType) -> FieldValue {
        let kind = if expected == ValueType::Text { P::NeedsQuotes { whole } } else { P::NameNeedsQuotes };
        self.problems.push(FactProblem { span: whole, kind });
        FieldValue::Hole
    }

    pub(super) fn one_word(&mut self, span: Span) -> Option<NameAt> {
        let text = span.of(self.text);
        if !is_word(text) {
            return self.report(span, P::NameNeedsQuotes);
        }
        Some(NameAt { text: text.into(), span, quoted: false })
    }

    /// Positions of a switch and numbered places may be plain numbers too; `half open` needs no quotes in a list.
    pub(super) fn name_or_number(&mut self, value: &Value, expected: ValueType) -> Option<NameAt> {
        let listed = matches!(expected, ValueType::Positions | ValueType::Names(NameOf::Place));
        match &value.shape {
            Shape::Amount(_) | Shape::Words if listed => {
                Some(NameAt { text: value.span.of(self.text).into(), span: value.span, quoted: false })
            }
            Shape::Quoted(_) => self.name(value, expected),
            _ => match expected {
                ValueType::Names(NameOf::Listed(choices)) => self.listed(value, choices),
                _ => self.name(value, expected),
            },
        }
    }

    /// One of the words that need no quotes.
    fn listed(&mut self, value: &Value, choices: Choices) -> Option<NameAt> {
        let written = value.span.of(self.text);
        let folded = written.split_whitespace();
        if let Some(word) = choices.words.iter().find(|word| word.split(' ').eq(folded.clone())) {
            return Some(NameAt { text: (*word).into(), span: value.span, quoted: false });
        }
        let suggestion = synonyms::choice(written, choices);
        self.report(value.span, P::UnknownChoice { choices: choices.words, suggestion })
    }

    pub(super) fn choice(&mut self, value: &Value, choices: Choices, expected: ValueType) -> Option<&'static str> {
        let written = match &value.shape {
            Shape::Quoted(name) => &name.text,
            Shape::List(_) => return self.wrong_form(value, expected),
            _ => value.span.of(self.text),
        };
        let folded = written.split_whitespace();
        if let Some(choice) = choices.words.iter().find(|choice| choice.split(' ').eq(folded.clone()))
            && !matches!(value.shape, Shape::Quoted(_))
        {
            return Some(choice);
        }
        let suggestion = synonyms::choice(written, choices);
        self.report(value.span, P::UnknownChoice { choices: choices.words, suggestion })
    }
}

/// Text, and names of items, in which anything may stand.
pub(super) fn takes_text(expected: ValueType) -> bool {
    matches!(expected, ValueType::Text | ValueType::Reference(_))
}

pub(super) fn begins_quoted(written: &str) -> bool {
    written.starts_with(['"', '\'', '“', '”', '„', '‟', '«', '»', '‘', '’'])
}
