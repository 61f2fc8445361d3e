//! Dimensions: what kind of quantity a unit measures.

use std::borrow::Cow;
use std::fmt::Write as _;

/// The exponents of the seven bases a sheet needs.
///
/// Angle is a base of its own, so that a speed (angle per time) is never taken for a frequency count
/// or a velocity. A division of a readout and a mark of a dial are bases too: they convert into nothing.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Dimension {
    mass: i8,
    length: i8,
    time: i8,
    angle: i8,
    temperature: i8,
    division: i8,
    mark: i8,
}

impl Dimension {
    pub const NONE: Self = Self { mass: 0, length: 0, time: 0, angle: 0, temperature: 0, division: 0, mark: 0 };
    pub const MASS: Self = Self { mass: 1, ..Self::NONE };
    pub const LENGTH: Self = Self { length: 1, ..Self::NONE };
    pub const TIME: Self = Self { time: 1, ..Self::NONE };
    pub const ANGLE: Self = Self { angle: 1, ..Self::NONE };
    pub const TEMPERATURE: Self = Self { temperature: 1, ..Self::NONE };
    pub const DIVISION: Self = Self { division: 1, ..Self::NONE };
    pub const MARK: Self = Self { mark: 1, ..Self::NONE };
    pub const AREA: Self = Self::LENGTH.power(2);
    pub const VOLUME: Self = Self::LENGTH.power(3);
    pub const UNBALANCE: Self = Self::MASS.times(Self::LENGTH);
    /// Moment unbalance and moment of inertia.
    pub const COUPLE: Self = Self::MASS.times(Self::AREA);
    pub const SPEED: Self = Self::ANGLE.per(Self::TIME);
    pub const VELOCITY: Self = Self::LENGTH.per(Self::TIME);
    pub const DENSITY: Self = Self::MASS.per(Self::VOLUME);
    pub const FORCE: Self = Self::UNBALANCE.per(Self::TIME.power(2));
    pub const PRESSURE: Self = Self::FORCE.per(Self::AREA);

    /// Force per deflection of a spring.
    pub const STIFFNESS: Self = Self::FORCE.per(Self::LENGTH);

    /// The dimension of a product. Exponents stop at the ends of their range, far beyond any unit.
    pub const fn times(self, other: Self) -> Self {
        Self {
            mass: self.mass.saturating_add(other.mass),
            length: self.length.saturating_add(other.length),
            time: self.time.saturating_add(other.time),
            angle: self.angle.saturating_add(other.angle),
            temperature: self.temperature.saturating_add(other.temperature),
            division: self.division.saturating_add(other.division),
            mark: self.mark.saturating_add(other.mark),
        }
    }

    /// The dimension of a quotient.
    pub const fn per(self, other: Self) -> Self {
        self.times(other.power(-1))
    }

    pub const fn power(self, exponent: i8) -> Self {
        Self {
            mass: self.mass.saturating_mul(exponent),
            length: self.length.saturating_mul(exponent),
            time: self.time.saturating_mul(exponent),
            angle: self.angle.saturating_mul(exponent),
            temperature: self.temperature.saturating_mul(exponent),
            division: self.division.saturating_mul(exponent),
            mark: self.mark.saturating_mul(exponent),
        }
    }

    /// What a message calls this dimension.
    pub fn name(self) -> Cow<'static, str> {
        match NAMED.iter().find(|named| named.dimension == self) {
            Some(named) => Cow::Borrowed(named.name),
            None => Cow::Owned(self.spelled_out()),
        }
    }

    /// The units people write for this dimension, the most usual first; empty when it has no name.
    pub fn usual_units(self) -> &'static [&'static str] {
        NAMED.iter().find(|named| named.dimension == self).map_or(&[], |named| named.units)
    }

    /// The exponents with the coherent base unit of each: kg, m, s, rad, K, div, mark.
    pub(super) const fn exponents(self) -> [(i8, &'static str, &'static str); 7] {
        [
            (self.mass, "mass", "kg"),
            (self.length, "length", "m"),
            (self.time, "time", "s"),
            (self.angle, "angle", "rad"),
            (self.temperature, "temperature", "K"),
            (self.division, "division", "div"),
            (self.mark, "mark", "mark"),
        ]
    }

    fn spelled_out(self) -> String {
        let factors = |sign: i8| {
            let mut text = String::new();
            for (exponent, name, _) in self.exponents() {
                if exponent.signum() == sign {
                    let joiner = if text.is_empty() { "" } else { " × " };
                    // Writing into a string cannot fail.
                    let _ = write!(text, "{joiner}{name}{}", Exponent(exponent.unsigned_abs()));
                }
            }
            text
        };
        let (above, below) = (factors(1), factors(-1));
        let above = if above.is_empty() { "1".to_owned() } else { above };
        match below.contains('×') {
            _ if below.is_empty() => above,
            true => format!("{above} per ({below})"),
            false => format!("{above} per {below}"),
        }
    }
}

