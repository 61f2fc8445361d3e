//! A number with its unit, whatever it measures.

#[cfg(feature = "internals")]
use super::Dimension;
use super::Unit;

/// A value in the unit in which it was written.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Quantity {
    /// In `unit`.
    pub value: f64,
    pub unit: Unit,
}

impl Quantity {
    pub const fn new(value: f64, unit: Unit) -> Self {
        Self { value, unit }
    }

    /// The value in base units (kg, m, s, rad, K, div, mark).
    #[cfg(feature = "internals")]
    pub const fn base(self) -> f64 {
        self.unit.to_base(self.value)
    }

    #[cfg(feature = "internals")]
    pub const fn dimension(self) -> Dimension {
        self.unit.dimension()
    }
}

/// Whether two numbers of one unit are the same but for the noise of a conversion.
pub fn is_same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}
