//! A straight line through what was found on many days, and whether it tells a drift from scatter.

use num_complex::Complex64;

use super::otherwise::{Course, Through, Value};
use crate::mechanics::budget::{Freedom, coverage, coverage_of_three, differs_clearly};

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
    /// Along the line.
    pub by: f64,
    /// At 95.45 %.
    pub known_to: f64,
    pub course: Course,
}

impl Change {
    /// A line counts where it is more than scatter is in one of 370 lines.
    pub(super) fn of(by: f64, standard: f64, through: &Through, ways: usize) -> Self {
        let counts = differs_clearly([by.abs(), 1.0], [standard, through.freedom], ways);
        let known_to = coverage(Freedom::of(through.freedom)) * standard;
        Self { by, known_to, course: through.course(counts, ways) }
    }

    pub fn is_drift(&self) -> bool {
        self.course == Course::Drifts
    }

    /// Whether a line says what there is to see.
    pub fn is_along_a_line(&self) -> bool {
        matches!(self.course, Course::Steady | Course::Drifts)
    }
}

/// What is off throughout: far more than it drifts or jumps.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Off {
    pub by: f64,
    /// At 95.45 %.
    pub known_to: f64,
}

impl Off {
    /// `None` where it is within what a proof and its masses are known to, or within scatter.
    fn of(by: f64, [standard, besides]: [f64; 2], along: &Along, within: f64) -> Option<Self> {
        let freedom = Freedom::of(along.freedom);
        let counts = by.abs() > coverage_of_three(freedom) * standard + besides && by.abs() > within;
        let changed = along.change.course.size(along.change.by);
        (counts && changed < CHANGED * by.abs()).then(|| Self { by, known_to: coverage(freedom) * standard + besides })
    }
}

/// So far a gain and an angle may be off what the proof found and nobody would prove again. Source: common practice, no source.
const GAIN_WITHIN: f64 = 0.05;
const ANGLE_WITHIN: f64 = 3.0 * std::f64::consts::PI / 180.0;

/// What one group of samples says.
#[derive(Clone, Copy, Debug)]
pub struct GroupFit {
    /// What one unit reads, in the middle of all days.
    pub unit: Complex64,
    /// What one unit in the other plane does, and whether the samples tell it rather than what is assumed of it.
    pub heard: Complex64,
    pub is_heard_told: bool,
    /// How far gain and angle are off on the days of the group, where that is more than scatter.
    pub gain_off: Option<Off>,
    pub angle_off: Option<Off>,
}

/// What a line through samples says: shares for the gain, rad for the angle.
#[derive(Clone, Debug)]
pub struct Fitted {
    pub gain: Change,
    pub angle: Change,
    pub groups: Vec<GroupFit>,
    /// Change a day: of the gain, and in rad of the angle.
    pub slope: Complex64,
}

/// So much one plane reads of the other where the samples do not tell it, at any angle: as a weight of each component.
/// Source: common practice, no source.
const ASSUMED: f64 = 2.0 / (0.05 * 0.05);
/// What changes by more of it is not off throughout. Source: common practice, no source.
const CHANGED: f64 = 0.25;
/// With fewer samples a group is not off throughout.
const OFF_THROUGHOUT: usize = 3;

/// Weighted least squares over complex numbers: one slope for all, and an offset and an interference for each group. That the
/// interference is small counts as one more observation, so that it takes nothing of the gain where both planes were always
/// corrected alike. Source: Gauss–Markov.
struct Solved {
    found: Vec<Complex64>,
    inverse: Vec<Vec<Complex64>>,
    /// What is assumed makes fewer unknowns. Source: the trace, Hastie, Tibshirani and Friedman, The Elements of Statistical
    /// Learning, section 3.4.1 (from memory).
    unknowns: f64,
    groups: usize,
    middle: f64,
    span: f64,
}

