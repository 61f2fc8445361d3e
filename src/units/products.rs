//! Which quantities multiply and divide into which.

use super::*;
use std::ops::{Div, Mul};

/// `a × b = c` in both orders. Quotients are listed apart: a length does not say which length it is.
macro_rules! product {
    ($($left:ident * $right:ident = $product:ident),* $(,)?) => {$(
        impl Mul<$right> for $left {
            type Output = $product;
            fn mul(self, other: $right) -> $product {
                $product::from_base(self.base() * other.base())
            }
        }

        impl Mul<$left> for $right {
            type Output = $product;
            fn mul(self, other: $left) -> $product {
                other * self
            }
        }
    )*};
}

macro_rules! square {
    ($($factor:ident = $square:ident),*) => {$(
        impl Mul for $factor {
            type Output = $square;
            fn mul(self, other: Self) -> $square {
                $square::from_base(self.base() * other.base())
            }
        }
    )*};
}

macro_rules! quotient {
    ($($dividend:ident / $divisor:ident = $quotient:ident),* $(,)?) => {$(
        impl Div<$divisor> for $dividend {
            type Output = $quotient;
            fn div(self, other: $divisor) -> $quotient {
                $quotient::from_base(self.base() / other.base())
            }
        }
    )*};
}

square!(Length = Area);

product!(
    Mass * Length = Unbalance,
    Mass * SpecificUnbalance = Unbalance,
    Mass * Area = Inertia,
    Unbalance * Length = Couple,
    Length * Area = Volume,
    Density * Volume = Mass,
    Pressure * Area = Force,
    SpecificUnbalance * Speed = Velocity,
    Length * Speed = Velocity,
    Velocity * Time = Length,
    Speed * Time = Angle,
);

quotient!(
    Unbalance / Mass = SpecificUnbalance,
    Unbalance / SpecificUnbalance = Mass,
    Unbalance / Length = Mass,
    Couple / Length = Unbalance,
    Couple / Unbalance = Length,
    Mass / Volume = Density,
    Mass / Density = Volume,
    Area / Length = Length,
    Volume / Length = Area,
    Volume / Area = Length,
    Force / Area = Pressure,
    Force / Pressure = Area,
    Velocity / Speed = SpecificUnbalance,
    Velocity / SpecificUnbalance = Speed,
    Velocity / Length = Speed,
    Angle / Time = Speed,
    Length / Time = Velocity,
);
