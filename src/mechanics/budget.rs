//! Uncertainty of a measured unbalance, combined from its parts.

use super::domain::{Computed, Input, not_negative, settled};
use crate::units::{Typed, Unbalance};

/// How many independent comparisons an uncertainty was found from; without end for what is a bound or stated.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug)]
pub struct Freedom(f64);

impl Freedom {
    pub const ENDLESS: Self = Self(f64::INFINITY);

    /// Of so many repeated vectors about their mean: two for each but one.
    pub const fn of_repeated(vectors: usize) -> Self {
        Self(2.0 * vectors.saturating_sub(1) as f64)
    }

    pub const fn of(comparisons: f64) -> Self {
        Self(comparisons)
    }

    pub fn and(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }

    fn least(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }
}

/// One part of an uncertainty.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Part {
    pub standard: Unbalance,
    pub freedom: Freedom,
    /// What it cannot exceed; `None` for what scatters.
    pub bound: Option<Unbalance>,
    /// Parts of one group rest on one fact and are added before anything else.
    pub group: u32,
}

impl Part {
    /// What may be anything up to a bound, along the unbalance that is judged: a/√3. Source: JCGM 100, 4.3.7 (from memory).
    pub fn up_to(bound: Unbalance, group: u32) -> Self {
        let standard = bound / 3f64.sqrt();
        Self { standard, freedom: Freedom::ENDLESS, bound: Some(bound), group }
    }

    /// An amount at an angle that nobody knows: a/√2 along any direction. Source: the mean square of a cosine.
    pub fn at_any_angle(amount: Unbalance, group: u32) -> Self {
        Self { standard: amount / 2f64.sqrt(), ..Self::up_to(amount, group) }
    }

    /// What is known by its standard uncertainty alone; twice that counts as its bound.
    pub fn known_to(standard: Unbalance, group: u32) -> Self {
        Self { standard, freedom: Freedom::ENDLESS, bound: Some(standard * 2.0), group }
    }

    pub fn scattered(standard: Unbalance, freedom: Freedom, group: u32) -> Self {
        Self { standard, freedom, bound: None, group }
    }
}

/// The expanded uncertainty at 95.45 %: parts of one group by their sum, with the least freedom among them, groups by
/// root of squares, with the effective freedom of Welch and Satterthwaite. What has bounds counts with no more than their
/// plain sum, whatever scatters beside it. No part below zero. Source: JCGM 100, annex G (from memory); the sum,
/// ISO 21940-14 (from memory).
pub fn expanded(parts: &[Part]) -> Computed<Unbalance> {
    struct Group {
        group: u32,
        bounded: f64,
        scattered: f64,
        freedom: Freedom,
    }
    let mut groups: Vec<Group> = Vec::new();
    let mut sum = 0.0;
    for part in parts {
        let standard = not_negative(part.standard, Input::Errors)?.base();
        let at = groups.iter().position(|one| one.group == part.group).unwrap_or_else(|| {
            groups.push(Group { group: part.group, bounded: 0.0, scattered: 0.0, freedom: part.freedom });
            groups.len() - 1
        });
        let one = &mut groups[at];
        one.freedom = one.freedom.least(part.freedom);
        match part.bound {
            Some(bound) => (one.bounded, sum) = (one.bounded + standard, sum + bound.base()),
            None => one.scattered += standard,
        }
    }
    let of_bounds = groups.iter().map(|one| one.bounded.powi(2)).sum::<f64>().sqrt();
    let kept = if 2.0 * of_bounds > sum { sum / (2.0 * of_bounds) } else { 1.0 };
    let standards: Vec<(f64, Freedom)> =
        groups.iter().map(|one| (one.bounded * kept + one.scattered, one.freedom)).collect();
    let combined = standards.iter().map(|(standard, _)| standard.powi(2)).sum::<f64>().sqrt();
    let fourth: f64 = standards.iter().map(|(standard, freedom)| (standard / combined).powi(4) / freedom.0).sum();
    // Nothing uncertain, or nothing that scatters: the quotient is no number, or without end.
    let freedom = if fourth > 0.0 { 1.0 / fourth } else { f64::INFINITY };
    settled(Unbalance::from_base(combined * coverage(Freedom(freedom))))
}

