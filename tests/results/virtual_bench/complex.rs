//! As much of complex numbers as the equations of motion need.

use std::ops::{Add, Div, Mul, Neg, Sub};

#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Complex {
    pub re: f64,
    pub im: f64,
}

pub const fn complex(re: f64, im: f64) -> Complex {
    Complex { re, im }
}

impl Complex {
    pub const ZERO: Self = complex(0.0, 0.0);

    pub fn polar(amount: f64, angle: f64) -> Self {
        complex(amount * angle.cos(), amount * angle.sin())
    }

    pub fn amount(self) -> f64 {
        self.re.hypot(self.im)
    }

    pub fn angle(self) -> f64 {
        self.im.atan2(self.re)
    }

    pub fn times(self, factor: f64) -> Self {
        complex(self.re * factor, self.im * factor)
    }
}

impl Add for Complex {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        complex(self.re + other.re, self.im + other.im)
    }
}

impl Sub for Complex {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        complex(self.re - other.re, self.im - other.im)
    }
}

impl Neg for Complex {
    type Output = Self;
    fn neg(self) -> Self {
        complex(-self.re, -self.im)
    }
}

impl Mul for Complex {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        complex(self.re * other.re - self.im * other.im, self.re * other.im + self.im * other.re)
    }
}

impl Div for Complex {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let square = other.re * other.re + other.im * other.im;
        (self * complex(other.re, -other.im)).times(1.0 / square)
    }
}

impl std::iter::Sum for Complex {
    fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
        terms.fold(Self::ZERO, Add::add)
    }
}
