//! Reading the text of a unit.

use super::unit::{Part, Unit};
use super::{atom, spelling};
use std::ops::Range;

pub(super) const RAISED_DIGITS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];

/// No unit is longer; this keeps the reader's work small on any text.
const LONGEST: usize = 64;

/// Why a text is no unit. Ranges are bytes of that text.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum UnitError {
    /// A symbol that is not in the table, and what to write instead of that range when it is known.
    Unknown { atom: Range<usize>, suggestion: Option<&'static str> },
    /// A second `/`.
    TwoSlashes { slash: Range<usize> },
    /// `g·mm/kg·m`: does the metre multiply or divide?
    JoinerAfterSlash { joiner: Range<usize> },
    /// Nothing stands where a symbol belongs: two joiners in a row, or one at an end.
    EmptyAtom { at: Range<usize> },
    /// Something after a symbol that is no exponent from 2 to 9.
    BadExponent { exponent: Range<usize> },
    /// A symbol that is in the unit already: `mm·mm`, `g/g`.
    Repeated { atom: Range<usize> },
    /// More symbols than a unit may have.
    TooLong { rest: Range<usize> },
}

impl UnitError {
    pub fn range(&self) -> Range<usize> {
        match self {
            UnitError::Unknown { atom: range, .. }
            | UnitError::TwoSlashes { slash: range }
            | UnitError::JoinerAfterSlash { joiner: range }
            | UnitError::EmptyAtom { at: range }
            | UnitError::BadExponent { exponent: range }
            | UnitError::Repeated { atom: range }
            | UnitError::TooLong { rest: range } => range.clone(),
        }
    }
}

impl std::fmt::Display for UnitError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            UnitError::Unknown { suggestion: Some(suggestion), .. } => {
                write!(f, "unknown unit: write `{suggestion}`")
            }
            UnitError::Unknown { suggestion: None, .. } => f.write_str("unknown unit"),
            UnitError::TwoSlashes { .. } => f.write_str("a unit has one `/`"),
            UnitError::JoinerAfterSlash { .. } => {
                f.write_str("one symbol comes after the `/` of a unit: put what multiplies before it")
            }
            UnitError::EmptyAtom { .. } => f.write_str("a symbol is missing in this unit"),
            UnitError::BadExponent { .. } => f.write_str("an exponent is one digit from 2 to 9, as in `mm²` or `mm^2`"),
            UnitError::Repeated { .. } => f.write_str("a symbol appears once in a unit: raise it, as in `mm²`"),
            UnitError::TooLong { .. } => f.write_str("too many symbols for a unit"),
        }
    }
}

impl std::error::Error for UnitError {}

/// What is wrong, and where; suggestions are looked up only once something is.
#[derive(Clone, Copy)]
pub(super) struct Fault {
    kind: FaultKind,
    start: usize,
    end: usize,
}

#[derive(Clone, Copy)]
enum FaultKind {
    Unknown,
    TwoSlashes,
    JoinerAfterSlash,
    EmptyAtom,
    BadExponent,
    Repeated,
    TooLong,
}

pub(super) fn unit(text: &str) -> Result<Unit, UnitError> {
    if let Some((above, below)) = around_per(text) {
        let start = text.len() - below.len();
        let whole = one(above, 0)?.per_whole(one(below, start)?);
        return whole.ok_or(UnitError::TooLong { rest: start..text.len() });
    }
    one(text, 0)
}

/// What comes before `per` and after it.
fn around_per(text: &str) -> Option<(&str, &str)> {
    const BLANKS: [char; 2] = [' ', '\t'];
    text.match_indices("per").find_map(|(at, per)| {
        let (above, below) = (&text[..at], &text[at + per.len()..]);
        let is_word = above.ends_with(BLANKS) && below.starts_with(BLANKS);
        is_word.then(|| (above.trim_end_matches(BLANKS), below.trim_start_matches(BLANKS)))
    })
}

