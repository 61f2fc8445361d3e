//! Quantities whose dimension the compiler knows, for the formulas.

use super::{Dimension, Unit};
use std::ops::{Add, Div, Mul, Neg, Sub};

/// An amount that can be added and scaled, held as one number in a fixed unit.
pub trait Amount: Copy {
    fn from_raw(raw: f64) -> Self;
    fn raw(self) -> f64;

    /// The number to be shown in a unit, in the base of that unit: a couple that counts as an unbalance at [`ARM`] is shown
    /// as the couple that it is.
    fn shown_in(self, _: Unit) -> f64 {
        self.raw()
    }

    /// So many times the amount.
    fn scaled(self, factor: f64) -> Self {
        Self::from_raw(self.raw() * factor)
    }

    /// The amount and so much more, in its fixed unit.
    fn moved(self, by: f64) -> Self {
        Self::from_raw(self.raw() + by)
    }
}

/// A quantity of one dimension, held in base units (kg, m, s, rad).
pub trait Typed: Copy {
    const DIMENSION: Dimension;
    fn from_base(base: f64) -> Self;
    fn base(self) -> f64;
}

impl<T: Typed> Amount for T {
    fn from_raw(raw: f64) -> Self {
        Self::from_base(raw)
    }

    fn raw(self) -> f64 {
        self.base()
    }

    fn shown_in(self, unit: Unit) -> f64 {
        let is_couple = Self::DIMENSION == Dimension::UNBALANCE && unit.dimension() == Dimension::COUPLE;
        self.base() * if is_couple { ARM.base() } else { 1.0 }
    }
}

/// A couple counts as the unbalance that makes it at this arm, so that one table holds every limit.
pub const ARM: Length = Length::millimetres(1.0);

