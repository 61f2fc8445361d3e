//! A unit put together from symbols of the table.

use super::Dimension;
use super::atom::{Atom, TABLE};
use super::dimension::Exponent;
use super::parse::{self, UnitError};
use std::fmt;

/// Seven bases, so every dimension can be written in base units.
pub(super) const MOST_PARTS: usize = 7;

/// One symbol with its exponent; negative below the stroke.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Part {
    pub atom: u8,
    pub power: i8,
}

impl Part {
    pub const NONE: Part = Part { atom: 0, power: 0 };

    fn atom(self) -> &'static Atom {
        &TABLE[usize::from(self.atom)]
    }
}

/// A unit as written: its symbols in their order, and its size in base units (kg, m, s, rad, K, div, mark).
///
/// Two spellings of one size (`rpm` and `r/min`) are different units of the same dimension and factor.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    numerator: f64,
    denominator: f64,
    dimension: Dimension,
    parts: [Part; MOST_PARTS],
    length: u8,
    /// From which symbol on they stand after `per`, as in `mm/s per kg·mm`; 0 without it.
    per: u8,
}

impl Unit {
    /// The unit of a plain number.
    pub const ONE: Self = Self {
        numerator: 1.0,
        denominator: 1.0,
        dimension: Dimension::NONE,
        parts: [Part::NONE; MOST_PARTS],
        length: 0,
        per: 0,
    };

    pub const KILOGRAM: Self = known("kg");
    pub const GRAM: Self = known("g");
    pub const MILLIGRAM: Self = known("mg");
    pub const OUNCE: Self = known("oz");
    pub const POUND: Self = known("lb");
    pub const METRE: Self = known("m");
    pub const MILLIMETRE: Self = known("mm");
    pub const MICROMETRE: Self = known("µm");
    pub const INCH: Self = known("in");
    pub const KILOGRAM_METRE: Self = known("kg·m");
    pub const KILOGRAM_MILLIMETRE: Self = known("kg·mm");
    pub const GRAM_MILLIMETRE: Self = known("g·mm");
    pub const GRAM_INCH: Self = known("g·in");
    pub const OUNCE_INCH: Self = known("oz·in");
    pub const GRAM_SQUARE_MILLIMETRE: Self = known("g·mm²");
    pub const KILOGRAM_SQUARE_METRE: Self = known("kg·m²");
    pub const GRAM_MILLIMETRE_PER_KILOGRAM: Self = known("g·mm/kg");
    pub const SQUARE_METRE: Self = known("m²");
    pub const SQUARE_MILLIMETRE: Self = known("mm²");
    pub const CUBIC_METRE: Self = known("m³");
    pub const CUBIC_MILLIMETRE: Self = known("mm³");
    pub const KILOGRAM_PER_CUBIC_METRE: Self = known("kg/m³");
    pub const GRAM_PER_CUBIC_CENTIMETRE: Self = known("g/cm³");
    pub const NEWTON: Self = known("N");
    pub const GRAM_FORCE: Self = known("gf");
    pub const POUND_FORCE: Self = known("lbf");
    pub const NEWTON_PER_METRE: Self = known("N/m");
    pub const PASCAL: Self = known("Pa");
    pub const MEGAPASCAL: Self = known("MPa");
    pub const SECOND: Self = known("s");
    pub const MINUTE: Self = known("min");
    pub const RPM: Self = known("rpm");
    pub const HERTZ: Self = known("Hz");
    pub const RADIAN_PER_SECOND: Self = known("rad/s");
    pub const METRE_PER_SECOND: Self = known("m/s");
    pub const MILLIMETRE_PER_SECOND: Self = known("mm/s");
    pub const DEGREE: Self = known("deg");
    pub const RADIAN: Self = known("rad");
    #[cfg(test)]
    pub const DEGREE_CELSIUS: Self = known("°C");
    #[cfg(test)]
    pub const KELVIN: Self = known("K");
    pub const PERCENT: Self = known("%");
    pub const DIVISION: Self = known("div");
    pub const MARK: Self = known("mark");

