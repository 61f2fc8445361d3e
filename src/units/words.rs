//! Amounts in words.

use super::Unit;

/// Numbers in words have six digits.
const SHOWN_SHARE: f64 = 1e-5;

/// Whether two texts have the same words and the same amounts, in whatever units; in another unit as many digits must
/// agree as both show.
pub fn same_amounts(a: &str, b: &str) -> bool {
    let amount = |number: &str, unit: Option<&&str>| {
        let number = number.trim_start_matches('(');
        let value = number.parse::<f64>().ok()?;
        let unit = Unit::parse(unit?.trim_end_matches([',', ';', ':', ')'])).ok()?;
        let decimals = number.split_once('.').map_or(0, |(_, decimals)| decimals.len() as i32);
        let half_step = 0.5 * 10f64.powi(-decimals) * unit.factor();
        Some((value * unit.factor(), half_step, unit.dimension()))
    };
    let (x, y): (Vec<&str>, Vec<&str>) = (a.split(' ').collect(), b.split(' ').collect());
    let same = |n: usize| {
        let is_unit = |words: &[&str]| n > 0 && amount(words[n - 1], words.get(n)).is_some();
        let amounts = amount(x[n], x.get(n + 1)).zip(amount(y[n], y.get(n + 1)));
        let near = amounts.is_some_and(|((a, half, d), (b, other_half, e))| {
            let other_unit = if x.get(n + 1) == y.get(n + 1) { 0.0 } else { half + other_half };
            d == e && (a - b).abs() <= (SHOWN_SHARE * a.abs().max(b.abs())).max(other_unit)
        });
        x[n] == y[n] || near || (is_unit(&x) && is_unit(&y))
    };
    x.len() == y.len() && (0..x.len()).all(same)
}

#[cfg(test)]
mod tests {
    use super::same_amounts;

    #[test]
    fn amounts_in_other_units_agree_in_the_digits_that_both_show() {
        // 0.155 oz·in is 111.6 g·mm, and 21.4 lb are 9.707 kg: an ounce is 28.3495 g, an inch 25.4 mm (NIST SP 811).
        assert!(same_amounts("below 112 g·mm", "below 0.155 oz·in") && same_amounts("9.71 kg", "21.4 lb"));
        assert!(!same_amounts("112 g·mm", "0.158 oz·in") && !same_amounts("0.124 g", "0.125 g"));
    }
}
