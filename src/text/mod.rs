//! Places in a text: byte spans, the line index and edits. Sees nothing else of the program.

mod edit;
mod line_index;
mod span;

pub use edit::{Edit, OverlappingEdits, apply};
pub use line_index::{LineIndex, Position};
pub use span::Span;