/// The combined standard uncertainty: parts of one group by their sum, groups by root of squares. Source: JCGM 100, 5.1.2
/// (from memory).
pub fn combined(parts: &[Part]) -> Computed<Unbalance> {
    let mut groups: Vec<(u32, f64)> = Vec::new();
    for part in parts {
        let standard = not_negative(part.standard, Input::Errors)?.base();
        match groups.iter_mut().find(|(group, _)| *group == part.group) {
            Some((_, sum)) => *sum += standard,
            None => groups.push((part.group, standard)),
        }
    }
    settled(Unbalance::from_base(groups.iter().map(|(_, standard)| standard.powi(2)).sum::<f64>().sqrt()))
}

/// Student's t for 95.45 %: 2 for endless freedom, no more than a million. Source: JCGM 100, table G.2 (from memory).
pub fn coverage(freedom: Freedom) -> f64 {
    students_t(freedom, 2.0, BEYOND_TWO)
}

/// Student's t for 99.73 %: 3 for endless freedom, no more than a million. Source: JCGM 100, table G.2 (from memory).
pub fn coverage_of_three(freedom: Freedom) -> f64 {
    students_t(freedom, 3.0, BEYOND_THREE)
}

/// What leaves as much beyond it as so many standard deviations of a normal distribution.
fn students_t(freedom: Freedom, deviations: f64, share: f64) -> f64 {
    const LARGEST: f64 = 1e6;
    // Below a tenth of a comparison it is above what is asked for.
    let freedom = freedom.0.max(0.1);
    if freedom > 1e7 {
        return deviations;
    }
    // What differs from the normal distribution, in powers of 1/ν. Source: Abramowitz and Stegun, 26.7.5 (from memory). At two
    // standard deviations, five comparisons leave an error of 1 in 10,000, thirty of 1 in 100,000,000.
    let z = |power: i32| deviations.powi(power);
    let powers = [
        (z(3) + z(1)) / 4.0,
        (5.0 * z(5) + 16.0 * z(3) + 3.0 * z(1)) / 96.0,
        (3.0 * z(7) + 19.0 * z(5) + 17.0 * z(3) - 15.0 * z(1)) / 384.0,
        (79.0 * z(9) + 776.0 * z(7) + 1_482.0 * z(5) - 1_920.0 * z(3) - 945.0 * z(1)) / 92_160.0,
    ];
    let mut t = deviations + powers.iter().rev().fold(0.0, |sum, power| (sum + power) / freedom);
    let front = beta_front(freedom);
    // Newton's method on logarithms, in which the tail is nearly a line: each step squares the error.
    for _ in 0..50 {
        let (beyond, slope) = tail(t, freedom, front);
        let step = (beyond / share).ln() * beyond / slope;
        t *= step.exp();
        if step.abs() < 1e-7 || t > 1e3 * LARGEST {
            break;
        }
    }
    t.min(LARGEST)
}

/// What lies beyond two standard deviations of a normal distribution, on both sides, and beyond three.
const BEYOND_TWO: f64 = 0.045_500_263_896_358_4;
const BEYOND_THREE: f64 = 0.002_699_796_063_260_2;

/// Whether one standard deviation is larger than another by more than chance makes it: F, the quotient of the squares,
/// beyond what one in twenty such pairs has. Source: JCGM 100, annex H.5 (from memory); P(F) = I of ν₂/(ν₂ + ν₁·F), ν₂/2
/// and ν₁/2, Abramowitz and Stegun, 26.6.2 (from memory).
pub fn differs(one: [f64; 2], other: [f64; 2]) -> bool {
    by_chance(one, other) < 0.05
}

/// The same, beyond what one in 370 such pairs has: as seldom as three standard deviations. The first of so many pairs is
/// so only if it is as many times as seldom. Source: Bonferroni's inequality, NIST/SEMATECH e-Handbook of Statistical
/// Methods, section 7.4.7.3 (from memory).
pub fn differs_clearly(one: [f64; 2], other: [f64; 2], of_pairs: usize) -> bool {
    by_chance(one, other) * (of_pairs as f64) < BEYOND_THREE
}

