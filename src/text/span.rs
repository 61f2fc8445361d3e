//! Half-open byte ranges.

/// A half-open range of bytes `[start, end)` in one text.
///
/// Four bytes a side: a text is at most 4 GiB, and the reader refuses larger files.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Span {
    pub start: u32,
    pub end: u32,
}

impl Span {
    pub const fn new(start: u32, end: u32) -> Self {
        Self { start, end }
    }

    /// The empty span at `at`.
    pub const fn at(at: u32) -> Self {
        Self { start: at, end: at }
    }

    pub const fn len(self) -> u32 {
        self.end - self.start
    }

    pub const fn is_empty(self) -> bool {
        self.start == self.end
    }

    #[cfg(feature = "internals")]
    pub const fn contains(self, offset: u32) -> bool {
        self.start <= offset && offset < self.end
    }

    /// Whether the two ranges share a byte, or one is empty and touches the other.
    pub const fn touches(self, other: Span) -> bool {
        self.start <= other.end && other.start <= self.end
    }

    /// The smallest span that holds both.
    pub fn to(self, other: Span) -> Span {
        Span::new(self.start.min(other.start), self.end.max(other.end))
    }

    /// The same span in a text that starts `offset` bytes earlier.
    pub const fn shifted(self, offset: u32) -> Span {
        Span::new(self.start + offset, self.end + offset)
    }

    /// The piece of `text` that this span covers.
    pub fn of(self, text: &str) -> &str {
        &text[self.range()]
    }

    pub const fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }
}
