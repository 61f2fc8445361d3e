//! What was run on a setup, what was corrected between, and what runs together tell.

pub(in crate::book::results) mod arbor_stated;
pub(in crate::book::results) mod correction;
pub(in crate::book::results) mod counted;
pub(in crate::book::results) mod fit;
pub(in crate::book::results) mod index;
pub(in crate::book::results) mod ledger;
pub(in crate::book::results) mod like_mass;
mod reach;
pub(in crate::book::results) mod run;
mod seat;
pub(in crate::book::results) mod seating;
pub(in crate::book::results) mod stand;
pub(in crate::book::results) mod stated;
pub(in crate::book::results) mod step;
mod sums;
pub(in crate::book::results) mod traverse;
pub(in crate::book::results) mod weights;
pub(in crate::book::results) mod work;
