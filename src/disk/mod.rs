//! Books on disk: which files belong to which book, and their bytes. Only regular files are read, and nothing else is
//! waited for. And what cards are printed with: the day, and fonts of the system.
//!
//! The command line and the language server find books by the same rules. A file belongs to the book whose `book.rotor`
//! lies in the nearest folder above it; a file without one is a book of its own. Hidden folders are skipped, links not
//! followed.

mod day;
mod find;
mod fonts;
mod read;

pub use day::today;
pub use find::{BOOK, Below, Found, book_above, books_below, is_book, is_reached, is_rotor, walk, walk_book};
pub use fonts::fonts_for;
pub use read::{all_bytes, bytes, open, reason, relative, slashes, source, text_if_there};