/// An exponent as it comes after a unit: nothing for 1, else raised digits.
pub(super) struct Exponent(pub u8);

impl std::fmt::Display for Exponent {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.0 == 1 {
            return Ok(());
        }
        for digit in self.0.to_string().bytes() {
            f.write_char(super::parse::RAISED_DIGITS[usize::from(digit - b'0')])?;
        }
        Ok(())
    }
}

struct Named {
    dimension: Dimension,
    name: &'static str,
    units: &'static [&'static str],
}

const fn named(dimension: Dimension, name: &'static str, units: &'static [&'static str]) -> Named {
    Named { dimension, name, units }
}

static NAMED: [Named; 17] = [
    named(Dimension::NONE, "plain number", &["%"]),
    named(Dimension::MASS, "mass", &["kg", "g", "oz", "lb", "mg"]),
    named(Dimension::LENGTH, "length", &["mm", "in", "µm", "cm", "m", "mil", "thou", "g·mm/kg"]),
    named(
        Dimension::UNBALANCE,
        "unbalance (mass × length)",
        &["g·mm", "oz·in", "g·in", "g·cm", "kg·mm", "kg·m", "mg·mm", "lb·in"],
    ),
    named(
        Dimension::COUPLE,
        "couple or moment of inertia (mass × length²)",
        &["g·mm²", "kg·m²", "kg·mm²", "oz·in²", "lb·in²"],
    ),
    named(Dimension::SPEED, "speed", &["rpm", "r/min", "Hz", "rad/s"]),
    named(Dimension::VELOCITY, "velocity", &["mm/s", "m/s", "in/s"]),
    named(Dimension::ANGLE, "angle", &["deg", "°", "rad", "r"]),
    named(Dimension::DENSITY, "density", &["g/cm³", "kg/m³", "lb/in³"]),
    named(Dimension::FORCE, "force", &["N", "lbf", "gf", "kgf"]),
    named(Dimension::PRESSURE, "pressure", &["MPa", "psi", "Pa"]),
    named(Dimension::TIME, "time", &["s", "min", "h", "d"]),
    named(Dimension::TEMPERATURE, "temperature", &["°C", "degC", "K"]),
    named(Dimension::AREA, "area", &["mm²", "cm²", "in²", "m²"]),
    named(Dimension::VOLUME, "volume", &["mm³", "cm³", "in³", "m³"]),
    named(Dimension::DIVISION, "divisions of the readout", &["div"]),
    named(Dimension::MARK, "marks on a dial", &["mark"]),
];

#[cfg(test)]
mod tests {
    use super::super::Unit;
    use super::*;

    #[test]
    fn names() {
        assert_eq!(Dimension::UNBALANCE.name(), "unbalance (mass × length)");
        assert_eq!(Dimension::MASS.power(2).per(Dimension::LENGTH).name(), "mass² per length");
        assert_eq!(Dimension::NONE.per(Dimension::TIME).name(), "1 per time");
        let viscosity = Dimension::MASS.per(Dimension::LENGTH.times(Dimension::TIME));
        assert_eq!(viscosity.name(), "mass per (length × time)");
        assert_eq!(Dimension::LENGTH.power(12).name(), "length¹²");
    }

    #[test]
    fn usual_units_are_units_of_their_dimension_in_canonical_spelling() {
        for named in &NAMED {
            for text in named.units {
                let unit = Unit::parse(text).unwrap();
                assert_eq!(unit.dimension(), named.dimension, "{text}");
                assert_eq!(unit.to_string(), *text);
            }
        }
    }
}
