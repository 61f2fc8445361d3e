//! The unit table: every symbol that a unit may be put together from.

use super::Dimension;

/// One symbol of the table. Its size in base units (kg, m, s, rad, K, div, mark) is kept as a fraction,
/// so that factors defined by decimal fractions of integers stay exact: an inch is 127/5000 m.
#[derive(Debug)]
pub struct Atom {
    pub symbol: &'static str,
    /// Spellings that are read as this symbol and respelled to it.
    pub aliases: &'static [&'static str],
    pub numerator: f64,
    pub denominator: f64,
    pub dimension: Dimension,
    /// Kelvins between the zero of this scale and absolute zero; 0 for all but degrees Celsius.
    pub offset: f64,
    /// Whether the factor is exact by definition. Otherwise it is a multiple of π, exact but for rounding.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "told by the reference"))]
    pub exact: bool,
    /// Where the definition stands.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "told by the reference"))]
    pub source: &'static str,
}

const SI: &str = "SI Brochure, 9th edition (from memory)";
const SP811: &str = "NIST SP 811, appendix B.8 (from memory)";
const ISO80000: &str = "ISO 80000-3 (from memory)";
const READOUT: &str = "the readout of the machine";

const fn atom(symbol: &'static str, fraction: (f64, f64), dimension: Dimension, source: &'static str) -> Atom {
    Atom {
        symbol,
        aliases: &[],
        numerator: fraction.0,
        denominator: fraction.1,
        dimension,
        offset: 0.0,
        exact: true,
        source,
    }
}

/// A unit whose factor holds π.
const fn round(symbol: &'static str, fraction: (f64, f64), dimension: Dimension) -> Atom {
    Atom { exact: false, ..atom(symbol, fraction, dimension, ISO80000) }
}

const fn celsius(symbol: &'static str) -> Atom {
    Atom { offset: 273.15, ..atom(symbol, (1.0, 1.0), Dimension::TEMPERATURE, SI) }
}

use std::f64::consts::{PI, TAU};

/// Avoirdupois pound: 0.453 592 37 kg.
const POUND: (f64, f64) = (45_359_237.0, 1e8);
const OUNCE: (f64, f64) = (45_359_237.0, 16e8);
/// Inch: 25.4 mm.
const INCH: (f64, f64) = (127.0, 5e3);
const MICROINCH: (f64, f64) = (127.0, 5e9);
const MIL: (f64, f64) = (127.0, 5e6);
/// Standard acceleration of free fall: 9.806 65 m/s².
const STANDARD_GRAVITY: (f64, f64) = (980_665.0, 1e5);
const POUND_FORCE: (f64, f64) = (POUND.0 * STANDARD_GRAVITY.0, POUND.1 * STANDARD_GRAVITY.1);
const POUND_PER_SQUARE_INCH: (f64, f64) = (POUND_FORCE.0 * (INCH.1 * INCH.1), POUND_FORCE.1 * (INCH.0 * INCH.0));

