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
    if a == b {
        return true;
    }
    if a.split(' ').count() != b.split(' ').count() {
        return false;
    }
    let (x, y): (Vec<&str>, Vec<&str>) = (a.split(' ').collect(), b.split(' ').collect());
    // Most words are the same, and most others no numbers: units are read last.
    let is_near = |n: usize| {
        let (unit, other_unit) = (x.get(n + 1), y.get(n + 1));
        let amounts = amount(x[n], unit).zip(amount(y[n], other_unit));
        amounts.is_some_and(|((a, half, d), (b, other_half, e))| {
            // The same digits of another unit are another amount, however coarse they are.
            let shown = if unit == other_unit || x[n] == y[n] { 0.0 } else { half + other_half };
            d == e && (a - b).abs() <= (SHOWN_SHARE * a.abs().max(b.abs())).max(shown)
        })
    };
    // A unit is the same where the amount before it is.
    (0..x.len()).all(|n| x[n] == y[n] || is_near(n) || (n > 0 && is_near(n - 1)))
}

/// A text with each amount in base units: two texts that say the same amounts in other units, digit by digit, are one.
pub fn in_base_units(text: &str) -> String {
    let mut words = text.split(' ').peekable();
    let mut written: Vec<String> = Vec::new();
    while let Some(word) = words.next() {
        let number = word.trim_start_matches('(');
        let amount = number.parse::<f64>().ok().zip(words.peek()).and_then(|(number, next)| {
            let unit = next.trim_end_matches([',', ';', ':', ')', '.']);
            let read = Unit::parse(unit).ok()?;
            let opened = &word[..word.len() - word.trim_start_matches('(').len()];
            let (base, closed) = (number * read.factor(), &next[unit.len()..]);
            Some(format!("{opened}{base:.8e} {:?}{closed}", read.dimension()))
        });
        match amount {
            Some(amount) => {
                written.push(amount);
                words.next();
            }
            None => written.push(word.to_owned()),
        }
    }
    written.join(" ")
}

#[cfg(test)]
mod tests {
    use super::{in_base_units, same_amounts};

    #[test]
    fn exact_conversions_are_one_text() {
        let same = |a: &str, b: &str| in_base_units(a) == in_base_units(b);
        // 4200 turns a minute are 70 a second.
        assert!(same("rim 121 mm; (4200 rpm)", "rim 12.1 cm; (70.0 Hz)") && same("at 90 deg, seen", "at 90 deg, seen"));
        // An ounce-inch is 720.08 g·mm: 0.26 of it is 187.2, and nobody reads 187 there.
        assert!(!same("187 g·mm", "0.26 oz·in") && !same("4200 rpm", "4200 Hz") && !same("4200 rpm", "4201 rpm"));
        assert!(!same("8 div", "8 places") && !same("TAKE OFF 8 mm", "PUT ON 8 mm"));
    }

    #[test]
    fn amounts_in_other_units_agree_in_the_digits_that_both_show() {
        // 0.155 oz·in is 111.6 g·mm, and 21.4 lb are 9.707 kg: an ounce is 28.3495 g, an inch 25.4 mm (NIST SP 811).
        assert!(same_amounts("below 112 g·mm", "below 0.155 oz·in") && same_amounts("9.71 kg", "21.4 lb"));
        assert!(!same_amounts("112 g·mm", "0.158 oz·in") && !same_amounts("0.124 g", "0.125 g"));
        // 4200 turns a minute are 70 a second.
        assert!(same_amounts("Never above 4200 rpm", "Never above 70 Hz") && same_amounts("0 mm, 3 g", "0 in, 3 g"));
    }

    #[test]
    fn the_same_digits_of_another_unit_are_another_amount() {
        let pairs = [
            ("4200 rpm", "4200 Hz"),
            ("141 mm", "141 thou"),
            ("3.00 g", "3.00 oz"),
            ("4 deg", "4 rad"),
            ("12 mm", "12 in"),
            ("1 kg", "1 lb"),
            ("5 div", "5 mm"),
        ];
        for (a, b) in pairs {
            let within = |amount: &str| format!("never above {amount}, then stop ({amount})");
            assert!(!same_amounts(a, b) && !same_amounts(&within(a), &within(b)), "{a} and {b}");
        }
    }
}
