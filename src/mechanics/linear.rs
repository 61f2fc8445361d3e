//! Least squares and singular values of complex matrices, which have as many columns as there are planes.

use num_complex::Complex;

pub(super) type Number = Complex<f64>;

/// Five or six are usual; what has not settled by then moves in its last digit.
const MOST_SWEEPS: usize = 40;

/// At least one row and one column.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Matrix {
    columns: Vec<Vec<Number>>,
}

impl Matrix {
    /// From its entries, by row and column.
    pub(super) fn new(rows: usize, columns: usize, entry: impl Fn(usize, usize) -> Number) -> Self {
        let column = |column| (0..rows).map(|row| entry(row, column)).collect();
        Self { columns: (0..columns).map(column).collect() }
    }

    pub(super) fn rows(&self) -> usize {
        self.columns[0].len()
    }

    pub(super) fn columns(&self) -> usize {
        self.columns.len()
    }

    pub(super) fn at(&self, row: usize, column: usize) -> Number {
        self.columns[column][row]
    }

    /// One row of `A·x`.
    pub(super) fn row_times(&self, row: usize, x: &[Number]) -> Number {
        self.columns.iter().zip(x).map(|(column, x)| column[row] * x).sum()
    }

    /// Turned until its columns are at right angles, two at a time. The matrix is finite.
    ///
    /// Source: one-sided Jacobi rotations, M. R. Hestenes, Inversion of Matrices by Biorthogonalization and Related
    /// Results, 1958 (from memory).
    pub(super) fn decompose(&self) -> Decomposed {
        // Over the largest entry, so that no square of a length is too large.
        let largest = |most: f64, entry: &Number| most.max(entry.re.abs()).max(entry.im.abs());
        let scale = self.columns.iter().flatten().fold(0.0, largest);
        let mut turned = self.columns.clone();
        turned.iter_mut().flatten().for_each(|entry| *entry /= if scale > 0.0 { scale } else { 1.0 });
        let count = turned.len();
        // Columns whose product is a smaller share of the product of their lengths are at right angles.
        let rounding = f64::EPSILON * self.rows() as f64;
        let unit = |column: usize| (0..count).map(|row| Number::from(if row == column { 1.0 } else { 0.0 })).collect();
        let mut turn: Vec<Vec<Number>> = (0..count).map(unit).collect();
        for _ in 0..MOST_SWEEPS {
            let mut settled = true;
            for one in 0..count {
                for other in one + 1..count {
                    let (a, b) = (square(&turned[one]), square(&turned[other]));
                    let product = inner(&turned[one], &turned[other]);
                    let size = product.norm();
                    if size > rounding * a.sqrt() * b.sqrt() {
                        settled = false;
                        let cotangent = (b - a) / (2.0 * size);
                        let tangent = cotangent.signum() / (cotangent.abs() + cotangent.hypot(1.0));
                        let cosine = 1.0 / tangent.hypot(1.0);
                        let sine = product / size * (tangent * cosine);
                        rotate(&mut turned, one, other, cosine, sine);
                        rotate(&mut turn, one, other, cosine, sine);
                    }
                }
            }
            if settled {
                break;
            }
        }
        Decomposed { scale, turned, turn }
    }
}

/// `A·V = U·Σ`, with the columns of V and those of U of length one and at right angles.
pub(super) struct Decomposed {
    /// By what `turned` is to be multiplied.
    scale: f64,
    /// The columns of `U·Σ`.
    turned: Vec<Vec<Number>>,
    /// The columns of V.
    turn: Vec<Vec<Number>>,
}

impl Decomposed {
    /// The largest singular value over the smallest of as many as there are rows or columns; `None` where the smallest
    /// is below a share of the largest.
    pub(super) fn condition(&self, least_share: f64) -> Option<f64> {
        let mut values: Vec<f64> = self.turned.iter().map(|column| square(column).sqrt()).collect();
        values.sort_by(|a, b| b.total_cmp(a));
        let (most, least) = (values[0], values[values.len().min(self.turned[0].len()) - 1]);
        (least > least_share * most).then(|| most / least)
    }

    /// The x for which `A·x` is nearest to a right-hand side. Where [`Self::condition`] has one, and no more columns
    /// than rows.
    pub(super) fn nearest(&self, right: &[Number]) -> Vec<Number> {
        let along = |column: &Vec<Number>| inner(column, right) / square(column) / self.scale;
        let along: Vec<Number> = self.turned.iter().map(along).collect();
        (0..self.turn.len()).map(|row| self.turn.iter().zip(&along).map(|(v, along)| v[row] * along).sum()).collect()
    }
}

