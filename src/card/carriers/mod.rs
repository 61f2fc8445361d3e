//! Pages and blocks written down: pages as SVG and PDF, blocks as text, and both as HTML.

mod html;
mod pdf;
mod pdf_fonts;
mod svg;
mod text;

pub use html::html;
pub use pdf::pdf;
pub use svg::{drawings, svg};
pub use text::{lines, text};
