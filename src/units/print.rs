//! How numbers are written for people. Nothing else in the program decides digits.

use std::fmt;

/// Plain digits at and above this amount, scientific notation below.
const SMALLEST_PLAIN: f64 = 1e-4;
/// Scientific notation at and above this amount.
const LARGEST_PLAIN: f64 = 1e7;
/// No number is written with more decimals.
const MOST_DECIMALS: i32 = 12;
/// Conversions leave noise in the sixteenth digit; a half that lost it is still rounded up.
const NOISE: f64 = 1e-12;

/// Writes a number. With an expanded uncertainty, its two significant digits decide the decimals; without,
/// the number has three significant digits. Digits before the point are never rounded away, so that what
/// is printed can be compared digit by digit with what is computed.
pub fn number(value: f64, expanded: Option<f64>) -> String {
    let amount = value.abs();
    // Next to a plain uncertainty, what is far smaller is nothing.
    let beside = expanded.filter(|expanded| (SMALLEST_PLAIN..LARGEST_PLAIN).contains(expanded));
    let written_plainly = (SMALLEST_PLAIN..LARGEST_PLAIN).contains(&amount) || amount < beside.unwrap_or(0.0);
    if !value.is_finite() || written_plainly || amount == 0.0 {
        return plain(value, decimals(value, expanded));
    }
    let exponent = leading_exponent(amount, 3);
    let scale = 10f64.powi(exponent);
    let mantissa = value / scale;
    format!("{}e{exponent}", plain(mantissa, decimals(mantissa, expanded.map(|expanded| expanded / scale))))
}

/// A quantity as it is written for people, in its parts: `12.1 div` and `2.3 div`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Printed {
    /// The number with its unit.
    pub value: String,
    /// The expanded uncertainty with its unit, where it has one.
    pub expanded: Option<String>,
}

/// `81.7 g·mm`, or with an expanded uncertainty `12.1 div ± 2.3 div`.
impl fmt::Display for Printed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.expanded {
            None => f.write_str(&self.value),
            Some(expanded) => write!(f, "{} ± {expanded}", self.value),
        }
    }
}

/// A quantity as text.
pub fn quantity(value_in_unit: f64, unit: &str, expanded: Option<f64>) -> String {
    printed(value_in_unit, unit, expanded).to_string()
}

/// Writes a quantity. An empty unit is left out.
pub fn printed(value_in_unit: f64, unit: &str, expanded: Option<f64>) -> Printed {
    let joiner = if unit.is_empty() { "" } else { " " };
    let with_unit = |number: String| format!("{number}{joiner}{unit}");
    let spread = expanded.filter(|expanded| states_something(*expanded));
    Printed {
        value: with_unit(number(value_in_unit, expanded)),
        expanded: spread.map(|spread| with_unit(number(spread, Some(spread)))),
    }
}

/// Writes a number that was given rather than worked out: up to six significant digits, none that are idle zeros.
pub fn plainly(value: f64) -> String {
    let amount = value.abs();
    if amount == 0.0 || !(SMALLEST_PLAIN..LARGEST_PLAIN).contains(&amount) {
        return number(value, None);
    }
    let written = plain(value, (5 - leading_exponent(amount, 6)).clamp(0, MOST_DECIMALS));
    match written.contains('.') {
        true => written.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => written,
    }
}

/// Writes a number with this many decimals, as a person has written it before. Nothing but a refreshed number needs it.
pub fn with_decimals(value: f64, decimals: i32) -> String {
    plain(value, decimals.clamp(0, MOST_DECIMALS))
}

/// How many decimals [`number`] writes.
pub fn decimals(value: f64, expanded: Option<f64>) -> i32 {
    let decimals = match expanded.filter(|expanded| states_something(*expanded)) {
        // An uncertainty beyond the sixth digit of the value says nothing at a bench.
        Some(expanded) if value != 0.0 && value.is_finite() => {
            (1 - leading_exponent(expanded, 2)).min(5 - leading_exponent(value.abs(), 6))
        }
        Some(expanded) => 1 - leading_exponent(expanded, 2),
        None if value == 0.0 || !value.is_finite() => 0,
        None => 2 - leading_exponent(value.abs(), 3),
    };
    decimals.clamp(0, MOST_DECIMALS)
}

