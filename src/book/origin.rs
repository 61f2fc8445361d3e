//! Where a value comes from, and why one is missing.

use std::borrow::Cow;
use std::fmt;
use std::sync::Arc;

use super::files::{FileId, ItemId};
use crate::mechanics::DomainError;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::Span;

/// The blocks a value is in, outermost first, without the item itself: `calibrate hub`.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Path(Arc<[Step]>);

/// One block on the way to a value, with the name in its heading.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Step {
    pub kind: Kind,
    pub name: Option<Box<str>>,
}

impl Step {
    pub fn new(kind: Kind) -> Self {
        Self { kind, name: None }
    }

    pub fn named(kind: Kind, name: &str) -> Self {
        Self { kind, name: Some(name.into()) }
    }

    pub fn of(block: &Block) -> Self {
        Self { kind: block.kind, name: block.name.as_ref().map(|name| name.text.clone()) }
    }
}

/// As the heading reads: `calibrate hub`.
impl fmt::Display for Step {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.name {
            Some(name) => write!(f, "{} {name}", self.kind),
            None => write!(f, "{}", self.kind),
        }
    }
}

impl Path {
    pub fn item() -> Self {
        Self(Arc::from([]))
    }

    pub fn then(&self, block: Step) -> Self {
        Self(self.0.iter().cloned().chain([block]).collect())
    }

    pub fn blocks(&self) -> impl ExactSizeIterator<Item = &Step> + DoubleEndedIterator {
        self.0.iter()
    }

    /// Whether the value is of the item itself.
    pub fn is_item(&self) -> bool {
        self.0.is_empty()
    }

    /// The block that the value is in; `None` for the item itself.
    pub fn innermost(&self) -> Option<&Step> {
        self.0.last()
    }

    /// The blocks, the outermost first.
    pub fn steps(&self) -> &[Step] {
        &self.0
    }

    /// The headings of the blocks, as people read them.
    pub fn headings(&self) -> impl Iterator<Item = String> {
        self.0.iter().map(Step::to_string)
    }
}

/// A fact or a result of an item of the book.
#[derive(Clone, PartialEq, Debug)]
pub struct Origin {
    pub item: ItemId,
    pub path: Path,
    /// Key of the fact, or name of the result.
    pub name: Cow<'static, str>,
    /// Where it is written; `None` for a result, which stands nowhere unless it is pinned.
    pub place: Option<(FileId, Span)>,
}

/// What a result lacks.
#[derive(Clone, PartialEq, Debug)]
pub struct Missing {
    pub origin: Origin,
    pub reason: Reason,
}

impl Missing {
    /// Whether a diagnostic at the place where it is written says so already.
    pub fn is_reported(&self) -> bool {
        matches!(self.reason, Reason::Unreadable | Reason::NoSuchItem | Reason::NoSuchPlane)
    }
}

#[derive(Clone, PartialEq, Debug)]
pub enum Reason {
    /// The fact is not given.
    NotGiven,
    /// The fact stands there but could not be read; that has been reported where it is.
    Unreadable,
    /// A reference leads nowhere; reported where it is.
    NoSuchItem,
    /// The block is named by a plane that its rotor does not have; reported where it is.
    NoSuchPlane,
    /// It cannot be computed from what is given; says why.
    Impossible(Cow<'static, str>),
    /// The formula gives nothing for what is given.
    Domain(DomainError),
    /// More than one answer explains what is given; says which.
    Ambiguous(Cow<'static, str>),
}