fn square(column: &[Number]) -> f64 {
    column.iter().map(|entry| entry.norm_sqr()).sum()
}

fn inner(one: &[Number], other: &[Number]) -> Number {
    one.iter().zip(other).map(|(a, b)| a.conj() * b).sum()
}

/// Two columns p and q become `c·p − s̄·q` and `s·p + c·q`.
fn rotate(columns: &mut [Vec<Number>], one: usize, other: usize, cosine: f64, sine: Number) {
    for row in 0..columns[one].len() {
        let (p, q) = (columns[one][row], columns[other][row]);
        columns[one][row] = p * cosine - sine.conj() * q;
        columns[other][row] = sine * p + q * cosine;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The example of zgels and zgesvd in the manual of the NAG library (from memory): six equations, four unknowns.
    #[test]
    fn a_published_example_comes_out() {
        let rows = [
            [(0.96, -0.81), (-0.03, 0.96), (-0.91, 2.06), (-0.05, 0.41)],
            [(-0.98, 1.98), (-1.20, 0.19), (-0.66, 0.42), (-0.81, 0.56)],
            [(0.62, -0.46), (1.01, 0.02), (0.63, -0.17), (-1.11, 0.60)],
            [(-0.37, 0.38), (0.19, -0.54), (-0.98, -0.36), (0.22, -0.20)],
            [(0.83, 0.51), (0.20, 0.01), (-0.17, -0.46), (1.47, 1.59)],
            [(1.08, -0.28), (0.20, -0.12), (-0.07, 1.23), (0.26, 0.26)],
        ];
        let right = [(-2.09, 1.93), (3.34, -3.53), (-4.94, -2.04), (0.17, 4.23), (-5.19, 3.63), (0.98, 2.53)];
        let solution = [(-0.5044, -1.2179), (-2.4281, 2.8574), (1.4872, -2.1955), (0.4537, 2.6904)];
        let number = |(re, im): (f64, f64)| Number::new(re, im);
        let matrix = Matrix::new(6, 4, |row, column| number(rows[row][column]));
        let right = right.map(number);
        let decomposed = matrix.decompose();
        let found = decomposed.nearest(&right);
        for (found, published) in found.iter().zip(solution) {
            assert!((found - number(published)).norm() < 1e-4, "{found} for {published:?}");
        }
        let left: f64 = (0..6).map(|row| (matrix.row_times(row, &found) - right[row]).norm_sqr()).sum();
        assert!((left.sqrt() - 6.88e-2).abs() < 1e-4);
        // Largest and smallest singular value.
        assert!((decomposed.condition(0.0).unwrap() - 3.9994 / 0.9995).abs() < 4e-4);
        // Laid on its side it has no more of them than rows.
        let wide = Matrix::new(4, 6, |row, column| matrix.at(column, row).conj());
        assert!((wide.decompose().condition(0.0).unwrap() - 3.9994 / 0.9995).abs() < 4e-4);
    }

    /// Conditions of the Hilbert matrices, `1 / (i + j − 1)`: N. J. Higham, The Test Matrix Toolbox (from memory).
    #[test]
    fn badly_conditioned_matrices_are_told() {
        for (size, published) in [(2, 19.281), (3, 524.06), (4, 1.5514e4), (5, 4.7661e5), (6, 1.4951e7)] {
            let hilbert = |scale: f64| Matrix::new(size, size, move |i, j| Number::from(scale / (i + j + 1) as f64));
            // So large and so small that a square of an entry is none any more.
            for scale in [1.0, 1e300, 1e-300] {
                let condition = hilbert(scale).decompose().condition(0.0).unwrap();
                assert!((condition / published - 1.0).abs() < 1e-4, "{size}: {condition}");
            }
            assert_eq!(hilbert(1.0).decompose().condition(1.0 / 1.4e7).is_none(), size == 6);
        }
    }

    #[test]
    fn columns_alike_and_columns_of_nothing_have_no_condition() {
        let alike = Matrix::new(3, 2, |row, column| Number::new(row as f64, 1.0) * Number::new(0.3, column as f64));
        assert_eq!(alike.decompose().condition(1e-9), None);
        assert_eq!(Matrix::new(3, 2, |_, _| Number::from(0.0)).decompose().condition(1e-9), None);
    }
}
