//! What every stage works with: a result as it is kept, why there is none, and how people read it.

pub(in crate::book::results) mod entry;
pub(in crate::book::results) mod missing;
pub(in crate::book::results) mod not_computed;
pub(in crate::book::results) mod render;
