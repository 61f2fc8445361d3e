//! Limits on the unbalances of planes: how planes act on each, and the shares of planes that keep all of them.

use super::domain::{Computed, Input, Requirement, demand, finite, positive, settled};
use super::linear::{Matrix, Number};
pub use crate::units::ARM;
use crate::units::{Amount, Couple, Length, Ratio, Typed, Unbalance, Vector};

/// What a limit is set on.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Acting {
    /// Bearing A (0) or B (1) of two.
    AtBearing(usize, [Length; 2]),
    /// One plane, by its number.
    InPlane(usize),
    /// The vector sum of all planes.
    Sum,
    /// The moment of all planes about a place.
    About(Length),
}

impl Acting {
    /// What one unit of unbalance at a place does here, signed; `planes` are the places of the correction planes, which
    /// an unbalance elsewhere is seen in as by plane separation. Source: statics of a rigid body.
    pub fn lever(self, at: Length, planes: &[Length]) -> Computed<Ratio> {
        let lever = match self {
            Acting::AtBearing(n, [a, b]) => {
                demand(
                    finite(b - a, Input::BearingSpan)? != Length::ZERO,
                    Input::BearingSpan,
                    Requirement::NotCoincide,
                )?;
                if n == 0 { (b - at) / (b - a) } else { (at - a) / (b - a) }
            }
            Acting::InPlane(n) => match planes {
                [_] => Ratio::new(1.0),
                [first, second] if first != second => {
                    let second_has = (at - *first) / (*second - *first);
                    if n == 0 { Ratio::new(1.0 - second_has.value()) } else { second_has }
                }
                _ => Ratio::new(if planes.get(n) == Some(&at) { 1.0 } else { 0.0 }),
            },
            Acting::Sum => Ratio::new(1.0),
            Acting::About(place) => (at - place) / ARM,
        };
        settled(lever)
    }
}

/// What acts at a limit, in base units of what the limit is of: an unbalance, or a couple.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug)]
pub struct Acted(f64);

impl Amount for Acted {
    fn from_raw(raw: f64) -> Self {
        Self(raw)
    }

    fn raw(self) -> f64 {
        self.0
    }
}

impl Acting {
    /// What a couple does at a bearing, given as the unbalance that makes it at [`ARM`]: its moment over their distance.
    /// Anywhere else it does nothing that counts as an unbalance. Source: statics of a rigid body.
    pub fn of_couple(self) -> Computed<Ratio> {
        let Acting::AtBearing(_, [a, b]) = self else { return Ok(Ratio::new(0.0)) };
        settled(ARM / positive((b - a).abs(), Input::BearingSpan)?)
    }

    /// An unbalance as what it is here: for a couple, what it makes at [`ARM`].
    pub fn acted(self, unbalance: Unbalance) -> Acted {
        Acted(unbalance.base() * if matches!(self, Acting::About(_)) { ARM.base() } else { 1.0 })
    }
}

/// A couple as the unbalance that makes it at [`ARM`].
pub fn at_arm(couple: Couple) -> Unbalance {
    Unbalance::from_base(couple.base() / ARM.base())
}

/// One limit, with the levers of the planes: what acts here is `|Σ cᵢ·Uᵢ|`.
#[derive(Clone, PartialEq, Debug)]
pub struct Row {
    levers: Vec<f64>,
    limit: Unbalance,
}

impl Row {
    /// From the places of the planes. A plane's own row takes it alone, wherever the planes are.
    pub fn new(acting: Acting, planes: &[Length], limit: Unbalance) -> Computed<Self> {
        let lever = |(n, at): (usize, &Length)| match acting {
            Acting::InPlane(own) => Ok(if own == n { 1.0 } else { 0.0 }),
            _ => acting.lever(*at, planes).map(Ratio::value),
        };
        let levers: Computed<Vec<f64>> = planes.iter().enumerate().map(lever).collect();
        Ok(Self { levers: levers?, limit: finite(limit, Input::Tolerance)? })
    }

    pub fn limit(&self) -> Unbalance {
        self.limit
    }

    /// What one unit of a plane does here, signed.
    pub fn lever(&self, plane: usize) -> Ratio {
        Ratio::new(self.levers[plane])
    }

    /// What unbalances in the planes do here.
    pub fn acting(&self, planes: &[Vector<Unbalance>]) -> Vector<Unbalance> {
        self.levers.iter().zip(planes).map(|(lever, unbalance)| *unbalance * *lever).sum()
    }

    /// The most that amounts in the planes do here, whatever their angles.
    pub fn worst(&self, planes: &[Unbalance]) -> Unbalance {
        self.parts(planes).sum()
    }

    /// The least that they must do here: what the largest part has over all others.
    pub fn best(&self, planes: &[Unbalance]) -> Unbalance {
        let largest = self.parts(planes).fold(Unbalance::ZERO, Unbalance::max);
        (largest * 2.0 - self.worst(planes)).max(Unbalance::ZERO)
    }

    fn parts<'a>(&'a self, planes: &'a [Unbalance]) -> impl Iterator<Item = Unbalance> + 'a {
        self.levers.iter().zip(planes).map(|(lever, amount)| *amount * lever.abs())
    }
}

/// A lever below this share of the row's longest does nothing.
const NO_LEVER: f64 = 1e-12;

/// The plane that no limit holds, by its number; `None` where each has one.
pub fn unlimited(rows: &[Row], planes: usize) -> Option<usize> {
    (0..planes).find(|plane| !rows.iter().any(|row| row.levers[*plane].abs() > NO_LEVER))
}