/// A unit without `per`, which begins at `from` in the whole text.
fn one(text: &str, from: usize) -> Result<Unit, UnitError> {
    read(text.as_bytes()).map_err(|fault| {
        let range = from + fault.start..from + fault.end;
        match fault.kind {
            FaultKind::TwoSlashes => UnitError::TwoSlashes { slash: range },
            FaultKind::JoinerAfterSlash => UnitError::JoinerAfterSlash { joiner: range },
            FaultKind::EmptyAtom => UnitError::EmptyAtom { at: range },
            FaultKind::BadExponent => match spelling::whole(text) {
                None => UnitError::BadExponent { exponent: range },
                suggestion => UnitError::Unknown { atom: from..from + text.len(), suggestion },
            },
            FaultKind::Repeated => UnitError::Repeated { atom: range },
            FaultKind::TooLong => UnitError::TooLong { rest: range },
            FaultKind::Unknown => match spelling::whole(text) {
                None => UnitError::Unknown { suggestion: spelling::symbol(&text[fault.start..fault.end]), atom: range },
                suggestion => UnitError::Unknown { atom: from..from + text.len(), suggestion },
            },
        }
    })
}

/// The canonical joiners, exponents and micro sign of a unit's text, every symbol's own spelling kept;
/// `None` when the text is no unit.
pub fn respell(text: &str) -> Option<String> {
    Unit::parse(text).ok().map(|unit| unit.to_string())
}

/// Reads a whole unit. A `const fn`, so that the program's own units are read when it is built.
pub(super) const fn read(bytes: &[u8]) -> Result<Unit, Fault> {
    if bytes.len() > LONGEST {
        return fault(FaultKind::TooLong, 0, bytes.len());
    }
    let mut unit = Unit::ONE;
    if let b"1/min" = bytes
        && let Some(atom) = atom::find(bytes, 0, bytes.len())
        && let Some(whole) = unit.with(Part { atom, power: 1 })
    {
        return Ok(whole);
    }
    let (mut at, mut sign) = (0, 1);
    loop {
        let (part, after) = match segment(bytes, at) {
            Ok(found) => found,
            Err(fault) => return Err(fault),
        };
        if unit.holds(part.atom) {
            return fault(FaultKind::Repeated, at, after);
        }
        unit = match unit.with(Part { atom: part.atom, power: part.power * sign }) {
            Some(longer) => longer,
            None => return fault(FaultKind::TooLong, at, bytes.len()),
        };
        if after == bytes.len() {
            return Ok(unit);
        }
        let width = separator(bytes, after);
        let slash = bytes[after] == b'/';
        match (sign, slash) {
            (-1, true) => return fault(FaultKind::TwoSlashes, after, after + width),
            (-1, false) => return fault(FaultKind::JoinerAfterSlash, after, after + width),
            (_, true) => sign = -1,
            (_, false) => {}
        }
        at = after + width;
    }
}

/// One symbol with its exponent from `start`, and where the separator or the end after it is.
const fn segment(bytes: &[u8], start: usize) -> Result<(Part, usize), Fault> {
    let mut end = start;
    let mut symbol_end = None;
    while end < bytes.len() && separator(bytes, end) == 0 {
        if symbol_end.is_none() && exponent_begins(bytes, end) {
            symbol_end = Some(end);
        }
        end += 1;
    }
    if start == end {
        // Also point at the separator, so that there is something to underline.
        let width = if end < bytes.len() { separator(bytes, end) } else { 0 };
        return fault(FaultKind::EmptyAtom, start, end + width);
    }
    let symbol_end = match symbol_end {
        Some(symbol_end) if symbol_end > start => symbol_end,
        Some(_) => return fault(FaultKind::Unknown, start, end),
        None => end,
    };
    let Some(atom) = atom::find(bytes, start, symbol_end) else {
        return fault(FaultKind::Unknown, start, symbol_end);
    };
    match exponent(bytes, symbol_end, end) {
        Some(power) => Ok((Part { atom, power }, end)),
        None => fault(FaultKind::BadExponent, symbol_end, end),
    }
}

/// How many bytes of a separator stand at `at`: `·` has two, `*`, `.` and `/` one.
const fn separator(bytes: &[u8], at: usize) -> usize {
    match bytes[at] {
        b'*' | b'.' | b'/' => 1,
        0xC2 if at + 1 < bytes.len() && bytes[at + 1] == 0xB7 => 2,
        _ => 0,
    }
}

const fn exponent_begins(bytes: &[u8], at: usize) -> bool {
    matches!(bytes[at], b'^' | b'0'..=b'9') || raised_digit(bytes, at, bytes.len()).is_some()
}

