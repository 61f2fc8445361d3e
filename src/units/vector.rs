//! An amount at an angle.

use super::{Amount, Angle, Ratio};
use std::ops::{Add, Div, Mul, Neg, Sub};

/// A vector in the plane across the rotor's axis, in components: `x` at 0°, `y` at 90°, in the sense in
/// which the angles are counted.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Vector<T: Amount> {
    pub x: T,
    pub y: T,
}

impl<T: Amount> Vector<T> {
    pub fn zero() -> Self {
        Self::from_raw(0.0, 0.0)
    }

    pub fn from_polar(amount: T, angle: Angle) -> Self {
        Self::from_raw(amount.raw() * angle.cos(), amount.raw() * angle.sin())
    }

    /// The length of the vector, never negative.
    pub fn amount(self) -> T {
        T::from_raw(self.x.raw().hypot(self.y.raw()))
    }

    /// The direction within [0, 360) degrees; 0 for a vector of no length.
    pub fn angle(self) -> Angle {
        Angle::radians(self.y.raw().atan2(self.x.raw())).within_one_turn()
    }

    pub fn scale(self, factor: f64) -> Self {
        Self::from_raw(self.x.raw() * factor, self.y.raw() * factor)
    }

    pub fn rotate(self, angle: Angle) -> Self {
        let (x, y, sin, cos) = (self.x.raw(), self.y.raw(), angle.sin(), angle.cos());
        Self::from_raw(x * cos - y * sin, x * sin + y * cos)
    }

    /// The vector with angles counted the other way.
    pub fn mirrored(self) -> Self {
        Self::from_raw(self.x.raw(), -self.y.raw())
    }

    /// The amount multiplied by `factor`'s, turned by its angle.
    pub fn times(self, factor: Vector<Ratio>) -> Self {
        let (x, y, re, im) = (self.x.raw(), self.y.raw(), factor.x.raw(), factor.y.raw());
        Self::from_raw(x * re - y * im, x * im + y * re)
    }

    /// The same vector in another kind of amount, by a function that keeps ratios, such as `|m| m * radius`.
    pub fn map<U: Amount>(self, each: impl Fn(T) -> U) -> Vector<U> {
        Vector { x: each(self.x), y: each(self.y) }
    }

    pub fn is_finite(self) -> bool {
        self.x.raw().is_finite() && self.y.raw().is_finite()
    }

    fn from_raw(x: f64, y: f64) -> Self {
        Self { x: T::from_raw(x), y: T::from_raw(y) }
    }
}

impl<T: Amount> Add for Vector<T> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_raw(self.x.raw() + other.x.raw(), self.y.raw() + other.y.raw())
    }
}

impl<T: Amount> Sub for Vector<T> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_raw(self.x.raw() - other.x.raw(), self.y.raw() - other.y.raw())
    }
}

impl<T: Amount> Neg for Vector<T> {
    type Output = Self;
    fn neg(self) -> Self {
        self.scale(-1.0)
    }
}

impl<T: Amount> Mul<f64> for Vector<T> {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        self.scale(factor)
    }
}

impl<T: Amount> Div<f64> for Vector<T> {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        self.scale(divisor.recip())
    }
}

impl<T: Amount> std::iter::Sum for Vector<T> {
    fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
        terms.fold(Self::zero(), Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Mass, Unbalance};
    use super::*;

    fn grams(amount: f64, degrees: f64) -> Vector<Mass> {
        Vector::from_polar(Mass::grams(amount), Angle::degrees(degrees))
    }

    #[test]
    fn vectors_add_as_a_right_triangle() {
        // 8, 6 and 10: plain geometry, no source.
        let sum = grams(8.0, 30.0) + grams(6.0, 120.0);
        assert!((sum.amount().in_grams() - 10.0).abs() < 1e-12);
        assert!((sum.angle().in_degrees() - 66.869_897_645_844).abs() < 1e-9);
    }

    #[test]
    fn angles_are_counted_up_from_zero() {
        assert!((grams(1.0, -10.0).angle().in_degrees() - 350.0).abs() < 1e-9);
        assert!((grams(-1.0, 0.0).angle().in_degrees() - 180.0).abs() < 1e-9);
        assert_eq!(Vector::<Mass>::zero().angle(), Angle::ZERO);
        assert_eq!(Angle::radians(-1e-18).within_one_turn(), Angle::ZERO);
    }

    #[test]
    fn a_mass_becomes_an_unbalance() {
        let at_radius = grams(3.0, 45.0).map(|mass| mass * super::super::Length::millimetres(50.0));
        let expected = Unbalance::gram_millimetres(150.0);
        assert!(((at_radius.amount() / expected).value() - 1.0).abs() < 1e-12);
    }
}
