//! What a fact would have to say so that a rule is content: a rule solved for one fact, written on the safe side.

pub use crate::units::Bound;
use crate::units::{self, Unit};

/// An amount in a unit with three digits, rounded so that it keeps to the bound.
pub fn keeping(base: f64, bound: Bound, unit: Unit) -> String {
    format!("{} {unit}", units::plainly(units::rounded_to(unit.from_base(base), bound)))
}

/// The end of these ranges that lies nearest to a value, and on which side of it a range begins.
pub fn nearest_end(ranges: &[[f64; 2]], value: f64) -> Option<(f64, Bound)> {
    let ends = ranges.iter().flat_map(|[low, high]| [(*low, Bound::AtLeast), (*high, Bound::AtMost)]);
    let away = |end: &f64| (end - value).abs();
    ends.filter(|(end, _)| end.is_finite()).min_by(|(one, _), (other, _)| away(one).total_cmp(&away(other)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_rounded_to_the_safe_side() {
        let base = |value: f64, unit: Unit| unit.to_base(value);
        let gram = Unit::GRAM;
        assert_eq!(keeping(base(1.4239, gram), Bound::AtMost, gram), "1.42 g");
        assert_eq!(keeping(base(1.4211, gram), Bound::AtLeast, gram), "1.43 g");
        // 0.7 · 1500 is no whole number in binary.
        let rpm = Unit::parse("rpm").unwrap();
        assert_eq!(keeping(base(0.7 * 1500.0, rpm), Bound::AtMost, rpm), "1050 rpm");
        assert_eq!(keeping(base(1523.0, rpm), Bound::AtLeast, rpm), "1530 rpm");
    }

    #[test]
    fn the_nearest_end_says_on_which_side_it_is_reached() {
        let ranges = [[1.0, 2.0], [5.0, f64::INFINITY]];
        assert_eq!(nearest_end(&ranges, 2.4), Some((2.0, Bound::AtMost)));
        assert_eq!(nearest_end(&ranges, 4.0), Some((5.0, Bound::AtLeast)));
        assert_eq!(nearest_end(&[], 4.0), None);
    }
}