impl Solved {
    /// With standard uncertainties so many times as large as stated. `None` where there are too few days.
    fn of(seen: &[Seen], times: f64) -> Option<Self> {
        let groups = seen.iter().map(|one| one.group).max()? + 1;
        let (first, last) = ends(seen.iter().map(|one| one.at)).filter(|(first, last)| last > first)?;
        let size = 1 + 2 * groups;
        let mut solved = Self {
            found: vec![],
            inverse: vec![],
            unknowns: 0.0,
            groups,
            middle: (first + last) / 2.0,
            span: last - first,
        };
        let mut normal = vec![vec![Complex64::ZERO; size]; size];
        let mut right = vec![Complex64::ZERO; size];
        for one in seen {
            let (offset, heard) = (Self::offset(one.group), Self::heard(one.group));
            let row = [(0, one.own.scale(solved.share(one.at))), (offset, one.own), (heard, one.other)];
            let weight = 1.0 / (one.standard * times).powi(2).max(1e-12);
            for (i, a) in row {
                right[i] += a.conj() * one.change * weight;
                for (j, b) in row {
                    normal[i][j] += a.conj() * b * weight;
                }
            }
        }
        for heard in (0..groups).map(Self::heard) {
            normal[heard][heard] += ASSUMED;
        }
        solved.inverse = inverse(normal)?;
        let times_right = |row: &Vec<Complex64>| row.iter().zip(&right).map(|(a, b)| a * b).sum::<Complex64>();
        solved.found = solved.inverse.iter().map(times_right).collect();
        let of_assumed: f64 = (0..groups).map(|group| solved.is_assumed(group)).sum();
        solved.unknowns = size as f64 - of_assumed;
        Some(solved)
    }

    const fn offset(group: usize) -> usize {
        1 + 2 * group
    }

    const fn heard(group: usize) -> usize {
        2 + 2 * group
    }

    fn share(&self, at: f64) -> f64 {
        (at - self.middle) / self.span
    }

    /// What one unit reads on a day.
    fn unit(&self, group: usize, at: f64) -> Complex64 {
        self.found[Self::offset(group)] + self.found[0].scale(self.share(at))
    }

    fn of_other(&self, group: usize) -> Complex64 {
        self.found[Self::heard(group)]
    }

    fn variance(&self, unknown: usize) -> f64 {
        self.inverse[unknown][unknown].re.max(0.0)
    }

    /// The share of what is known of an interference that is assumed.
    fn is_assumed(&self, group: usize) -> f64 {
        self.variance(Self::heard(group)) * ASSUMED
    }

    fn is_heard_told(&self, group: usize) -> bool {
        self.is_assumed(group) < 0.1
    }

    /// Whether what is read of the plane itself is told apart from what is heard of the other: by their correlation.
    fn is_told_apart(&self, group: usize) -> bool {
        let (offset, heard) = (Self::offset(group), Self::heard(group));
        let together = self.inverse[offset][heard].norm_sqr();
        self.is_heard_told(group) || together < 0.5 * self.variance(offset) * self.variance(heard)
    }

    /// What a unit is known to on a day, and by how much its size may come out too large: what is put on follows the reading
    /// before, and so its scatter, which counts where the planes were corrected nearly alike.
    fn known(&self, group: usize, at: f64, count: usize) -> (f64, f64) {
        let (share, offset) = (self.share(at), Self::offset(group));
        let together = 2.0 * share * self.inverse[0][offset].re;
        let variance = self.variance(offset) + together + share * share * self.variance(0);
        (variance.max(0.0).sqrt(), 2.0 * self.variance(offset) * count as f64)
    }

    /// Gains about one, or angles, what was heard of the other plane taken out.
    fn values(&self, seen: &[Seen], is_angle: bool) -> Vec<Value> {
        let value = |one: &Seen| {
            let unit = self.found[Self::offset(one.group)];
            let own = (one.change - self.of_other(one.group) * one.other) / one.own;
            let heard = self.variance(Self::heard(one.group)) * one.other.norm_sqr();
            let standard = (one.standard.powi(2) + heard).sqrt();
            let (value, standard) = match is_angle {
                false => (own.norm() - 1.0, standard),
                true => ((own / unit).arg() + unit.arg(), standard / unit.norm()),
            };
            Value { at: one.at, group: one.group, value, standard }
        };
        seen.iter().map(value).collect()
    }

