//! The program's plain structs as the protocol's, and back.

mod diagnostic;
mod edits;
mod markdown;
mod position;

pub(super) use diagnostic::{Elsewhere, diagnostic};
pub(super) use edits::{new_file, workspace_edit};
pub(super) use markdown::plain;
pub(super) use position::{Encoding, Places};