/// The digit and length of a raised digit at `at`: `²` and `³` have two bytes, the others three.
const fn raised_digit(bytes: &[u8], at: usize, end: usize) -> Option<(u8, usize)> {
    if at + 2 <= end && bytes[at] == 0xC2 {
        return match bytes[at + 1] {
            0xB9 => Some((1, 2)),
            0xB2 => Some((2, 2)),
            0xB3 => Some((3, 2)),
            _ => None,
        };
    }
    if at + 3 <= end && bytes[at] == 0xE2 && bytes[at + 1] == 0x81 {
        return match bytes[at + 2] {
            last @ (0xB0 | 0xB4..=0xB9) => Some((last - 0xB0, 3)),
            _ => None,
        };
    }
    None
}

/// The exponent in `bytes[start..end]`; 1 when nothing stands there.
const fn exponent(bytes: &[u8], start: usize, end: usize) -> Option<i8> {
    if start == end {
        return Some(1);
    }
    let (digit, length) = match raised_digit(bytes, start, end) {
        Some(raised) => raised,
        None => {
            let at = if bytes[start] == b'^' { start + 1 } else { start };
            if at < end && bytes[at].is_ascii_digit() { (bytes[at] - b'0', at + 1 - start) } else { return None }
        }
    };
    if digit >= 2 && start + length == end { Some(digit as i8) } else { None }
}

const fn fault<T: Copy>(kind: FaultKind, start: usize, end: usize) -> Result<T, Fault> {
    Err(Fault { kind, start, end })
}

#[cfg(test)]
mod tests {
    use super::super::Dimension;
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn one_stroke_divides_by_what_stands_behind_it() {
        assert_eq!(Unit::parse("g·mm/kg").unwrap().dimension(), Dimension::LENGTH);
        assert_eq!(Unit::parse("kg/m3").unwrap().dimension(), Dimension::DENSITY);
        assert_eq!(Unit::parse("kg.m/s2").unwrap().dimension(), Dimension::FORCE);
    }

    #[test]
    fn each_error_says_where() {
        for (text, expected) in [
            ("", UnitError::EmptyAtom { at: 0..0 }),
            ("g·", UnitError::EmptyAtom { at: 3..3 }),
            ("g··mm", UnitError::EmptyAtom { at: 3..5 }),
            ("/s", UnitError::EmptyAtom { at: 0..1 }),
            ("mm.", UnitError::EmptyAtom { at: 3..3 }),
            ("g/mm/s", UnitError::TwoSlashes { slash: 4..5 }),
            ("g·mm/kg·m", UnitError::JoinerAfterSlash { joiner: 8..10 }),
            ("mm^", UnitError::BadExponent { exponent: 2..3 }),
            ("mm1", UnitError::BadExponent { exponent: 2..3 }),
            ("mm¹", UnitError::BadExponent { exponent: 2..4 }),
            ("mm22", UnitError::BadExponent { exponent: 2..4 }),
            ("mm^-2", UnitError::BadExponent { exponent: 2..5 }),
            ("mm2g", UnitError::BadExponent { exponent: 2..4 }),
            ("mm·mm", UnitError::Repeated { atom: 4..6 }),
            ("g/g", UnitError::Repeated { atom: 2..3 }),
            ("3g", UnitError::Unknown { atom: 0..2, suggestion: None }),
            ("kg·m·s·rad·K·div·mark·mm", UnitError::TooLong { rest: 29..31 }),
        ] {
            assert_eq!(Unit::parse(text), Err(expected), "{text}");
        }
        let long = "µ".repeat(40);
        assert_eq!(Unit::parse(&long), Err(UnitError::TooLong { rest: 0..80 }));
    }

    #[test]
    fn respelling_keeps_every_symbol() {
        assert_eq!(respell("kg.m^2").as_deref(), Some("kg·m²"));
        assert_eq!(respell("mm·g").as_deref(), Some("mm·g"));
        assert_eq!(respell("lbs"), None);
    }

    proptest! {
        #[test]
        fn any_text_is_a_unit_or_an_error_with_a_place(text in "[a-zµμ°%·*./^0-9²³⁴äж]{0,12}") {
            match Unit::parse(&text) {
                Ok(unit) => {
                    let canonical = unit.to_string();
                    prop_assert_eq!(respell(&canonical), Some(canonical));
                }
                Err(error) => prop_assert!(text.get(error.range()).is_some()),
            }
        }
    }
}