    fn through(&self, seen: &[Seen], is_angle: bool) -> Option<Through> {
        Through::of(&self.values(seen, is_angle), self.unknowns)
    }
}

/// The gain, or the angle, of all samples.
struct Along {
    solved: Solved,
    /// How many times as large as stated, no less than once.
    scatter: f64,
    freedom: f64,
    change: Change,
}

impl Along {
    /// Each scatters by itself: what moves a gain from record to record turns no angle. The larger of the stated and the found
    /// scatter counts.
    fn of(seen: &[Seen], is_angle: bool) -> Option<Self> {
        let solved = Solved::of(seen, 1.0)?;
        let scatter = solved.through(seen, is_angle)?.scatter;
        let solved = Solved::of(seen, scatter)?;
        let through = solved.through(seen, is_angle)?;
        // A change is told over what was read of one unit at first, in each group on its own first day: a gain far from one is
        // a matter of the proof.
        let first_of = |group: usize| {
            let days = seen.iter().filter(|one| one.group == group).map(|one| one.at);
            ends(days).map_or(Complex64::ZERO, |(first, _)| solved.unit(group, first))
        };
        let at_first = seen.iter().map(|one| first_of(one.group)).sum::<Complex64>() / seen.len() as f64;
        let after = Complex64::ONE + solved.found[0] / at_first;
        let standard = solved.variance(0).sqrt() / at_first.norm();
        let change = match is_angle {
            false => {
                let change = Change::of(after.norm() - 1.0, standard, &through, 1);
                Change { course: change.course.over_the_level_before(), ..change }
            }
            true => Change::of(after.arg(), standard / after.norm(), &through, 1),
        };
        Some(Self { solved, scatter, freedom: through.freedom, change })
    }
}

/// `None` where there are too few samples or days.
pub fn fit(seen: &[Seen]) -> Option<Fitted> {
    if seen.len() < FEWEST {
        return None;
    }
    let (gain, angle) = (Along::of(seen, false)?, Along::of(seen, true)?);
    let solved = &gain.solved;
    // Where the planes were corrected alike, what scatters an angle scatters a gain.
    let of_both = Solved::of(seen, gain.scatter.max(angle.scatter))?;
    let group = |group: usize| {
        let days: Vec<f64> = seen.iter().filter(|one| one.group == group).map(|one| one.at).collect();
        let at = days.iter().sum::<f64>() / days.len().max(1) as f64;
        let unit = of_both.unit(group, at);
        let (standard, too_large) = of_both.known(group, at, days.len());
        let is_told = days.len() >= OFF_THROUGHOUT && of_both.is_told_apart(group);
        let off = |by: f64, standard: f64, along: &Along, within: f64| {
            Off::of(by, [standard, too_large], along, within).filter(|_| is_told)
        };
        GroupFit {
            unit: solved.unit(group, solved.middle),
            heard: solved.of_other(group),
            is_heard_told: of_both.is_heard_told(group),
            gain_off: off(unit.norm() - 1.0, standard, &gain, GAIN_WITHIN),
            angle_off: off(unit.arg(), standard / unit.norm(), &angle, ANGLE_WITHIN),
        }
    };
    let groups: Vec<GroupFit> = (0..solved.groups).map(group).collect();
    let in_middle = seen.iter().map(|one| groups[one.group].unit).sum::<Complex64>() / seen.len() as f64;
    let now = solved.found[0] / in_middle;
    let slope = Complex64::new(now.re * in_middle.norm(), now.im) / solved.span;
    Some(Fitted { gain: gain.change, angle: angle.change, groups, slope })
}

pub(super) fn ends(all: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
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
