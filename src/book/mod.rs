//! All files of a book: names, references, `like`, and every result with where it comes from.

mod catalogue;
mod derive;
mod effective;
mod files;
mod materials;
mod origin;
mod readers;
mod results;

pub use catalogue::{Formula, RESULTS, ResultSpec, result_specs};
pub use derive::{Input, Val};
pub use effective::{Dropped, EffectiveBlock, EffectiveField, Link};
pub use files::{Book, FileId, ItemId, ReferenceError, SourceFile};
pub use materials::{BUILT_IN, BuiltIn};
pub use origin::{Missing, Origin, Path, Reason};
pub use readers::Facts;
pub use results::*;
