//! Facts that are all given although any of them follows from the others: whether they agree.

use super::factors::{Factor, of_a_calibration, of_a_length};
use crate::book::{self, Entry, Outcome, Val};
use crate::units::{Amount, Unit};
use crate::vocabulary::ResultSpec;

/// A computed amount to hold a stated one against. In base units; the uncertainty is expanded, k = 2.
#[derive(Clone, Copy, Debug)]
pub struct Reckoned {
    pub base: f64,
    pub expanded: f64,
    pub unit: Unit,
}

impl Reckoned {
    /// `None` for a hole.
    pub fn of<T: Amount>(value: &Val<T>) -> Option<Self> {
        Some(Self { base: value.get()?.raw(), expanded: value.expanded_uncertainty(), unit: value.unit })
    }

    /// A result of an item; `None` for a hole or when the item has no such amount.
    pub fn entry<'e>(entries: impl IntoIterator<Item = &'e Entry>, spec: &'static ResultSpec) -> Option<Self> {
        let entry = entries.into_iter().find(|entry| entry.is(spec) && entry.path.is_item())?;
        let Outcome::Amount { base, unit, standard } = entry.outcome else { return None };
        Some(Self { base, expanded: 2.0 * standard, unit })
    }

    /// They disagree when the difference exceeds the computed value's ± and half a step of the stated one.
    pub fn disagrees_with(&self, base: f64, half_step: f64) -> bool {
        (self.base - base).abs() > self.expanded + half_step + 1e-9 * self.base.abs()
    }

    pub fn shown(&self) -> String {
        book::display_value(self.base, self.unit, self.expanded / 2.0)
    }

    /// `; that is a factor of 25.4, as with inches mistaken for millimetres`, or nothing.
    pub fn familiar(&self, base: f64) -> String {
        said(of_a_calibration(self.base / base))
    }

    /// The same of a length along the axis, or of a radius.
    pub fn familiar_length(&self, base: f64, radius: bool) -> String {
        said(of_a_length(self.base / base, radius))
    }
}

fn said(factor: Option<&Factor>) -> String {
    factor.map_or_else(String::new, |factor| {
        format!("; they differ by a factor of {}, as with {}", factor.written, factor.slip)
    })
}