/// Defines one quantity: its dimension, then for each unit a constructor and the reader of the same unit.
macro_rules! typed {
    ($(#[$doc:meta])* $name:ident, $dimension:ident: $($from:ident $to:ident $unit:ident),* $(,)?) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, PartialOrd, Debug, Default)]
        pub struct $name(f64);

        impl $name {
            pub const ZERO: Self = Self(0.0);

            $(
                #[doc = concat!("From a value in the unit [`Unit::", stringify!($unit), "`].")]
                pub const fn $from(value: f64) -> Self {
                    Self(Unit::$unit.to_base(value))
                }

                #[doc = concat!("The value in the unit [`Unit::", stringify!($unit), "`].")]
                pub const fn $to(self) -> f64 {
                    Unit::$unit.from_base(self.0)
                }
            )*

            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }

            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            pub const fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }

        impl Typed for $name {
            const DIMENSION: Dimension = Dimension::$dimension;

            fn from_base(base: f64) -> Self {
                Self(base)
            }

            fn base(self) -> f64 {
                self.0
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Mul<$name> for f64 {
            type Output = $name;
            fn mul(self, quantity: $name) -> $name {
                quantity * self
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl Div for $name {
            type Output = Ratio;
            fn div(self, other: Self) -> Ratio {
                Ratio(self.0 / other.0)
            }
        }

        impl Mul<Ratio> for $name {
            type Output = Self;
            fn mul(self, ratio: Ratio) -> Self {
                Self(self.0 * ratio.0)
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
                Self(terms.map(|term| term.0).sum())
            }
        }
    };
}

typed!(Mass, MASS:
    kilograms in_kilograms KILOGRAM, grams in_grams GRAM, milligrams in_milligrams MILLIGRAM,
    ounces in_ounces OUNCE, pounds in_pounds POUND);
typed!(Length, LENGTH:
    metres in_metres METRE, millimetres in_millimetres MILLIMETRE, micrometres in_micrometres MICROMETRE,
    inches in_inches INCH);
typed!(
    /// Mass times radius. The sign of an amount is for the caller to give a meaning to.
    Unbalance, UNBALANCE:
    kilogram_metres in_kilogram_metres KILOGRAM_METRE,
    gram_millimetres in_gram_millimetres GRAM_MILLIMETRE, gram_inches in_gram_inches GRAM_INCH,
    ounce_inches in_ounce_inches OUNCE_INCH);
typed!(
    /// A moment of unbalances about a place along the rotor.
    Couple, COUPLE: gram_square_millimetres in_gram_square_millimetres GRAM_SQUARE_MILLIMETRE);
typed!(
    /// A moment of inertia. Of the same dimension as a couple, but never taken for one.
    Inertia, COUPLE:
    kilogram_square_metres in_kilogram_square_metres KILOGRAM_SQUARE_METRE,
    gram_square_millimetres in_gram_square_millimetres GRAM_SQUARE_MILLIMETRE);
typed!(
    /// Unbalance divided by mass: a length, but never taken for one.
    SpecificUnbalance, LENGTH:
    micrometres in_micrometres MICROMETRE,
    gram_millimetres_per_kilogram in_gram_millimetres_per_kilogram GRAM_MILLIMETRE_PER_KILOGRAM);
typed!(
    /// Angular speed.
    Speed, SPEED: rpm in_rpm RPM, hertz in_hertz HERTZ, radians_per_second in_radians_per_second RADIAN_PER_SECOND);
typed!(Velocity, VELOCITY:
    metres_per_second in_metres_per_second METRE_PER_SECOND,
    millimetres_per_second in_millimetres_per_second MILLIMETRE_PER_SECOND);
typed!(Angle, ANGLE: degrees in_degrees DEGREE, radians in_radians RADIAN);
typed!(Density, DENSITY:
    kilograms_per_cubic_metre in_kilograms_per_cubic_metre KILOGRAM_PER_CUBIC_METRE,
    grams_per_cubic_centimetre in_grams_per_cubic_centimetre GRAM_PER_CUBIC_CENTIMETRE);
typed!(Force, FORCE: newtons in_newtons NEWTON, grams_force in_grams_force GRAM_FORCE,
    pounds_force in_pounds_force POUND_FORCE);
typed!(
    /// Force per deflection of a spring.
    Stiffness, STIFFNESS: newtons_per_metre in_newtons_per_metre NEWTON_PER_METRE);
typed!(Pressure, PRESSURE: pascals in_pascals PASCAL, megapascals in_megapascals MEGAPASCAL);
typed!(Time, TIME: seconds in_seconds SECOND, minutes in_minutes MINUTE);
typed!(Area, AREA: square_metres in_square_metres SQUARE_METRE,
    square_millimetres in_square_millimetres SQUARE_MILLIMETRE);
typed!(Volume, VOLUME: cubic_metres in_cubic_metres CUBIC_METRE,
    cubic_millimetres in_cubic_millimetres CUBIC_MILLIMETRE);
typed!(
    /// A plain number that came from dividing two alike.
    Ratio, NONE: new value ONE, percent in_percent PERCENT);

impl Angle {
    pub fn sin(self) -> f64 {
        self.0.sin()
    }

    pub fn cos(self) -> f64 {
        self.0.cos()
    }

    /// The same direction within [0, 360) degrees.
    pub fn within_one_turn(self) -> Self {
        let turned = self.0.rem_euclid(std::f64::consts::TAU);
        // A tiny negative angle comes back as the whole turn itself.
        Self(if turned < std::f64::consts::TAU { turned } else { 0.0 })
    }

    /// As a hand sets it, to a whole degree within [0, 360). Half a degree goes up, be it a hair less by rounding: places
    /// of a plane often lie there.
    pub fn to_whole_degree(self) -> Self {
        const HAIR: f64 = 1e-6;
        Self::degrees((self.in_degrees() + HAIR).round().rem_euclid(360.0))
    }
}

/// An amount on a readout, in the readout's own unit: divisions, marks, or whatever it shows.
///
/// Not [`Typed`]: readouts of different machines do not convert into each other.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug, Default)]
pub struct Indication(f64);

impl Indication {
    pub const fn new(value: f64) -> Self {
        Self(value)
    }

    pub const fn value(self) -> f64 {
        self.0
    }

    /// What a readout shows for an amount of the kind that it shows.
    pub fn showing(amount: impl Amount) -> Self {
        Self(amount.raw())
    }

    /// The amount that it is, on a readout that shows amounts of this kind.
    pub fn shown<T: Amount>(self) -> T {
        T::from_raw(self.0)
    }
}

impl Amount for Indication {
    fn from_raw(raw: f64) -> Self {
        Self(raw)
    }

    fn raw(self) -> f64 {
        self.0
    }
}

impl Mul<f64> for Indication {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Mul<Ratio> for Indication {
    type Output = Self;
    fn mul(self, ratio: Ratio) -> Self {
        Self(self.0 * ratio.0)
    }
}

impl Div for Indication {
    type Output = Ratio;
    fn div(self, other: Self) -> Ratio {
        Ratio(self.0 / other.0)
    }
}

/// What a readout shows for one base unit of unbalance, in the readout's own unit.
///
/// Not [`Typed`], for the same reason as [`Indication`].
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug, Default)]
pub struct Sensitivity(f64);

impl Mul<Unbalance> for Sensitivity {
    type Output = Indication;
    fn mul(self, unbalance: Unbalance) -> Indication {
        Indication(self.0 * unbalance.0)
    }
}

impl Amount for Sensitivity {
    fn from_raw(raw: f64) -> Self {
        Self(raw)
    }

    fn raw(self) -> f64 {
        self.0
    }
}
