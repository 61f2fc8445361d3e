//! The point whose distances from others are in the proportion of given amounts: circles about the others that meet.

/// A point, and the amount that belongs to it.
pub(super) type Point = ([f64; 2], f64);

/// Amounts at several points; of points of a size about one.
pub(super) struct Circles {
    pub points: Vec<Point>,
}

/// A place where the sum of squares is least round about.
#[derive(Clone, Copy, Debug)]
pub(super) struct Least {
    /// By what distances are multiplied, and the point opposite to which they are measured: `κ, x, y`.
    pub at: [f64; 3],
    /// The root of the sum of squares for each amount beyond three; zero without one.
    pub misfit: f64,
}

/// Steps of one search.
const STEPS: usize = 100;

/// A search is near an answer when a step moves it less than this share, and has settled by this one.
const NEAR: f64 = 1e-3;
const SETTLED: f64 = 1e-12;

/// Searches begin so far out, in so many directions.
const BEGIN_AT: [f64; 3] = [0.3, 1.0, 3.0];
const DIRECTIONS: usize = 8;

/// Answers nearer to each other than this share of their size and of the points are one that is not quite found yet.
const ONE_ANSWER: f64 = 0.03;

/// Farther out than this no amounts tell anything any more.
const NOWHERE: f64 = 1e3;

/// The least first, each once.
fn distinct(mut all: Vec<Least>, within: f64) -> Vec<Least> {
    all.sort_by(|a, b| a.misfit.total_cmp(&b.misfit));
    let size = |one: &Least| one.at[1].hypot(one.at[2]);
    let mut found: Vec<Least> = Vec::new();
    for one in all.into_iter().filter(|one| one.at[0] > 0.0 && size(one) < NOWHERE) {
        let apart = |other: &Least| (one.at[1] - other.at[1]).hypot(one.at[2] - other.at[2]);
        if found.iter().all(|other| apart(other) > within * (size(&one) + 1.0)) {
            found.push(one);
        }
    }
    found
}

impl Circles {
    /// All places where `Σ (κ·|p + pᵢ| − Aᵢ)²` is least round about, the least of them first.
    ///
    /// Source: damped least squares, K. Levenberg, A Method for the Solution of Certain Non-Linear Problems in Least
    /// Squares, 1944 (from memory).
    pub(super) fn answers(&self) -> Vec<Least> {
        let begin = |radius: f64, n: usize| {
            let angle = std::f64::consts::TAU * (n as f64 + 0.25) / DIRECTIONS as f64;
            [1.0 / radius, radius * angle.cos(), radius * angle.sin()]
        };
        let starts = BEGIN_AT.iter().flat_map(|radius| (0..DIRECTIONS).map(move |n| begin(*radius, n)));
        // Near enough first, and from there each answer once; searches that crept are begun again from where they came to.
        let near = distinct(starts.filter_map(|from| self.search(from, NEAR)).collect(), ONE_ANSWER / 3.0);
        let all = near
            .into_iter()
            .filter_map(|one| self.search(one.at, SETTLED))
            .filter_map(|one| self.search(one.at, SETTLED));
        distinct(all.collect(), ONE_ANSWER)
    }

    /// The root of the diagonal of `(JᵀJ)⁻¹`: by what an error of one in each amount moves κ, x and y.
    pub(super) fn moved_by_one(&self, at: [f64; 3]) -> [f64; 3] {
        let (matrix, _) = self.normal(at);
        std::array::from_fn(|n| {
            let unit = std::array::from_fn(|row| if row == n { 1.0 } else { 0.0 });
            solve(matrix, unit).map_or(f64::INFINITY, |column| column[n].abs().sqrt())
        })
    }

    fn search(&self, mut at: [f64; 3], to: f64) -> Option<Least> {
        let mut sum = self.sum_of_squares(at);
        let mut damping = 1e-3;
        for _ in 0..STEPS {
            let (matrix, right) = self.normal(at);
            let damped = std::array::from_fn(|row| {
                std::array::from_fn(|column| matrix[row][column] * if row == column { 1.0 + damping } else { 1.0 })
            });
            let step = solve(damped, right)?;
            let next = std::array::from_fn(|n| at[n] + step[n]);
            let new = self.sum_of_squares(next);
            if new <= sum {
                let settled = step.iter().zip(at).all(|(step, at)| step.abs() <= to * (at.abs() + to.sqrt()));
                (at, sum, damping) = (next, new, damping / 5.0);
                if settled {
                    break;
                }
            } else {
                damping *= 6.0;
                if damping > 1e12 {
                    break;
                }
            }
        }
        let spare = self.points.len().saturating_sub(3);
        let misfit = if spare == 0 { 0.0 } else { (sum / spare as f64).sqrt() };
        // What has not come near anything is none.
        let is_none = spare == 0 && sum > to.max(1e-8);
        (at.iter().all(|value| value.is_finite()) && !is_none).then_some(Least { at, misfit })
    }

    fn sum_of_squares(&self, [k, x, y]: [f64; 3]) -> f64 {
        self.points.iter().map(|([px, py], amount)| (k * (x + px).hypot(y + py) - amount).powi(2)).sum()
    }

    /// `JᵀJ` and `−Jᵀr`.
    fn normal(&self, [k, x, y]: [f64; 3]) -> ([[f64; 3]; 3], [f64; 3]) {
        let (mut matrix, mut right) = ([[0.0; 3]; 3], [0.0; 3]);
        for ([px, py], amount) in &self.points {
            let distance = (x + px).hypot(y + py).max(1e-12);
            let slope = [distance, k * (x + px) / distance, k * (y + py) / distance];
            let off = k * distance - amount;
            for row in 0..3 {
                right[row] -= slope[row] * off;
                for column in 0..3 {
                    matrix[row][column] += slope[row] * slope[column];
                }
            }
        }
        (matrix, right)
    }
}

/// By Cramer's rule; `None` where the matrix is singular.
fn solve(matrix: [[f64; 3]; 3], right: [f64; 3]) -> Option<[f64; 3]> {
    let whole = determinant(matrix);
    let scale = matrix[0][0] * matrix[1][1] * matrix[2][2];
    if !whole.is_finite() || whole.abs() <= 1e-14 * scale.abs() || scale == 0.0 {
        return None;
    }
    Some(std::array::from_fn(|n| {
        let mut replaced = matrix;
        (0..3).for_each(|row| replaced[row][n] = right[row]);
        determinant(replaced) / whole
    }))
}

fn determinant(m: [[f64; 3]; 3]) -> f64 {
    m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
        + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
}
