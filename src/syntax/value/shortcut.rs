//! The commonest value by far, a number with its unit, without setting the grammar in motion for it.
//!
//! Takes less than the grammar does and never anything else: a test holds it to the grammar.

use smallvec::{SmallVec, smallvec};

use super::build::Token;
use crate::syntax::grammar::Rule;
use crate::text::Span;

/// `640`, `4.82 kg`, `81.7 g·mm` as the grammar's `plain` takes it; `None` leaves it to the grammar.
pub(super) fn number_and_unit(span: Span, written: &str) -> Option<SmallVec<[Token; 4]>> {
    let bytes = written.as_bytes();
    let number = number(bytes)?;
    let token = |rule, from: usize, to: usize| Token {
        rule,
        span: Span::new(span.start + from as u32, span.start + to as u32),
    };
    if number == bytes.len() {
        return Some(smallvec![token(Rule::number, 0, number)]);
    }
    let unit = number + 1;
    (bytes[number] == b' ' && is_unit(&bytes[unit..]))
        .then(|| smallvec![token(Rule::number, 0, number), token(Rule::unit, unit, bytes.len())])
}

/// The length of `12` or `12.5` at the start.
fn number(bytes: &[u8]) -> Option<usize> {
    let digits = |from: usize| bytes[from..].iter().take_while(|byte| byte.is_ascii_digit()).count();
    let whole = digits(0);
    if whole == 0 {
        return None;
    }
    if bytes.get(whole) != Some(&b'.') {
        return Some(whole);
    }
    let decimals = digits(whole + 1);
    (decimals > 0).then_some(whole + 1 + decimals)
}

fn is_unit(bytes: &[u8]) -> bool {
    let begins = bytes.first().is_some_and(|byte| byte.is_ascii_alphabetic()) || bytes.starts_with("µ".as_bytes());
    // Words that join two values are no units.
    let joins = matches!(bytes, b"to" | b"at" | b"on" | b"from");
    begins && !joins && all_of_units(bytes)
}

fn all_of_units(mut bytes: &[u8]) -> bool {
    while let [first, rest @ ..] = bytes {
        bytes = match first {
            b'/' | b'%' => rest,
            byte if byte.is_ascii_alphanumeric() => rest,
            // The second bytes of · ² ³ µ °
            0xC2 if matches!(rest.first(), Some(0xB7 | 0xB2 | 0xB3 | 0xB5 | 0xB0)) => &rest[1..],
            _ => return false,
        };
    }
    true
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::syntax::value::numeric::tokens;

    proptest! {
        #[test]
        fn the_shortcut_reads_what_the_grammar_reads(written in "[0-9]{1,3}(\\.[0-9]{0,2})?( {0,2}[a-z0-9µ·²³°/%*.^-]{0,6})?") {
            let span = Span::new(7, 7 + written.len() as u32);
            if let Some(tokens_by_eye) = number_and_unit(span, &written) {
                let by_grammar = tokens(span, &written, Rule::plain);
                let pairs = |tokens: &[Token]| tokens.iter().map(|token| (token.rule, token.span)).collect::<Vec<_>>();
                prop_assert_eq!(Some(pairs(&tokens_by_eye)), by_grammar.as_deref().map(pairs));
            }
        }

        #[test]
        fn words_that_join_are_left_to_the_grammar(written in "[0-9]{1,2} (to|at|on|from)") {
            prop_assert!(number_and_unit(Span::new(0, written.len() as u32), &written).is_none());
        }
    }
}
