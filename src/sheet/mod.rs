//! Tree → facts: every line that means something becomes a typed value with its place and its spelling.
//!
//! Works on one file alone; names of other items are left as they stand.

mod amount;
mod block;
mod head;
mod lower;
mod problem;
pub mod quote;
mod same;
mod synonyms;
mod value;
mod words;

pub use amount::{Limits, Stated};
pub use block::{Block, Field, FieldValue, NameAt, Pin, PinValue, SettingValue, StatedRange, StatedReading};
pub use head::{Expected, HeadOf, read_head};
pub use lower::{Sheet, lower};
pub use problem::{FactProblem, FactProblemKind, FactProblemOf, Form};
pub use synonyms::either;
pub use words::{Names, nearest};
