//! Values that start with a number or are made of numbers: the grammar takes them apart, or says no.

use pest::Parser;
use smallvec::SmallVec;

use super::build::{Builder, Token};
use super::{broken, clock, shortcut};
use crate::syntax::grammar::{Grammar, Rule};
use crate::syntax::{Shape, SyntaxError, SyntaxErrorKind, diagnose};
use crate::text::Span;

/// Parentheses in one another.
pub(in crate::syntax) const DEEPEST: usize = 32;

/// Operators in one value: far more than anybody writes, few enough that the expression is never deep.
const MOST_OPERATORS: usize = 100;

/// A value that starts with a digit, a sign, a point or a parenthesis.
pub(super) fn number_like(text: &str, span: Span, errors: &mut Vec<SyntaxError>) -> Shape {
    match clock::rule_of(span.of(text)) {
        Some(rule) => clock::read(text, span, rule, errors),
        None if is_plain(span.of(text)) => ruled(text, span, Rule::plain, errors),
        None => ruled(text, span, Rule::numeric, errors),
    }
}

/// Whether a value is a number and a unit at most: one of two pieces.
fn is_plain(written: &str) -> bool {
    written.as_bytes()[0].is_ascii_digit() && written.bytes().filter(|byte| matches!(byte, b' ' | b'\t')).count() <= 1
}

/// A value that `rule` of the grammar takes whole, or else an error.
pub(super) fn ruled(text: &str, span: Span, rule: Rule, errors: &mut Vec<SyntaxError>) -> Shape {
    let written = span.of(text);
    if let Some(at) = too_deep(written) {
        let span = Span::new(span.start + at as u32, span.start + at as u32 + 1);
        return broken(errors, SyntaxError { span, kind: SyntaxErrorKind::TooDeep, replace: None });
    }
    let by_eye = if rule == Rule::plain { shortcut::number_and_unit(span, written) } else { None };
    let mut found = by_eye.or_else(|| tokens(span, written, rule));
    if found.is_none() && rule == Rule::plain {
        found = tokens(span, written, Rule::numeric);
    }
    let Some(tokens) = found else {
        return broken(errors, diagnose::numeric(text, span, rule));
    };
    if let Some(one_too_many) = tokens.iter().filter(|token| token.rule == Rule::operator).nth(MOST_OPERATORS) {
        return broken(errors, SyntaxError { span: one_too_many.span, kind: SyntaxErrorKind::TooDeep, replace: None });
    }
    let before = errors.len();
    let mut builder = Builder::new(text, span, &tokens, errors);
    let shape = match rule {
        Rule::up_to | Rule::from_up => builder.one_sided(),
        Rule::grade => builder.grade(),
        _ => builder.numeric(),
    };
    shape.unwrap_or_else(|| {
        if errors.len() == before {
            errors.push(SyntaxError { span, kind: SyntaxErrorKind::BadValue, replace: None });
        }
        Shape::Broken
    })
}

/// Where parentheses first lie too deep for the grammar, which descends into each.
fn too_deep(written: &str) -> Option<usize> {
    let mut depth = 0usize;
    written.bytes().position(|byte| {
        match byte {
            b'(' => depth += 1,
            b')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        depth > DEEPEST
    })
}

/// The grammar's tokens in order, at their places in the file, without the rules that only hold others.
pub(super) fn tokens(span: Span, written: &str, rule: Rule) -> Option<SmallVec<[Token; 4]>> {
    let whole = Grammar::parse(rule, written).ok()?.next()?;
    let token = |pair: pest::iterators::Pair<'_, Rule>| {
        let place = pair.as_span();
        let span = Span::new(place.start() as u32, place.end() as u32).shifted(span.start);
        let leaf = !matches!(
            pair.as_rule(),
            Rule::amount | Rule::sum | Rule::factor | Rule::literal | Rule::limits | Rule::reading | Rule::direction
        );
        leaf.then_some(Token { rule: pair.as_rule(), span })
    };
    Some(whole.into_inner().flatten().filter_map(token).collect())
}
