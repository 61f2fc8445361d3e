//! Why a block has none of a result that blocks of its kind may have: said by the computation that left it out.

use std::borrow::Cow;
use std::sync::Arc;

use super::missing::why;
use crate::book::files::{Book, FileId};
use crate::book::origin::{Missing, Path};
use crate::text::Span;
use crate::vocabulary::{AnyFact, Of, ResultSpec};

/// A result that was not asked for, and why. Kept apart from the entries, which people see.
#[derive(Clone, Debug)]
pub struct NotComputed {
    pub spec: &'static ResultSpec,
    /// What it would be of; `None` where none of them is computed.
    pub of: Option<Of>,
    pub path: Path,
    /// The fact or heading that it would be shown beside.
    pub place: (FileId, Span),
    pub why: WhyNot,
}

impl NotComputed {
    /// Whether this is said of a result of one block.
    pub fn is(&self, spec: &'static ResultSpec, block: &Path) -> bool {
        self.spec == spec && self.path == *block
    }

    /// Whether this is said of a result by the name it is pinned by.
    pub fn answers_to(&self, pinned: &str) -> bool {
        match &self.of {
            Some(of) => *pinned == *self.spec.named(Some(of)),
            None => self.spec.answers_to(pinned),
        }
    }
}

/// What it is that a result needs and does not have.
#[derive(Clone, Debug)]
pub enum WhyNot {
    /// A fact of the block, or of what it names.
    LeftOut(AnyFact),
    /// One of two facts.
    BothLeftOut(AnyFact, AnyFact),
    /// It is given, and not computed.
    Given(AnyFact),
    /// A fact or result elsewhere.
    Lacks(Arc<Missing>),
    /// The radius of a plane whose method does not give one.
    NoRadius(Arc<Missing>),
    /// A formula that has no answer, or what somebody did; says so.
    Says(Cow<'static, str>),
}

impl From<&'static str> for WhyNot {
    fn from(says: &'static str) -> Self {
        WhyNot::Says(says.into())
    }
}

impl WhyNot {
    pub fn words(&self, book: &Book) -> String {
        match self {
            WhyNot::LeftOut(fact) => format!("`{fact}` is missing"),
            WhyNot::BothLeftOut(one, other) => format!("`{one}` or `{other}` is missing"),
            WhyNot::Given(fact) => format!("`{fact}` is given"),
            WhyNot::Lacks(missing) => why(book, missing),
            WhyNot::NoRadius(missing) => {
                format!("the plane gives no correction radius: {}", why(book, missing))
            }
            WhyNot::Says(says) => says.to_string(),
        }
    }

    /// What is missing elsewhere, where that is the reason.
    pub fn missing(&self) -> Option<&Missing> {
        match self {
            WhyNot::Lacks(missing) | WhyNot::NoRadius(missing) => Some(missing),
            WhyNot::LeftOut(_) | WhyNot::BothLeftOut(..) | WhyNot::Given(_) | WhyNot::Says(_) => None,
        }
    }
}
