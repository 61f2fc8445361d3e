//! Angles round a plane, for the rules on what can be corrected where.

use crate::mechanics::correction::places::AngularRange;
use crate::units::{Angle, Typed};

/// Whether ranges together leave no angle free.
pub fn cover_everything(ranges: &[AngularRange]) -> bool {
    let just_after = |end: Angle| end + Angle::degrees(1e-6);
    !ranges.is_empty() && ranges.iter().all(|range| ranges.iter().any(|other| other.contains(just_after(range.to))))
}

/// The widest angle between two neighbouring places, and where it begins; `None` without places.
pub fn widest_gap(places: &[Angle]) -> Option<(Angle, Angle)> {
    let mut sorted: Vec<f64> = places.iter().map(|place| place.within_one_turn().in_degrees()).collect();
    sorted.sort_by(f64::total_cmp);
    let next = sorted.iter().skip(1).copied().chain(sorted.first().map(|first| first + 360.0));
    let gaps = sorted.iter().zip(next).map(|(from, to)| (Angle::degrees(*from), Angle::degrees(to - from)));
    gaps.max_by(|a, b| a.1.base().total_cmp(&b.1.base()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(from: f64, to: f64) -> AngularRange {
        AngularRange { from: Angle::degrees(from), to: Angle::degrees(to) }
    }

    #[test]
    fn ranges_that_touch_leave_nothing_free() {
        assert!(cover_everything(&[range(0.0, 180.0), range(180.0, 360.0)]));
        assert!(cover_everything(&[range(350.0, 200.0), range(190.0, 351.0)]));
        assert!(!cover_everything(&[range(10.0, 350.0)]));
        assert!(!cover_everything(&[]));
    }

    #[test]
    fn the_widest_gap_may_pass_zero() {
        let places: Vec<Angle> = [300.0, 60.0, 180.0, 240.0].map(Angle::degrees).to_vec();
        let (from, gap) = widest_gap(&places).unwrap();
        assert!((gap.in_degrees() - 120.0).abs() < 1e-9);
        assert!((from.in_degrees() - 300.0).abs() < 1e-9 || (from.in_degrees() - 60.0).abs() < 1e-9);
        let (_, whole) = widest_gap(&[Angle::degrees(30.0)]).unwrap();
        assert!((whole.in_degrees() - 360.0).abs() < 1e-9);
    }
}
