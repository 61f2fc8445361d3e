//! The grammar as pest compiles it.

// The derive writes a public enum without documentation of its own.
#![allow(missing_docs)]

use pest::unicode::{DECIMAL_NUMBER, LETTER, MARK};
use pest_derive::Parser;

#[derive(Parser)]
#[grammar = "../grammar/rotor.pest"]
pub(super) struct Grammar;

/// Whether a name needs no quotes: a letter of any script, then letters, marks on letters, digits, `-` and `_`.
pub fn is_word(text: &str) -> bool {
    let mut characters = text.chars();
    characters.next().is_some_and(LETTER) && characters.all(is_word_part)
}

/// Whether a character may follow the first letter of a word.
pub fn is_word_part(character: char) -> bool {
    matches!(character, '-' | '_') || LETTER(character) || MARK(character) || DECIMAL_NUMBER(character)
}

/// One or more words with blanks between them.
pub(super) fn are_words(text: &str) -> bool {
    let mut words = text.split([' ', '\t']).filter(|word| !word.is_empty()).peekable();
    words.peek().is_some() && words.all(is_word)
}
