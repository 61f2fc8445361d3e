//! Places in a text: byte spans, the line index and edits; and text laid out in columns. Sees nothing else of the
//! program.

mod edit;
mod fingerprint;
mod harmless;
pub mod layout;
mod line_index;
mod names;
mod span;

pub use edit::{Edit, OverlappingEdits, apply};
pub use fingerprint::fingerprint;
pub use harmless::{cut, harmless, in_a_line, is_harmful, unreadable};
pub use line_index::{LineIndex, Position};
pub use names::with_names;
pub use span::Span;
