//! Names as they may be written: bare where that is read as the same name, else in quotes.

use crate::syntax::{self, Kind, Shape, is_word, quote};
use crate::text::Span;
use crate::vocabulary;

/// After the kind of a block.
pub fn in_heading(name: &str) -> String {
    quoted_unless(is_word(name), name)
}

/// Alone before the colon, in a block of this kind; there a bare word that is also a key is the key.
pub fn as_head(block: Kind, name: &str) -> String {
    quoted_unless(is_word(name) && vocabulary::block(block).key(name).is_none(), name)
}

/// Before the colon, after the words of a key.
pub fn after_key(block: Kind, key: &str, name: &str) -> String {
    let other_key = || vocabulary::block(block).key(&format!("{key} {name}")).is_some();
    quoted_unless(is_number(name) || is_word(name) && !other_key(), name)
}

/// After the colon, where `G6` would be read as a grade.
pub fn as_value(name: &str) -> String {
    let reads_as_words = || {
        let (value, errors) = syntax::parse_value(name, Span::new(0, name.len() as u32));
        errors.is_empty() && value.shape == Shape::Words
    };
    quoted_unless(is_word(name) && reads_as_words(), name)
}

/// A name of digits, as places have.
fn is_number(name: &str) -> bool {
    (1..=3).contains(&name.len()) && name.bytes().all(|byte| byte.is_ascii_digit())
}

fn quoted_unless(bare: bool, name: &str) -> String {
    if bare { name.to_owned() } else { quote(name) }
}
