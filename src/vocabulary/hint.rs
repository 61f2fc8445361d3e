//! How a hint between the lines says a result.

/// The words around the value of a result, and what else a hint needs to know of it; read by `ide::hints`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Hint {
    pub before: &'static str,
    pub behind: &'static str,
    /// The same where several are in a row, each with what it is of: `hub 2.00 ×, outer rim 0.500 ×`.
    pub behind_in_row: &'static str,
    /// A fact of the block that may be left out.
    pub is_left_out: bool,
    /// Whether `±` is shown too: what is set or put on at the machine, where it matters how well it is known.
    pub has_limits: bool,
    /// Whether the plane, channel or bearing that it is of is named.
    pub says_of: bool,
    pub vector: OfVector,
    pub range: Option<RangeEnd>,
}

/// What is particular about a vector.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum OfVector {
    Plain,
    /// It says what is to be done, add or remove, and needs no words before it.
    Instruction,
    /// Within its own uncertainty it is nothing to speak of.
    BeyondUncertainty,
}

/// An end of a range; both ends are one thing: `from 1120 rpm to 1180 rpm`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RangeEnd {
    Low,
    High,
}

impl Hint {
    /// These words, then the value.
    pub(super) const fn before(before: &'static str) -> Self {
        Self {
            before,
            behind: "",
            behind_in_row: "",
            is_left_out: false,
            has_limits: false,
            says_of: false,
            vector: OfVector::Plain,
            range: None,
        }
    }

    /// The value alone.
    pub(super) const fn alone() -> Self {
        Self::before("")
    }

    /// The value, then these words.
    pub(super) const fn behind(behind: &'static str) -> Self {
        Self { behind, behind_in_row: behind, ..Self::alone() }
    }

    /// The lower end of a range.
    pub(super) const fn from() -> Self {
        Self { range: Some(RangeEnd::Low), ..Self::before("from ") }
    }

    /// The upper end of a range.
    pub(super) const fn to() -> Self {
        Self { range: Some(RangeEnd::High), ..Self::before("to ") }
    }

    /// A fact that may be left out.
    pub(super) const fn left_out(mut self) -> Self {
        self.is_left_out = true;
        self
    }

    pub(super) const fn with_limits(mut self) -> Self {
        self.has_limits = true;
        self
    }

    /// One of several results of a name, which says what it is of.
    pub(super) const fn says_of(mut self) -> Self {
        self.says_of = true;
        self
    }

    pub(super) const fn in_row(mut self, behind: &'static str) -> Self {
        self.behind_in_row = behind;
        self
    }

    pub(super) const fn vector(mut self, vector: OfVector) -> Self {
        self.vector = vector;
        self
    }
}
