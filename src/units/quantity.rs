//! A number with its unit, whatever it measures.

use super::{Dimension, Unit};
use std::fmt;

/// A value in the unit in which it was written.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Quantity {
    /// In `unit`.
    pub value: f64,
    pub unit: Unit,
}

/// Two quantities that cannot be put together, by what they measure.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DimensionMismatch {
    pub left: Dimension,
    pub right: Dimension,
}

impl fmt::Display for DimensionMismatch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} and {} do not go together", self.left.name(), self.right.name())
    }
}

impl std::error::Error for DimensionMismatch {}

#[expect(clippy::should_implement_trait, reason = "arithmetic of a sheet may fail, an operator may not")]
impl Quantity {
    pub const fn new(value: f64, unit: Unit) -> Self {
        Self { value, unit }
    }

    /// A number without a unit.
    pub const fn plain(value: f64) -> Self {
        Self::new(value, Unit::ONE)
    }

    /// The value in base units (kg, m, s, rad, K, div, mark).
    pub const fn base(self) -> f64 {
        self.unit.to_base(self.value)
    }

    pub const fn dimension(self) -> Dimension {
        self.unit.dimension()
    }

    pub fn in_unit(self, unit: Unit) -> Option<Self> {
        self.unit.convert(self.value, unit).map(|value| Self { value, unit })
    }

    /// The sum, in the unit of the left side. `20 °C + 5 °C` is 25 °C: the right side is a difference.
    pub fn add(self, other: Self) -> Result<Self, DimensionMismatch> {
        let value = other.unit.convert_difference(other.value, self.unit);
        let value = value.ok_or_else(|| self.mismatch(other))?;
        Ok(Self { value: self.value + value, unit: self.unit })
    }

    /// The difference, in the unit of the left side.
    pub fn sub(self, other: Self) -> Result<Self, DimensionMismatch> {
        self.add(Self { value: -other.value, unit: other.unit })
    }

    /// The product. A temperature on a scale with a zero of its own has none.
    pub fn mul(self, other: Self) -> Result<Self, DimensionMismatch> {
        self.combined(other, 1, self.value * other.value)
    }

    /// The quotient; infinite or not a number when `other` is zero.
    pub fn div(self, other: Self) -> Result<Self, DimensionMismatch> {
        self.combined(other, -1, self.value / other.value)
    }

    fn combined(self, other: Self, sign: i8, value: f64) -> Result<Self, DimensionMismatch> {
        if self.unit.offset() != 0.0 || other.unit.offset() != 0.0 {
            return Err(self.mismatch(other));
        }
        // What has no dimension is taken in as a number: 5 % of 3 g is a mass in grams.
        if other.dimension() == Dimension::NONE {
            let factor = other.unit.factor();
            return Ok(
                Self { value: if sign > 0 { value * factor } else { value / factor }, unit: self.unit }.reduced()
            );
        }
        if self.dimension() == Dimension::NONE && sign > 0 {
            return Ok(Self { value: value * self.unit.factor(), unit: other.unit });
        }
        Ok(match self.unit.combined(other.unit, sign) {
            Some(unit) => Self { value, unit }.reduced(),
            // Too many symbols to keep as written: base units always fit.
            None => self.combined_in_base_units(other, sign),
        })
    }

    fn combined_in_base_units(self, other: Self, sign: i8) -> Self {
        let value = if sign > 0 { self.base() * other.base() } else { self.base() / other.base() };
        Self { value, unit: Unit::base(self.dimension().times(other.dimension().power(sign))) }
    }

    /// What cancels leaves a plain number: `1 in / 1 mm` is 25.4.
    fn reduced(self) -> Self {
        if self.dimension() == Dimension::NONE && self.unit != Unit::PERCENT {
            Self::plain(self.unit.to_base(self.value))
        } else {
            self
        }
    }

    fn mismatch(self, other: Self) -> DimensionMismatch {
        DimensionMismatch { left: self.dimension(), right: other.dimension() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quantity(value: f64, unit: &str) -> Quantity {
        Quantity::new(value, Unit::parse(unit).unwrap())
    }

    #[test]
    fn sums_are_in_the_unit_of_the_left_side() {
        let sum = quantity(12.0, "mm").add(quantity(0.5, "in")).unwrap();
        assert_eq!(sum, quantity(24.7, "mm"));
        let warmer = quantity(20.0, "°C").add(quantity(5.0, "°C")).unwrap();
        assert_eq!(warmer, quantity(25.0, "°C"));
    }

    #[test]
    fn a_sum_of_two_dimensions_names_both() {
        let mismatch = quantity(1.0, "g").sub(quantity(1.0, "g·mm")).unwrap_err();
        assert_eq!(mismatch.to_string(), "mass and unbalance (mass × length) do not go together");
    }

    #[test]
    fn products_and_quotients() {
        let product = |left: Quantity, right| left.mul(right).unwrap();
        let quotient = |left: Quantity, right| left.div(right).unwrap();
        assert_eq!(product(quantity(3.0, "g"), quantity(2.0, "mm")), quantity(6.0, "g·mm"));
        assert_eq!(product(quantity(5.0, "%"), quantity(3.0, "g")), quantity(0.15, "g"));
        assert_eq!(quotient(quantity(6.0, "g·mm"), quantity(2.0, "mm")), quantity(3.0, "g"));
        assert_eq!(quotient(quantity(1.0, "in"), quantity(1.0, "mm")), Quantity::plain(25.4));
        assert_eq!(quotient(quantity(268.4, "mm"), Quantity::plain(2.0)), quantity(134.2, "mm"));
        assert_eq!(quotient(Quantity::plain(1.0), quantity(2.0, "s")).unit.to_string(), "1/s");
        assert!(quantity(20.0, "°C").mul(Quantity::plain(2.0)).is_err());
    }

    #[test]
    fn a_product_of_many_symbols_falls_back_to_base_units() {
        let lengths = ["m", "cm", "mm", "µm", "in", "mil", "thou", "g"];
        let product = lengths.iter().map(|unit| quantity(10.0, unit)).reduce(|a, b| a.mul(b).unwrap()).unwrap();
        assert_eq!(product.unit.to_string(), "kg·m⁷");
        let expected = 1e8 * 1e-2 * 1e-3 * 1e-6 * 0.0254 * 25.4e-6 * 25.4e-6 * 1e-3;
        assert!((product.value / expected - 1.0).abs() < 1e-12);
    }
}
