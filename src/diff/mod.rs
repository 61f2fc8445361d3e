//! What two versions of a book do not have in common, by meaning.
//!
//! Items are paired by kind and name, wherever they stand; one that is gone is followed to one that is new and says nearly
//! the same. Facts are compared by value, so that a change of unit, order, layout or file is none. Results are worked out
//! in both books for every item that the changes can reach, and compared as `show` gives them, but for the tables of sheets
//! that are not released; so are the cards of released sheets and of records. What a reviewer must not miss is an alert.

mod alerts;
mod attribution;
mod barred;
mod book;
mod cards;
mod facts;
mod findings;
mod inner;
mod merge;
mod order;
mod outcome;
mod pairs;
mod proofs;
mod renames;
mod results;
mod since;
mod uses;
mod value;
mod votes;

pub use alerts::{Alert, AlertCode};
pub use attribution::Because;
#[cfg(feature = "internals")]
pub use book::compare;
pub use book::{BookDiff, ItemChange, ItemDiff, ItemName, compare_and_judge};
pub use cards::CardDiff;
pub use facts::{FactChange, FactChangeKind, Facts, PinChange, facts_between};
pub use findings::NewFinding;
pub use merge::{Labels, Merged, merge};
pub use outcome::AsRead;
#[cfg(feature = "internals")]
pub use outcome::same_outcome;
pub use pairs::{Pair, pairs};
pub use renames::Renames;
pub use results::{Moved, MovedHow};
pub use since::{Since, concerned, rewritten_proofs};
