//! One row of a verdict as it was judged, and the word for it.

use std::sync::Arc;

use super::budget::Budget;
use super::counting::{DoesNotCount, NotCounted};
use crate::book::derive::Val;
use crate::book::origin::Missing;
use crate::mechanics::limits::{ARM, Acted, Acting};
use crate::mechanics::verdict::{Verdict, judge};
use crate::units::{Amount, Typed, Unbalance};
use crate::vocabulary::Of;

/// One limit that stands, judged.
#[derive(Clone, Debug)]
pub struct Judged {
    /// What the limit is set on.
    pub of: Of,
    /// At the worst phase, where only amounts are known.
    pub measured: Val<Acted>,
    pub limit: Val<Acted>,
    /// What the measured amount is known to, at 95 %.
    pub uncertainty: Option<Acted>,
    pub budget: Budget,
    /// `None` when something that it needs is not known.
    pub verdict: Option<Verdict>,
}

impl Judged {
    /// `bearing a`, or the name of the plane.
    pub fn name(&self) -> String {
        self.of.to_string()
    }

    /// An amount of its budget, as what its limit is of.
    pub fn acted(&self, amount: Unbalance) -> Acted {
        let acting = if self.of == Of::Couple { Acting::About(ARM) } else { Acting::Sum };
        acting.acted(amount)
    }

    /// An amount as a share of its limit.
    pub fn share_of_limit(&self, amount: Acted) -> Option<f64> {
        let limit = self.limit.get().filter(|limit| limit.raw() > 0.0)?;
        Some(amount.raw() / limit.raw())
    }

    /// What is left between what was measured and its limit, in base units; below zero beyond it.
    pub fn left(&self) -> Option<f64> {
        Some(self.limit.get()?.raw() - self.measured.get()?.raw())
    }

    /// The word for it, were this the limit.
    pub fn by(&self, limit: &Val<Unbalance>) -> Option<Verdict> {
        let as_amount = |acted: Acted| Unbalance::from_base(acted.raw());
        let [measured, limit] = [self.measured.get()?, self.acted(limit.get()?)].map(as_amount);
        let word = judge([measured; 2], limit, as_amount(self.uncertainty?)).ok()?;
        Some(as_read(word, &self.budget))
    }

    /// What it needs and does not have.
    pub fn lacks(&self) -> Option<&Arc<Missing>> {
        [&self.measured, &self.limit].into_iter().find_map(|value| value.known.as_ref().err())
    }
}

/// `within`, `within as read`, `not shown`, `over as read`, `over`.
pub const fn word_of(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Within => "within",
        Verdict::WithinAsRead => "within as read",
        Verdict::NotShown => "not shown",
        Verdict::OverAsRead => "over as read",
        Verdict::Over => "over",
    }
}

/// What stands beside a row where nothing that was read counts.
const NOT_COUNTED: &str = "not counted";

/// The word beside a row, for whoever reads it alone: none but `over` of a needle on its stop, where what was read counts for
/// nothing; `None` where the row is not known.
pub fn word_of_row(judged: &Judged, does_not_count: &[NotCounted]) -> Option<&'static str> {
    let word = judged.verdict?;
    let counts = |one: &NotCounted| match one.why {
        DoesNotCount::NotKnown => true,
        DoesNotCount::ReadingAtEndOfScale => word >= Verdict::OverAsRead,
        _ => false,
    };
    Some(if does_not_count.iter().all(counts) { word_of(word) } else { NOT_COUNTED })
}

/// A word that rests on a budget: as read where something that may count was not assessed.
pub(super) fn as_read(word: Verdict, budget: &Budget) -> Verdict {
    match word {
        _ if budget.not_assessed().next().is_none() => word,
        Verdict::Within => Verdict::WithinAsRead,
        Verdict::Over => Verdict::OverAsRead,
        word => word,
    }
}