/// The share of such pairs whose quotient is larger by chance.
fn by_chance([one, freedom]: [f64; 2], [other, other_freedom]: [f64; 2]) -> f64 {
    if one <= other || freedom <= 0.0 || other_freedom <= 0.0 {
        return 1.0;
    }
    let y = other_freedom / (other_freedom + freedom * (one / other).powi(2));
    let (a, b) = (other_freedom / 2.0, freedom / 2.0);
    let front = (log_gamma(a + b) - log_gamma(a) - log_gamma(b)).exp() * y.powf(a) * (1.0 - y).powf(b);
    if y < (a + 1.0) / (a + b + 2.0) {
        front * continued(y, a, b) / a
    } else {
        1.0 - front * continued(1.0 - y, b, a) / b
    }
}

/// One over the beta function of ν/2 and 1/2.
fn beta_front(freedom: f64) -> f64 {
    let a = freedom / 2.0;
    (log_gamma(a + 0.5) - log_gamma(a) - log_gamma(0.5)).exp()
}

/// The probability beyond ±t, and how fast it falls with the logarithm of t: the regularized incomplete beta function of
/// ν/(ν + t²), ν/2 and 1/2, and its derivative.
fn tail(t: f64, freedom: f64, front: f64) -> (f64, f64) {
    let x = freedom / (freedom + t * t);
    let (a, b) = (freedom / 2.0, 0.5);
    let front = front * x.powf(a) * (1.0 - x).sqrt();
    let beyond = if x < (a + 1.0) / (a + b + 2.0) {
        front * continued(x, a, b) / a
    } else {
        1.0 - front * continued(1.0 - x, b, a) / b
    };
    (beyond, 2.0 * front)
}

/// The continued fraction of the incomplete beta function, by Lentz's method. Source: Abramowitz and Stegun, 26.5.8
/// (from memory).
fn continued(x: f64, a: f64, b: f64) -> f64 {
    let away = |value: f64| if value.abs() < 1e-300 { 1e-300 } else { value };
    let (mut c, mut d) = (1.0, 1.0 / away(1.0 - (a + b) * x / (a + 1.0)));
    let mut fraction = d;
    for m in 1..500 {
        let m = f64::from(m);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let before = fraction;
        for term in [even, odd] {
            d = 1.0 / away(1.0 + term * d);
            c = away(1.0 + term / c);
            fraction *= c * d;
        }
        if (fraction / before - 1.0).abs() < 1e-15 {
            break;
        }
    }
    fraction
}

/// The logarithm of the gamma function above zero, by Stirling's series. Source: Abramowitz and Stegun, 6.1.41 (from
/// memory).
fn log_gamma(x: f64) -> f64 {
    if x < 12.0 {
        return log_gamma(x + 1.0) - x.ln();
    }
    let y = 1.0 / (x * x);
    let series = (1.0 / 12.0 - y * (1.0 / 360.0 - y * (1.0 / 1260.0 - y / 1680.0))) / x;
    (x - 0.5) * x.ln() - x + 0.5 * (2.0 * std::f64::consts::PI).ln() + series
}

#[cfg(test)]
mod tests {
    use super::*;

    // JCGM 100:2008, table G.2, column 95.45 % (from memory).
    #[test]
    fn coverage_is_students_t() {
        let table = [(1.0, 13.97), (2.0, 4.53), (3.0, 3.31), (4.0, 2.87), (5.0, 2.65), (6.0, 2.52), (8.0, 2.37)];
        let more = [(10.0, 2.28), (15.0, 2.18), (20.0, 2.13), (30.0, 2.09), (50.0, 2.05), (100.0, 2.025)];
        for (freedom, published) in table.into_iter().chain(more) {
            let found = coverage(Freedom::of(freedom));
            assert!((found - published).abs() < 0.006, "{freedom}: {found}");
        }
        assert_eq!(coverage(Freedom::ENDLESS), 2.0);
        // One comparison is Cauchy's distribution and two have a root: both can be turned round by hand.
        let of_one = 1.0 / (std::f64::consts::FRAC_PI_2 * BEYOND_TWO).tan();
        let of_two = (2.0 / (BEYOND_TWO * (2.0 - BEYOND_TWO)) - 2.0).sqrt();
        assert!((coverage(Freedom::of(1.0)) / of_one - 1.0).abs() < 1e-12);
        assert!((coverage(Freedom::of(2.0)) / of_two - 1.0).abs() < 1e-12);
        assert_eq!(coverage(Freedom::of(0.0)), 1e6);
    }

