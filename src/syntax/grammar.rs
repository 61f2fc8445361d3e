//! The grammar as pest compiles it.

// The derive writes a public enum without documentation of its own.
#![allow(missing_docs)]

use pest_derive::Parser;

#[derive(Parser)]
#[grammar = "../grammar/rotor.pest"]
pub(super) struct Grammar;

/// Whether a name may stand bare: a letter of any script, then letters, digits, `-` and `_`.
pub fn is_word(text: &str) -> bool {
    use pest::unicode::{DECIMAL_NUMBER, LETTER, MARK};
    let part = |c: char| matches!(c, '-' | '_') || LETTER(c) || MARK(c) || DECIMAL_NUMBER(c);
    let mut characters = text.chars();
    characters.next().is_some_and(LETTER) && characters.all(part)
}

/// One or more words with blanks between them.
pub(super) fn are_words(text: &str) -> bool {
    let mut words = text.split([' ', '\t']).filter(|word| !word.is_empty()).peekable();
    words.peek().is_some() && words.all(is_word)
}
