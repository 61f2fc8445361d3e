//! Text → lossless tree. Parsing never fails: it returns a tree and the errors found on the way.
//!
//! Two tiers of one grammar, `grammar/rotor.pest`: the outer one reads lines and is total, the inner one reads one
//! value. Nesting is a stack of our own ([`nest`]), so that no depth of text is a depth of calls. What the grammar does
//! not take is diagnosed by hand ([`lines::recover`], [`diagnose`]): the grammar's own words never reach a user.
//!
//! The only folder that knows pest. Sees `text` alone: what a key or a unit means is decided higher up.

mod conflict;
mod diagnose;
mod grammar;
mod hidden;
mod kind;
mod lines;
mod moved;
mod nest;
#[cfg(feature = "internals")]
mod outline;
mod quoting;
mod tree;
mod value;

pub use grammar::{is_word, is_word_part};
pub use kind::Kind;
#[cfg(feature = "internals")]
pub use outline::outline;
pub use quoting::quote;
pub use tree::*;

use crate::text::Span;

/// Reads a whole file. Takes any text, in time proportional to its length.
pub fn parse(text: &str) -> Tree {
    lines::read(text)
}

/// Reads `text`, which differs from `old` in one stretch, of which `before` is the tree: the same tree as [`parse`] would
/// make, at the cost of what has changed and of moving the rest.
pub fn parse_again(old: &str, before: &Tree, text: &str) -> Tree {
    lines::read_again(old, before, text)
}

/// Reads one value, which lies at `span` of `text`, without its comment.
pub fn parse_value(text: &str, span: Span) -> (Value, Vec<SyntaxError>) {
    let mut errors = Vec::new();
    let value = value::read(text, span, &mut errors);
    (value, errors)
}
