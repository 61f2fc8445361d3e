//! The program's plain structs as the protocol's, and back.

mod diagnostic;
mod position;

pub(super) use diagnostic::{Elsewhere, diagnostic};
pub(super) use position::{Encoding, Places};
