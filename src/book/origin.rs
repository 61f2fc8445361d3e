//! Where a value comes from, and why one is missing.

use std::borrow::Cow;
use std::sync::Arc;

use super::files::{FileId, ItemId};
use crate::text::Span;

/// The blocks a value stands in, outermost first, without the item itself: `calibrate hub`.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Path(Arc<[Box<str>]>);

impl Path {
    pub fn item() -> Self {
        Self(Arc::from([]))
    }

    pub fn then(&self, block: impl Into<Box<str>>) -> Self {
        Self(self.0.iter().cloned().chain([block.into()]).collect())
    }

    pub fn blocks(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|block| &**block)
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
    /// The fact stands there but could not be read; that has been reported where it stands.
    Unreadable,
    /// A reference leads nowhere; reported where it stands.
    NoSuchItem,
    /// The block is named by a plane that its rotor does not have; reported where it stands.
    NoSuchPlane,
    /// It cannot be computed from what is given; says why.
    Impossible(Cow<'static, str>),
}
