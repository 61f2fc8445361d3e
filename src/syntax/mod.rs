//! Text → lossless tree. Parsing never fails: it returns a tree and the errors found on the way.
//!
//! The only folder that knows pest. Sees `text` alone: what a key or a unit means is decided higher up.

mod kind;
mod tree;

pub use kind::Kind;
pub use tree::*;