    // JCGM 100:2008, table G.2, column 99.73 % (from memory).
    #[test]
    fn coverage_of_three_is_students_t() {
        let table = [(1.0, 235.8), (2.0, 19.21), (3.0, 9.22), (4.0, 6.62), (5.0, 5.51), (6.0, 4.90), (8.0, 4.28)];
        let more = [(10.0, 3.96), (15.0, 3.59), (20.0, 3.42), (30.0, 3.27), (50.0, 3.16), (100.0, 3.077)];
        for (freedom, published) in table.into_iter().chain(more) {
            let found = coverage_of_three(Freedom::of(freedom));
            assert!((found / published - 1.0).abs() < 0.0015, "{freedom}: {found}");
        }
        assert_eq!(coverage_of_three(Freedom::ENDLESS), 3.0);
        // Two comparisons have a root, which can be turned round by hand.
        let of_two = (2.0 / (BEYOND_THREE * (2.0 - BEYOND_THREE)) - 2.0).sqrt();
        assert!((coverage_of_three(Freedom::of(2.0)) / of_two - 1.0).abs() < 1e-9);
    }

    #[test]
    fn coverage_leaves_as_much_beyond_as_two_deviations_at_every_freedom() {
        for hundredths in 0..720 {
            let freedom = 10f64.powf(f64::from(hundredths) / 100.0 - 0.3);
            let (beyond, _) = tail(coverage(Freedom::of(freedom)), freedom, beta_front(freedom));
            assert!((beyond / BEYOND_TWO - 1.0).abs() < 1e-7, "{freedom}: {beyond}");
        }
    }

    // By hand: 3 and 4 in one group are 7, with 24 beside it 25: 50 at k = 2; the sum of the bounds 2·31 is more. With six
    // comparisons after the 7 alone: 25⁴ ÷ (7⁴ ÷ 6) = 976, t = 2.003.
    #[test]
    fn groups_are_added_first_and_the_rest_by_root_of_squares() {
        let u = Unbalance::gram_millimetres;
        let known = |standard: f64, group| Part::known_to(u(standard), group);
        let all = |parts: &[Part]| expanded(parts).unwrap().in_gram_millimetres();
        assert!((all(&[known(3.0, 1), known(4.0, 1), known(24.0, 2)]) - 50.0).abs() < 1e-9);
        let scattered = Part::scattered(u(4.0), Freedom::of(6.0), 1);
        let found = all(&[known(3.0, 1), scattered, known(24.0, 2)]);
        assert!((found - 50.07).abs() < 0.02, "{found}");
        // One amount at any angle is 2 ÷ √2 of itself at k = 2, and cannot be more than itself.
        assert!((all(&[Part::at_any_angle(u(10.0), 1)]) - 10.0).abs() < 1e-9);
        assert_eq!(all(&[]), 0.0);
    }

    // By hand: 20 at any angle cannot be more than 20, and a scatter of 0.1 beside it adds √(10² + 0.1²)·2 − 20 = 0.001.
    #[test]
    fn what_scatters_lifts_no_bound() {
        let u = Unbalance::gram_millimetres;
        let scattered = Part::scattered(u(0.1), Freedom::of(4.0), 1);
        let found = expanded(&[Part::at_any_angle(u(20.0), 2), scattered]).unwrap().in_gram_millimetres();
        assert!((found - 20.001).abs() < 1e-4, "{found}");
    }

    // Table of F at 5 %, by its quotients of squares (from memory): 2 and 24 degrees 3.40, 6 and 24 2.51, 4 and 4 6.39.
    #[test]
    fn two_scatters_differ_by_the_table_of_f() {
        for (above, below, table) in [(2.0, 24.0, 3.40), (6.0, 24.0, 2.51), (4.0, 4.0, 6.39f64)] {
            let by = |quotient: f64| differs([quotient.sqrt(), above], [1.0, below]);
            assert!(by(table + 0.01) && !by(table - 0.01), "{above} {below}");
        }
        assert!(!differs([0.5, 2.0], [1.0, 24.0]) && differs([1.0, 2.0], [0.0, 24.0]));
    }
}
