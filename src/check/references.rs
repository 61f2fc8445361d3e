//! Where a sheet names items of the book.

pub use crate::book::references as of;