/// Where a rounded value has to lie.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Bound {
    /// At the value or below.
    AtMost,
    /// At the value or above.
    AtLeast,
}

/// A value with three digits, on one side of what it was.
pub fn rounded_to(value: f64, bound: Bound) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let step = 10f64.powf(value.abs().log10().floor() - 2.0);
    // What is a whole number of steps but for the noise of conversion stays that number.
    let steps = match bound {
        Bound::AtMost => (value / step + 1e-6).floor(),
        Bound::AtLeast => (value / step - 1e-6).ceil(),
    };
    steps * step
}

fn states_something(expanded: f64) -> bool {
    expanded.is_finite() && expanded > 0.0
}

/// The power of ten of the first digit once `amount` is rounded to `digits`: 9.996 to three digits is 10.0.
fn leading_exponent(amount: f64, digits: i32) -> i32 {
    let exponent = amount.log10().floor() as i32;
    let rounded = rounded(amount, digits - 1 - exponent);
    if rounded >= 10f64.powi(exponent + 1) * (1.0 - NOISE) { exponent + 1 } else { exponent }
}

/// Rounds to a number of decimals, halves away from zero.
fn rounded(value: f64, decimals: i32) -> f64 {
    let scale = 10f64.powi(decimals);
    let scaled = value * scale * (1.0 + NOISE);
    if scaled.is_finite() { scaled.round() / scale } else { value }
}

fn plain(value: f64, decimals: i32) -> String {
    // Adding zero takes the sign off a zero.
    let rounded = rounded(value, decimals) + 0.0;
    format!("{rounded:.*}", decimals.unsigned_abs() as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_significant_digits_without_an_uncertainty() {
        for (value, written) in [
            (81.68, "81.7"),
            (9.9, "9.90"),
            (0.3, "0.300"),
            (28647.89, "28648"),
            (9.996, "10.0"),
            (99.95, "100"),
            (999.5, "1000"),
            (1604.2818, "1604"),
            (0.0, "0"),
            (-0.0, "0"),
            (-2.345, "-2.35"),
            (0.000123, "0.000123"),
            (0.0000123, "1.23e-5"),
            (12_345_678.0, "1.23e7"),
            (9_999_999.0, "9999999"),
            (0.1 + 0.2, "0.300"),
            (81.25, "81.3"),
        ] {
            assert_eq!(number(value, None), written);
        }
    }

    // JCGM 100 (GUM) 7.2.6, from memory: at most two significant digits of an uncertainty.
    #[test]
    fn two_digits_of_the_uncertainty_decide() {
        for (value, expanded, written) in [
            (12.1, 2.3, "12.1 div ± 2.3 div"),
            (120.0, 0.365, "120.00 div ± 0.37 div"),
            (120.0, 0.0996, "120.00 div ± 0.10 div"),
            (120.4, 9.96, "120 div ± 10 div"),
            (28647.89, 123.4, "28648 div ± 123 div"),
            (-0.04, 3.7, "0.0 div ± 3.7 div"),
            (0.0, 0.0012, "0.0000 div ± 0.0012 div"),
            (2e-14, 1.4, "0.0 div ± 1.4 div"),
        ] {
            assert_eq!(quantity(value, "div", Some(expanded)), written);
        }
        assert_eq!(quantity(2.0, "g", Some(0.0)), "2.00 g");
        assert_eq!(quantity(2.0, "", Some(0.5)), "2.00 ± 0.50");
        assert_eq!(quantity(1.2345e-6, "kg", Some(1.2e-8)), "1.235e-6 kg ± 1.2e-8 kg");
    }
}
