//! Books in git: which files a revision holds, their bytes, and the commits that touched them.
//!
//! Asks the `git` command. It knows every kind of repository that its user's own git knows: worktrees, shallow and partial
//! clones, replaced objects, settings of who owns what; a few processes answer for a whole book, as blobs are read
//! through one of them. A library would be a second opinion on all of that. Only plumbing is asked, its output separated
//! by zero bytes, so that neither settings nor odd file names change an answer.

mod blobs;
mod command;
mod history;
mod listing;
mod merge_lines;
mod repository;
mod revision;
mod sparse;

pub use blobs::Blobs;
pub use command::GitError;
pub use history::{Commit, Edge, FileChange};
pub use listing::{GitFile, Listing, books_in};
pub use merge_lines::merge_lines;
pub use repository::Repository;
pub use sparse::{left_out, read_left_out};

use repository::is_sparse;