pub(super) static TABLE: [Atom; 37] = [
    atom("kg", (1.0, 1.0), Dimension::MASS, SI),
    atom("g", (1.0, 1e3), Dimension::MASS, SI),
    atom("mg", (1.0, 1e6), Dimension::MASS, SI),
    atom("oz", OUNCE, Dimension::MASS, SP811),
    atom("lb", POUND, Dimension::MASS, SP811),
    atom("m", (1.0, 1.0), Dimension::LENGTH, SI),
    atom("cm", (1.0, 1e2), Dimension::LENGTH, SI),
    atom("mm", (1.0, 1e3), Dimension::LENGTH, SI),
    Atom { aliases: &["μm", "um"], ..atom("µm", (1.0, 1e6), Dimension::LENGTH, SI) },
    atom("in", INCH, Dimension::LENGTH, SP811),
    Atom { aliases: &["μin", "uin"], ..atom("µin", MICROINCH, Dimension::LENGTH, SP811) },
    atom("mil", MIL, Dimension::LENGTH, SP811),
    atom("thou", MIL, Dimension::LENGTH, SP811),
    atom("N", (1.0, 1.0), Dimension::FORCE, SI),
    atom("lbf", POUND_FORCE, Dimension::FORCE, SP811),
    atom("gf", (STANDARD_GRAVITY.0, STANDARD_GRAVITY.1 * 1e3), Dimension::FORCE, SP811),
    atom("kgf", STANDARD_GRAVITY, Dimension::FORCE, SP811),
    atom("Pa", (1.0, 1.0), Dimension::PRESSURE, SI),
    atom("MPa", (1e6, 1.0), Dimension::PRESSURE, SI),
    atom("psi", POUND_PER_SQUARE_INCH, Dimension::PRESSURE, SP811),
    atom("s", (1.0, 1.0), Dimension::TIME, SI),
    atom("min", (60.0, 1.0), Dimension::TIME, SI),
    atom("h", (3600.0, 1.0), Dimension::TIME, SI),
    atom("d", (86_400.0, 1.0), Dimension::TIME, SI),
    round("rpm", (PI, 30.0), Dimension::SPEED),
    // Read whole, as no part of another unit.
    round("1/min", (PI, 30.0), Dimension::SPEED),
    round("r", (TAU, 1.0), Dimension::ANGLE),
    // Turns a second: on a sheet a speed is counted in turns, whatever its unit.
    round("Hz", (TAU, 1.0), Dimension::SPEED),
    round("deg", (PI, 180.0), Dimension::ANGLE),
    round("°", (PI, 180.0), Dimension::ANGLE),
    atom("rad", (1.0, 1.0), Dimension::ANGLE, SI),
    celsius("°C"),
    celsius("degC"),
    atom("K", (1.0, 1.0), Dimension::TEMPERATURE, SI),
    atom("%", (1.0, 1e2), Dimension::NONE, "ISO 80000-1 (from memory)"),
    atom("div", (1.0, 1.0), Dimension::DIVISION, READOUT),
    atom("mark", (1.0, 1.0), Dimension::MARK, READOUT),
];

/// The unit table, for the reference.
#[cfg(feature = "internals")]
pub fn atoms() -> &'static [Atom] {
    &TABLE
}

/// Every spelling as the bytes of one integer, with the place of its atom in the table. Comparing
/// integers keeps the look-up within a few nanoseconds; no symbol is longer than eight bytes.
struct Spelling {
    key: u64,
    atom: u8,
}

const SPELLINGS: usize = {
    let mut count = TABLE.len();
    let mut row = 0;
    while row < TABLE.len() {
        count += TABLE[row].aliases.len();
        row += 1;
    }
    count
};

static KEYS: [Spelling; SPELLINGS] = {
    let mut keys = [const { Spelling { key: 0, atom: 0 } }; SPELLINGS];
    let (mut row, mut next) = (0, 0);
    while row < TABLE.len() {
        keys[next] = spelling(TABLE[row].symbol, row);
        next += 1;
        let mut alias = 0;
        while alias < TABLE[row].aliases.len() {
            keys[next] = spelling(TABLE[row].aliases[alias], row);
            next += 1;
            alias += 1;
        }
        row += 1;
    }
    keys
};

const fn spelling(text: &str, row: usize) -> Spelling {
    match key_of(text.as_bytes(), 0, text.len()) {
        Some(key) => Spelling { key, atom: row as u8 },
        None => panic!("a symbol of the unit table is longer than eight bytes"),
    }
}

const fn key_of(bytes: &[u8], start: usize, end: usize) -> Option<u64> {
    if start >= end || end - start > 8 {
        return None;
    }
    let (mut key, mut at) = (0u64, start);
    while at < end {
        key = key << 8 | bytes[at] as u64;
        at += 1;
    }
    Some(key)
}

/// The place in the table of the symbol that is in `bytes[start..end]`.
pub(super) const fn find(bytes: &[u8], start: usize, end: usize) -> Option<u8> {
    let Some(key) = key_of(bytes, start, end) else { return None };
    let mut row = 0;
    while row < SPELLINGS {
        if KEYS[row].key == key {
            return Some(KEYS[row].atom);
        }
        row += 1;
    }
    None
}