    /// Reads a unit: symbols joined by `·`, `*` or `.`, raised by `³`, `^3` or `3`, with at most one `/`
    /// and one symbol after it; or one such unit `per` another. Allocates nothing.
    pub fn parse(text: &str) -> Result<Self, UnitError> {
        parse::unit(text)
    }

    pub const fn dimension(self) -> Dimension {
        self.dimension
    }

    /// The size of one of this unit in base units.
    pub const fn factor(self) -> f64 {
        self.numerator / self.denominator
    }

    /// `value` of this unit, in base units. A degree Celsius that stands alone counts from absolute zero.
    pub const fn to_base(self, value: f64) -> f64 {
        value * self.numerator / self.denominator + self.offset()
    }

    pub const fn from_base(self, base: f64) -> f64 {
        (base - self.offset()) * self.denominator / self.numerator
    }

    /// `value` of this unit in `target`, rounding once; `None` when the dimensions differ.
    pub fn convert(self, value: f64, target: Self) -> Option<f64> {
        if self.dimension != target.dimension {
            None
        } else if self.offset() != 0.0 || target.offset() != 0.0 {
            Some(target.from_base(self.to_base(value)))
        } else {
            Some(value * (self.numerator * target.denominator) / (self.denominator * target.numerator))
        }
    }

    /// The same conversion for a difference of two values, where the zero of a scale does not matter.
    pub fn convert_difference(self, value: f64, target: Self) -> Option<f64> {
        (self.dimension == target.dimension)
            .then(|| value * (self.numerator * target.denominator) / (self.denominator * target.numerator))
    }

    /// Kelvins from absolute zero to the zero of this scale, for degrees Celsius standing alone.
    pub(super) const fn offset(self) -> f64 {
        if self.length == 1 && self.parts[0].power == 1 { TABLE[self.parts[0].atom as usize].offset } else { 0.0 }
    }

    /// Whether a symbol of the table is in this unit.
    pub(super) const fn holds(self, atom: u8) -> bool {
        let mut at = 0;
        while at < self.length as usize {
            if self.parts[at].atom == atom {
                return true;
            }
            at += 1;
        }
        false
    }

    /// This unit with one more symbol; a symbol that is there already is only raised. `None` when full.
    pub(super) const fn with(mut self, part: Part) -> Option<Self> {
        let atom = &TABLE[part.atom as usize];
        let mut times = part.power.unsigned_abs();
        while times > 0 {
            let raised = part.power > 0;
            self.numerator *= if raised { atom.numerator } else { atom.denominator };
            self.denominator *= if raised { atom.denominator } else { atom.numerator };
            times -= 1;
        }
        self.dimension = self.dimension.times(atom.dimension.power(part.power));
        let mut at = 0;
        while at < self.length as usize && self.parts[at].atom != part.atom {
            at += 1;
        }
        if at == MOST_PARTS {
            return None;
        }
        let power = self.parts[at].power.saturating_add(part.power);
        self.parts[at] = Part { atom: part.atom, power };
        if at == self.length as usize {
            self.length += 1;
        } else if power == 0 {
            self.close_gap(at);
        }
        Some(self)
    }

    const fn close_gap(&mut self, gap: usize) {
        let mut at = gap + 1;
        while at < self.length as usize {
            self.parts[at - 1] = self.parts[at];
            at += 1;
        }
        self.length -= 1;
        self.parts[self.length as usize] = Part::NONE;
    }

