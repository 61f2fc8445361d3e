//! All files of a book: names, references, `like`, and every result with where it comes from.

mod bytes;
mod derive;
mod difference;
mod effective;
mod ellipse;
mod files;
mod formulas;
mod index;
mod lookups;
mod materials;
mod origin;
mod proofs;
mod readers;
mod references;
mod results;
mod revisions;
mod shelf;
mod shop;
mod unread;
mod users;
mod vectors;

pub use bytes::FileProblem;
pub use derive::{Derivation, Input, Inputs, Val, derive};
pub use difference::Difference;
pub use effective::{Dropped, EffectiveBlock, EffectiveField, LikesEnd, effective, head_of, heading, likes};
pub use files::{Book, FileId, ItemId, ROOT_FILE, ReferenceError, SourceFile};
#[cfg(feature = "internals")]
pub use formulas::FORMULAS;
pub use formulas::{Basis, Formula, Symbol};
pub use lookups::{Lookups, NameKey, RecordedBook};
pub use materials::{BUILT_IN, BuiltIn};
pub use origin::{Missing, Origin, Path, Reason, Step};
pub use proofs::Day;
pub use readers::Facts;
pub use references::{Reference, references, references_in_force};
pub use results::*;
pub use revisions::{next_revision, plain_revision, revision_order};
pub use shop::{Instrument, ShopRules};
pub use unread::{is_read_whole, touching};
pub use users::Users;
pub use vectors::{Gathered, Numbers, Outputs, VectorVal, components};
