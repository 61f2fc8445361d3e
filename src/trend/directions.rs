//! Whether angles crowd about one direction.

use num_complex::Complex64;

/// How many angles keep together: their mean direction in rad, and how long their mean is for angles of length one.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Crowd {
    pub direction: f64,
    pub length: f64,
    /// What the direction is known to at 95.45 %, in rad.
    pub known_to: f64,
    /// How likely angles without any direction in common would come so close.
    pub by_chance: f64,
}

/// Rayleigh's test of uniformity: with R̄ the length of the mean of n unit vectors and K = n·R̄²,
/// `P ≈ e^−K·(1 + (2K − K²)/(4n) − (24K − 132K² + 76K³ − 9K⁴)/(288n²))`.
///
/// Source: Mardia and Jupp, Directional Statistics, section 6.3.1 (from memory). The direction is known to
/// `arcsin(2·√((1 − R̄₂)/(2·n·R̄²)))`, R̄₂ being the same of twice the angles. Source: Fisher, Statistical Analysis of Circular
/// Data, section 4.4.4 (from memory).
pub fn rayleigh(angles: &[f64]) -> Option<Crowd> {
    let n = angles.len() as f64;
    if angles.len() < 5 {
        return None;
    }
    let mean = angles.iter().map(|angle| Complex64::from_polar(1.0, *angle)).sum::<Complex64>() / n;
    let k = n * mean.norm_sqr();
    let second = (2.0 * k - k * k) / (4.0 * n);
    let third = (24.0 * k - 132.0 * k.powi(2) + 76.0 * k.powi(3) - 9.0 * k.powi(4)) / (288.0 * n * n);
    let by_chance = ((-k).exp() * (1.0 + second - third)).clamp(0.0, 1.0);
    let twice = angles.iter().map(|angle| (2.0 * (angle - mean.arg())).cos()).sum::<f64>() / n;
    let known_to = (2.0 * ((1.0 - twice).max(0.0) / (2.0 * k)).sqrt()).min(1.0).asin();
    Some(Crowd { direction: mean.arg(), length: mean.norm(), known_to, by_chance })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::motion::Chance;

    /// Against angles drawn at random: how often ten of them come as close as these do.
    #[test]
    fn angles_at_random_come_as_close_as_is_said() {
        let mut chance = Chance::new(11);
        let mut drawn = || -> Vec<f64> { (0..10).map(|_| chance.angle()).collect() };
        let all: Vec<Crowd> = (0..20_000).filter_map(|_| rayleigh(&drawn())).collect();
        for level in [0.1, 0.05, 0.01] {
            let share = all.iter().filter(|crowd| crowd.by_chance <= level).count() as f64 / all.len() as f64;
            assert!((share / level - 1.0).abs() < 0.15, "{level}: {share}");
        }
    }

    /// Ten angles whose mean has a length of 0.540 are at the 5 % level. Source: Mardia and Jupp, appendix 2.5 (from memory).
    #[test]
    fn the_five_per_cent_level_of_ten_angles() {
        let spread = 2.0 * 0.540_f64.acos();
        let angles: Vec<f64> = (0..10).map(|n| if n % 2 == 0 { spread / 2.0 } else { -spread / 2.0 }).collect();
        let crowd = rayleigh(&angles).unwrap();
        assert!((crowd.length - 0.540).abs() < 1e-9 && (crowd.by_chance - 0.05).abs() < 0.003, "{crowd:?}");
    }
}