    /// One unit per another, each as it is written: `mm/s per kg·mm`; `None` when one is such a unit already, or there are
    /// too many symbols.
    pub fn per_whole(self, other: Self) -> Option<Self> {
        let of_each = [self, other].iter().any(|unit| unit.per > 0 || unit.length == 0);
        let length = self.length + other.length;
        if of_each || usize::from(length) > MOST_PARTS {
            return None;
        }
        let mut parts = self.parts;
        for (part, own) in parts[usize::from(self.length)..].iter_mut().zip(other.parts()) {
            *part = Part { power: -own.power, ..*own };
        }
        Some(Self {
            numerator: self.numerator * other.denominator,
            denominator: self.denominator * other.numerator,
            dimension: self.dimension.times(other.dimension.power(-1)),
            parts,
            length,
            per: self.length,
        })
    }

    fn parts(&self) -> &[Part] {
        &self.parts[..usize::from(self.length)]
    }
}

impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        self.parts() == other.parts() && self.per == other.per
    }
}

/// A unit of this program's own, read when the program is built.
const fn known(text: &str) -> Unit {
    match parse::read(text.as_bytes()) {
        Ok(unit) => unit,
        Err(_) => panic!("a unit of the program's own is misspelled"),
    }
}

/// The canonical spelling: `·` between symbols, raised exponents, `µ`; every symbol stays the one written.
impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.parts().split_at(usize::from(self.per)) {
            ([], all) => write_parts(f, all, 1),
            (above, below) => {
                write_parts(f, above, 1)?;
                f.write_str(" per ")?;
                write_parts(f, below, -1)
            }
        }
    }
}

/// With every power turned round where `sign` is below zero.
fn write_parts(f: &mut fmt::Formatter<'_>, parts: &[Part], sign: i8) -> fmt::Result {
    let mut joiner = "";
    for part in parts.iter().filter(|part| part.power * sign > 0) {
        write!(f, "{joiner}{}{}", part.atom().symbol, Exponent(part.power.unsigned_abs()))?;
        joiner = "·";
    }
    if joiner.is_empty() && !parts.is_empty() {
        f.write_str("1")?;
    }
    for part in parts.iter().filter(|part| part.power * sign < 0) {
        write!(f, "/{}{}", part.atom().symbol, Exponent(part.power.unsigned_abs()))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_is_small() {
        assert!(size_of::<Unit>() <= 40);
    }

    #[test]
    fn display_respells_nothing_but_joiners_exponents_and_micro_signs() {
        for (written, canonical) in [
            ("g*mm", "g·mm"),
            ("g.mm", "g·mm"),
            ("kg/m3", "kg/m³"),
            ("kg/m^3", "kg/m³"),
            ("μm", "µm"),
            ("um", "µm"),
            ("r/min", "r/min"),
            ("rpm", "rpm"),
            ("thou", "thou"),
            ("°", "°"),
            ("degC", "degC"),
            ("g*mm/kg", "g·mm/kg"),
            ("mm/s per kg*mm", "mm/s per kg·mm"),
            ("div  per g.mm", "div per g·mm"),
        ] {
            assert_eq!(Unit::parse(written).unwrap().to_string(), canonical);
        }
    }

    // 0.452 mm/s for 1 kg·mm are 0.000452 mm/s for 1 g·mm.
    #[test]
    fn a_unit_per_another_keeps_both_as_written() {
        let unit = Unit::parse("mm/s per kg·mm").unwrap();
        assert!((unit.convert(0.452, Unit::parse("mm/s per g·mm").unwrap()).unwrap() - 0.000452).abs() < 1e-15);
        let quotient = Dimension::VELOCITY.times(Dimension::UNBALANCE.power(-1));
        assert_eq!(unit.dimension(), quotient);
        assert!(Unit::parse("mm per g per s").is_err() && Unit::parse("mm per").is_err());
    }

    #[test]
    fn celsius_has_its_own_zero_only_alone() {
        assert_eq!(Unit::DEGREE_CELSIUS.to_base(20.0), 293.15);
        assert_eq!(Unit::parse("µm/°C").unwrap().to_base(1.0), 1e-6);
        assert_eq!(Unit::DEGREE_CELSIUS.convert_difference(5.0, Unit::KELVIN), Some(5.0));
    }
}
