//! A straight line through what was found on many days, and whether it tells a drift from scatter.

use num_complex::Complex64;

use crate::mechanics::budget::{Freedom, coverage};

/// A change counts that is so many times as large as it is known to at 95.45 %: by chance alone one in 370 is.
const COUNTS: f64 = 1.5;

/// Fewer than these tell no drift.
pub const FEWEST: usize = 6;

/// One change of a plane by what was put on, each over the size of what was put on in the plane itself.
#[derive(Clone, Copy, Debug)]
pub struct Seen {
    /// In days.
    pub at: f64,
    /// Samples of one group have an offset of their own.
    pub group: usize,
    pub own: Complex64,
    /// What was put on in the other plane.
    pub other: Complex64,
    pub change: Complex64,
    /// Of each component of the change.
    pub standard: f64,
}

/// A change from the first day to the last.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Change {
    pub by: f64,
    /// At 95.45 %.
    pub known_to: f64,
    pub is_drift: bool,
}

/// What a line through samples says: shares for the gain, rad for the angle.
#[derive(Clone, Debug)]
pub struct Fitted {
    pub gain: Change,
    pub angle: Change,
    /// For each group, what one unit reads in the middle of all days, and what one unit in the other plane does.
    pub groups: Vec<[Complex64; 2]>,
    /// Change a day, of the gain at an angle.
    pub slope: Complex64,
}

/// What one plane reads of the other is told apart in a group with so many samples; else it is scatter of this size.
const TOLD_APART: usize = 5;
const INTERFERENCE: f64 = 0.05;

/// Weighted least squares over complex numbers: an offset and an interference for each group, one slope for all. `None` where
/// there are too few samples or days. Source: Gauss–Markov; the larger of the stated and the found scatter counts.
pub fn fit(seen: &[Seen]) -> Option<Fitted> {
    if seen.len() < FEWEST {
        return None;
    }
    let count = seen.iter().map(|one| one.group).max()? + 1;
    let members = |group: usize| seen.iter().filter(|one| one.group == group && one.other.norm() > 0.0).count();
    let told: Vec<bool> = (0..count).map(|group| members(group) >= TOLD_APART).collect();
    let mut places = Vec::with_capacity(count);
    let mut unknowns = 1;
    for told in &told {
        places.push(unknowns);
        unknowns += 1 + usize::from(*told);
    }
    if seen.len() < unknowns + 2 {
        return None;
    }
    let (first, last) = ends(seen.iter().map(|one| one.at))?;
    let middle = (first + last) / 2.0;
    let span = last - first;
    if span <= 0.0 {
        return None;
    }
    let row = |one: &Seen| {
        let mut row = vec![Complex64::ZERO; unknowns];
        row[0] = one.own.scale((one.at - middle) / span);
        row[places[one.group]] = one.own;
        if told[one.group] {
            row[places[one.group] + 1] = one.other;
        }
        row
    };
    let weight = |one: &Seen| {
        let unseen = if told[one.group] { 0.0 } else { INTERFERENCE * one.other.norm() / 2f64.sqrt() };
        1.0 / (one.standard.powi(2) + unseen * unseen).max(1e-12)
    };
    let mut normal = vec![vec![Complex64::ZERO; unknowns]; unknowns];
    let mut right = vec![Complex64::ZERO; unknowns];
    for one in seen {
        let (row, weight) = (row(one), weight(one));
        for (i, a) in row.iter().enumerate() {
            right[i] += a.conj() * one.change * weight;
            for (j, b) in row.iter().enumerate() {
                normal[i][j] += a.conj() * b * weight;
            }
        }
    }
    let inverse = inverse(normal)?;
    let found: Vec<Complex64> =
        inverse.iter().map(|row| row.iter().zip(&right).map(|(a, b)| a * b).sum::<Complex64>()).collect();
    let left = |one: &Seen| one.change - row(one).iter().zip(&found).map(|(a, b)| a * b).sum::<Complex64>();
    let squares: f64 = seen.iter().map(|one| left(one).norm_sqr() * weight(one)).sum();
    let freedom = 2 * (seen.len() - unknowns);
    let scatter = (squares / freedom as f64).max(1.0).sqrt();
    let known_to = coverage(Freedom::of(freedom as f64)) * scatter * inverse[0][0].re.max(0.0).sqrt();
    let change = |by: f64| Change { by, known_to, is_drift: by.abs() > COUNTS * known_to };
    let groups = places
        .iter()
        .zip(&told)
        .map(|(place, told)| [found[*place], if *told { found[*place + 1] } else { Complex64::ZERO }]);
    // Relative to what is read by now: a gain far from one is a matter of the proof.
    let mean = groups.clone().map(|[own, _]| own).sum::<Complex64>() / count as f64;
    let relative = found[0] / mean;
    Some(Fitted {
        gain: change(relative.re),
        angle: change(relative.im),
        groups: groups.collect(),
        slope: relative / span,
    })
}