/// The amounts whose product is largest among all that keep every limit at the worst phase: `Σ|cᵢ|·Uᵢ ≤ L`.
///
/// Unique, as the logarithm of a product is strictly concave, and continuous in every limit and lever. All limits are
/// above zero, and each plane has one. Source: the largest product is our own choice, common practice, no source.
pub fn largest_product(rows: &[Row], planes: usize) -> Computed<Vec<Unbalance>> {
    for row in rows {
        positive(row.limit, Input::Tolerance)?;
    }
    demand(planes > 0 && unlimited(rows, planes).is_none(), Input::Tolerance, Requirement::HoldEveryPlane)?;
    let rows: Vec<(Vec<f64>, f64)> =
        rows.iter().map(|row| (row.levers.iter().map(|lever| lever.abs()).collect(), row.limit.base())).collect();
    let shares = match planes {
        1 => vec![rows.iter().map(|(c, limit)| limit / c[0]).fold(f64::INFINITY, f64::min)],
        2 => of_two(&rows).ok_or(super::DomainError { what: Input::Tolerance, must: Requirement::HoldEveryPlane })?,
        _ => of_many(&rows, planes),
    };
    shares.into_iter().map(|share| settled(Unbalance::from_base(share))).collect()
}

/// Exactly: the best point of one row, or the crossing of two.
fn of_two(rows: &[(Vec<f64>, f64)]) -> Option<Vec<f64>> {
    let touching = rows.iter().filter(|(c, _)| c[0].min(c[1]) > NO_LEVER);
    let mut candidates: Vec<[f64; 2]> = touching.map(|(c, l)| [l / (2.0 * c[0]), l / (2.0 * c[1])]).collect();
    for (n, (a, l)) in rows.iter().enumerate() {
        for (b, m) in &rows[n + 1..] {
            let determinant = a[0] * b[1] - a[1] * b[0];
            if determinant.abs() > NO_LEVER {
                candidates.push([(l * b[1] - m * a[1]) / determinant, (a[0] * m - b[0] * l) / determinant]);
            }
        }
    }
    let keeps = |u: &[f64; 2]| {
        u[0] > 0.0 && u[1] > 0.0 && rows.iter().all(|(c, l)| c[0] * u[0] + c[1] * u[1] <= l * (1.0 + 1e-12))
    };
    let best = candidates.into_iter().filter(keeps).max_by(|a, b| (a[0] * a[1]).total_cmp(&(b[0] * b[1])))?;
    Some(best.to_vec())
}

/// By Newton's method on `Σ log Uᵢ + μ·Σ log(L − c·U)`, damped so that it stays inside, for ever smaller μ; then drawn
/// out to the nearest limit. Source: the logarithmic barrier of Fiacco and McCormick, 1968 (from memory).
fn of_many(rows: &[(Vec<f64>, f64)], planes: usize) -> Vec<f64> {
    let left = |u: &[f64], (c, l): &(Vec<f64>, f64)| l - c.iter().zip(u).map(|(c, u)| c * u).sum::<f64>();
    let alone = |plane: usize| {
        let allowed = rows.iter().filter(|(c, _)| c[plane] > 0.0).map(|(c, l)| l / c[plane]);
        allowed.fold(f64::INFINITY, f64::min) / (planes + 1) as f64
    };
    let mut u: Vec<f64> = (0..planes).map(alone).collect();
    let mut weight = 1.0;
    while weight > 1e-13 {
        for _ in 0..30 {
            let slacks: Vec<f64> = rows.iter().map(|row| left(&u, row)).collect();
            let over = |i: usize, j: usize| -> f64 {
                rows.iter().zip(&slacks).map(|((c, _), s)| c[i] * c[j] / (s * s)).sum::<f64>() * weight
            };
            let slope: Vec<f64> = (0..planes)
                .map(|i| 1.0 / u[i] - weight * rows.iter().zip(&slacks).map(|((c, _), s)| c[i] / s).sum::<f64>())
                .collect();
            // In units of the shares themselves, so that small and large planes weigh alike.
            let curve = |i: usize, j: usize| over(i, j) * u[i] * u[j] + if i == j { 1.0 } else { 0.0 };
            let scaled: Vec<f64> = slope.iter().zip(&u).map(|(slope, u)| slope * u).collect();
            let step = solved(planes, curve, &scaled);
            let gain: f64 = step.iter().zip(&scaled).map(|(step, slope)| step * slope).sum();
            let value = |u: &[f64]| {
                let slacks = rows.iter().map(|row| left(u, row).ln()).sum::<f64>();
                u.iter().map(|u| u.ln()).sum::<f64>() + weight * slacks
            };
            let moved = |by: f64| -> Vec<f64> { u.iter().zip(&step).map(|(u, step)| u * (1.0 + by * step)).collect() };
            let here = value(&u);
            // Outside, a logarithm of what is below zero is no number, and no step.
            let by = std::iter::successors(Some(1.0), |by| Some(by / 2.0)).take(50);
            let Some(next) = by.map(moved).find(|next| value(next) >= here) else { break };
            u = next;
            if gain < 1e-15 {
                break;
            }
        }
        weight /= 3.0;
    }
    let used = rows.iter().map(|(c, l)| c.iter().zip(&u).map(|(c, u)| c * u).sum::<f64>() / l).fold(0.0, f64::max);
    u.into_iter().map(|u| u / used).collect()
}

/// The x for which the matrix, of full rank, gives a right-hand side.
fn solved(size: usize, entry: impl Fn(usize, usize) -> f64, right: &[f64]) -> Vec<f64> {
    let matrix = Matrix::new(size, size, |row, column| Number::from(entry(row, column)));
    let right: Vec<Number> = right.iter().map(|one| Number::from(*one)).collect();
    matrix.decompose().nearest(&right).into_iter().map(|one| one.re).collect()
}
