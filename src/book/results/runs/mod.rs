//! What was run on a setup, what was corrected between, and what runs together tell.

pub(in crate::book::results) mod correction;
pub(in crate::book::results) mod index;
pub(in crate::book::results) mod run;
pub(in crate::book::results) mod step;
pub(in crate::book::results) mod traverse;
pub(in crate::book::results) mod work;