/// A line through amounts.
#[derive(Clone, Copy, Debug)]
pub struct Straight {
    pub change: Change,
    pub middle: f64,
    /// On the middle day, and a day.
    pub value: f64,
    pub slope: f64,
}

/// Weighted least squares through day, share and its standard uncertainty.
pub fn straight(samples: &[(f64, f64, f64)]) -> Option<Straight> {
    if samples.len() < FEWEST {
        return None;
    }
    let (first, last) = ends(samples.iter().map(|(at, ..)| *at)).filter(|(first, last)| last > first)?;
    let weight = |standard: f64| 1.0 / (standard * standard).max(1e-12);
    let sum = |of: &dyn Fn(f64, f64) -> f64| -> f64 {
        samples.iter().map(|(at, share, standard)| weight(*standard) * of(*at, *share)).sum()
    };
    let all = sum(&|_, _| 1.0);
    let (middle, mean) = (sum(&|at, _| at) / all, sum(&|_, share| share) / all);
    let spread = sum(&|at, _| (at - middle).powi(2));
    let slope = sum(&|at, share| (at - middle) * (share - mean)) / spread;
    let squares = sum(&|at, share| (share - mean - slope * (at - middle)).powi(2));
    let freedom = (samples.len() - 2) as f64;
    let scatter = (squares / freedom).max(1.0).sqrt();
    let by = slope * (last - first);
    let known_to = coverage(Freedom::of(freedom)) * scatter / spread.sqrt() * (last - first);
    let change = Change { by, known_to, is_drift: by.abs() > COUNTS * known_to };
    Some(Straight { change, middle, value: mean, slope })
}

fn ends(all: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    all.fold(None, |ends: Option<(f64, f64)>, at| {
        Some(ends.map_or((at, at), |(low, high)| (low.min(at), high.max(at))))
    })
}

/// By Gauss and Jordan, with the largest pivot; `None` where rows say the same.
fn inverse(mut matrix: Vec<Vec<Complex64>>) -> Option<Vec<Vec<Complex64>>> {
    let size = matrix.len();
    let one = |i: usize| (0..size).map(|j| Complex64::new(f64::from(i == j), 0.0)).collect();
    let mut found: Vec<Vec<Complex64>> = (0..size).map(one).collect();
    let largest = matrix.iter().flatten().map(|one| one.norm()).fold(0.0, f64::max);
    for column in 0..size {
        let pivot = (column..size).max_by(|a, b| matrix[*a][column].norm().total_cmp(&matrix[*b][column].norm()))?;
        if matrix[pivot][column].norm() <= 1e-12 * largest {
            return None;
        }
        matrix.swap(column, pivot);
        found.swap(column, pivot);
        let by = matrix[column][column].inv();
        for j in 0..size {
            matrix[column][j] *= by;
            found[column][j] *= by;
        }
        for i in (0..size).filter(|i| *i != column) {
            let times = matrix[i][column];
            for j in 0..size {
                let (a, b) = (matrix[column][j], found[column][j]);
                matrix[i][j] -= times * a;
                found[i][j] -= times * b;
            }
        }
    }
    Some(found)
}
