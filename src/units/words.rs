//! Amounts in words.

use super::Unit;

/// Numbers in words have six digits.
const SHOWN_SHARE: f64 = 1e-5;

/// Whether two texts have the same words and the same amounts, in whatever units; as many digits as are shown must agree.
pub fn same_amounts(a: &str, b: &str) -> bool {
    let amount = |number: &str, unit: Option<&&str>| {
        let unit = Unit::parse(unit?.trim_end_matches([',', ';', ':', ')'])).ok()?;
        Some((number.trim_start_matches('(').parse::<f64>().ok()? * unit.factor(), unit.dimension()))
    };
    let (x, y): (Vec<&str>, Vec<&str>) = (a.split(' ').collect(), b.split(' ').collect());
    let same = |n: usize| {
        let is_unit = |words: &[&str]| n > 0 && amount(words[n - 1], words.get(n)).is_some();
        let amounts = amount(x[n], x.get(n + 1)).zip(amount(y[n], y.get(n + 1)));
        let near =
            amounts.is_some_and(|((a, d), (b, e))| d == e && (a - b).abs() <= SHOWN_SHARE * a.abs().max(b.abs()));
        x[n] == y[n] || near || (is_unit(&x) && is_unit(&y))
    };
    x.len() == y.len() && (0..x.len()).all(same)
}
