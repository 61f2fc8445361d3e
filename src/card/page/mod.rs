//! A card on paper: its words measured, broken into lines and placed, once for every carrier.
//!
//! A [`Page`] is a drawing as large as the paper. What is set follows the distances from which it is read: 28 pt what is
//! read from the machine's other end, 16 pt what a hand sets or reads, 9 pt the rest. Blocks are kept whole.

mod flow;
mod fonts;
mod lines;
mod parts;
mod table;

pub use flow::pages;
pub(super) use fonts::{FOR_BROWSERS, Letter, POINT, Run};
pub use fonts::{FontFile, Fonts};

use super::drawing::Drawing;

/// The paper that a page is set for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Paper {
    A4,
    Letter,
}

impl Paper {
    /// Width and height in millimetres.
    pub const fn size(self) -> [f64; 2] {
        match self {
            Paper::A4 => [210.0, 297.0],
            Paper::Letter => [215.9, 279.4],
        }
    }
}

/// One side of paper.
#[derive(Clone, Debug)]
pub struct Page {
    pub drawing: Drawing,
    /// Which side of the card it belongs to, and its number on that side.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub side: usize,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub number: usize,
}

/// Sizes of letters, in points.
pub(super) const SMALL: f64 = 9.0;
pub(super) const HAND: f64 = 16.0;
pub(super) const FAR: f64 = 28.0;
