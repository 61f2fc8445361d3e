//! Bytes of a text ↔ the UTF-16 units in which a page counts.

use rotorbook::text::Span;
use serde::Serialize;

/// A range of UTF-16 units from the beginning of a text.
#[derive(Serialize, Clone, Copy)]
pub struct Range {
    pub from: usize,
    pub to: usize,
}

pub struct Places<'t>(&'t str);

impl<'t> Places<'t> {
    pub fn of(text: &'t str) -> Self {
        Self(text)
    }

    pub fn unit(&self, byte: u32) -> usize {
        let end = (byte as usize).min(self.0.len());
        match self.0.is_ascii() {
            true => end,
            false => self.0.char_indices().take_while(|(at, _)| *at < end).map(|(_, c)| c.len_utf16()).sum(),
        }
    }

    pub fn range(&self, span: Span) -> Range {
        Range { from: self.unit(span.start), to: self.unit(span.end) }
    }

    /// The byte at a unit; the end of the text for a unit past it.
    pub fn byte(&self, unit: usize) -> u32 {
        let mut units = 0;
        for (at, character) in self.0.char_indices() {
            if units >= unit {
                return at as u32;
            }
            units += character.len_utf16();
        }
        self.0.len() as u32
    }
}
