//! What the two components of a vector are known to together.

use crate::units::{Amount, Angle, Contributions, Vector};

/// The expanded uncertainty of a vector is so many standard ones.
const K: f64 = 2.0;

/// Variances of `x` and `y` and what they share, in base units squared: the ellipse in which the tip of a vector lies.
pub(super) struct Ellipse {
    xx: f64,
    xy: f64,
    yy: f64,
}

impl Ellipse {
    pub fn of([x, y]: &[Contributions; 2]) -> Self {
        let mut sum = x.clone();
        sum.add(y, 1.0);
        let (xx, yy) = (x.standard().powi(2), y.standard().powi(2));
        Self { xx, xy: (sum.standard().powi(2) - xx - yy) / 2.0, yy }
    }

    /// The direction in which the tip is least certain.
    pub fn longest(&self) -> [f64; 2] {
        let angle = 0.5 * (2.0 * self.xy).atan2(self.xx - self.yy);
        [angle.cos(), angle.sin()]
    }

    /// How far the vector may turn to the side on which that is more: the tangent at the ellipse of its expanded
    /// uncertainty, seen from the origin. `None` where the origin lies in the ellipse: the vector may point anywhere.
    ///
    /// With r along the vector, of variance v, and across it variance w and covariance c: tan φ = K²·w ÷ (√D - K²·|c|),
    /// D = K⁴·c² + K²·w·(r² - K²·v). For w = v and c = 0 that is sin φ = K·√v ÷ r.
    pub fn widest_turn<T: Amount>(&self, vector: Vector<T>) -> Option<Angle> {
        let own = vector.amount().raw();
        let (cos, sin) = (vector.angle().cos(), vector.angle().sin());
        let square = K * K;
        let along = square * (self.xx * cos * cos + 2.0 * self.xy * cos * sin + self.yy * sin * sin);
        let across = square * (self.xx * sin * sin - 2.0 * self.xy * cos * sin + self.yy * cos * cos);
        let shared = square * ((self.yy - self.xx) * cos * sin + self.xy * (cos * cos - sin * sin)).abs();
        let ahead = own * own - along;
        let discriminant = shared * shared + across * ahead;
        // Without any uncertainty across, rounding alone decides the sign of the discriminant.
        if across <= ROUNDING * along {
            return (ahead >= 0.0).then_some(Angle::ZERO);
        }
        (discriminant >= 0.0).then(|| Angle::radians(across.atan2(discriminant.sqrt() - shared)))
    }
}

/// A variance that is this part of another is what rounding has left of nothing.
const ROUNDING: f64 = 1e-12;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Part, Place, Source, Unbalance};

    /// A vector along `x`, whose components are known to two independent facts each.
    fn turn(own: f64, along: [f64; 2], across: [f64; 2], seen_at: f64) -> Option<f64> {
        let fact = |nth| Source::Written { at: Place { file: 0, start: 0 }, nth, part: Part::Amount };
        let (cos, sin) = (seen_at.to_radians().cos(), seen_at.to_radians().sin());
        let mut components: [Contributions; 2] = Default::default();
        for nth in [0, 1] {
            let one = Contributions::of(fact(nth), 1.0);
            components[0].add(&one, along[nth] * cos - across[nth] * sin);
            components[1].add(&one, along[nth] * sin + across[nth] * cos);
        }
        let vector = Vector::from_polar(Unbalance::from_raw(own), Angle::degrees(seen_at));
        Ellipse::of(&components).widest_turn(vector).map(|turn| turn.in_radians().to_degrees())
    }

    /// Half the angle under which a circle is seen: its radius over its distance, of any textbook of geometry.
    #[test]
    fn a_circle_is_seen_under_twice_the_angle_whose_sine_is_radius_over_distance() {
        for seen_at in [0.0, 37.0, 90.0, 251.0] {
            for (own, degrees) in [(4.0, 30.0), (2.0 * 2f64.sqrt(), 45.0), (2.0 / 60f64.to_radians().sin(), 60.0)] {
                let found = turn(own, [1.0, 0.0], [0.0, 1.0], seen_at).unwrap();
                assert!((found - degrees).abs() < 1e-6, "{found}, not {degrees}");
            }
            assert_eq!(turn(1.9, [1.0, 0.0], [0.0, 1.0], seen_at), None);
        }
    }

    /// By hand: variances 4 along and 1 across, covariance 1.5, three units away. With K = 2: a = 9 - 16 = -7, b = 6,
    /// c = -4, tan φ = (-6 - √8) ÷ -7, after the origin: 128.4 deg to one side and 24.4 deg to the other.
    #[test]
    fn the_side_counts_on_which_the_ellipse_reaches_farther() {
        let low = 1.0 - 0.75 * 0.75;
        let found = turn(3.0, [2.0, 0.0], [0.75, f64::sqrt(low)], 0.0).unwrap();
        assert!((found - 128.4).abs() < 0.05, "{found}");
    }

    #[test]
    fn what_is_certain_across_turns_only_through_the_origin() {
        assert_eq!(turn(2.1, [1.0, 0.0], [0.0, 0.0], 0.0), Some(0.0));
        assert_eq!(turn(1.9, [1.0, 0.0], [0.0, 0.0], 0.0), None);
        assert_eq!(turn(1.0, [0.0, 0.0], [0.0, 0.0], 0.0), Some(0.0));
        for seen_at in (0..360).map(f64::from) {
            assert!(turn(2.1, [1.0, 0.0], [0.0, 0.0], seen_at).unwrap() < 1e-3, "{seen_at}");
        }
    }
}
