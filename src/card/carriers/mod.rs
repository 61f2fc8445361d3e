//! Pages and blocks written down: pages as SVG and PDF, blocks as text, and both as HTML.

mod beside;
mod html;
mod pdf;
mod pdf_fonts;
mod said;
mod svg;
mod text;

pub use beside::{beside, page_of_comparisons};
pub use html::html;
pub use pdf::pdf;
pub use svg::{drawings, svg};
pub use text::{lines, text};
