//! Least squares of a few unknowns over many rows, by normal equations.

/// Normal equations of `P` unknowns. They lose half of the digits that [`crate::least_squares`] keeps, which is no matter
/// where the columns are well apart; nothing is allocated.
#[derive(Clone, Copy, Debug)]
pub struct NormalEquations<const P: usize> {
    gram: [[f64; P]; P],
    right: [f64; P],
    square: f64,
}

/// What [`NormalEquations::solve`] finds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NormalSolution<const P: usize> {
    /// The unknowns.
    pub coefficients: [f64; P],
    /// (XᵀX)⁻¹: times the variance of a row it is the covariance of the coefficients.
    pub unscaled: [[f64; P]; P],
    /// Sum of the squared residuals, and of those of what was known beforehand.
    pub residual: f64,
}

impl<const P: usize> NormalEquations<P> {
    /// No rows.
    #[must_use]
    pub const fn new() -> Self {
        Self { gram: [[0.0; P]; P], right: [0.0; P], square: 0.0 }
    }

    /// Takes in a row of the design and what it should give.
    pub fn push(&mut self, row: &[f64; P], y: f64) {
        for i in 0..P {
            for j in 0..=i {
                self.gram[i][j] += row[i] * row[j];
            }
            self.right[i] += row[i] * y;
        }
        self.square += y * y;
    }

    /// Takes in that unknown `k` is known to be near `at`, with a weight (a row's is 1).
    pub fn know(&mut self, k: usize, at: f64, weight: f64) {
        if let (Some(row), Some(right)) = (self.gram.get_mut(k), self.right.get_mut(k)) {
            row[k] += weight;
            *right += weight * at;
            self.square += weight * at * at;
        }
    }

    /// The unknowns, by Gauss and Jordan's elimination. `None` where a pivot is nothing beside its diagonal: the rows do
    /// not determine the unknowns.
    #[must_use]
    pub fn solve(&self) -> Option<NormalSolution<P>> {
        let mut a = self.gram;
        for i in 0..P {
            for j in i + 1..P {
                a[i][j] = self.gram[j][i];
            }
        }
        for k in 0..P {
            let pivot = a[k][k];
            if !(pivot > 1e-15 * self.gram[k][k] && pivot.is_finite()) {
                return None;
            }
            let row = a[k];
            for i in (0..P).filter(|i| *i != k) {
                let by = a[i][k] / pivot;
                for j in 0..P {
                    a[i][j] -= by * row[j];
                }
                a[i][k] = -by;
            }
            a[k] = row.map(|x| x / pivot);
            a[k][k] = 1.0 / pivot;
        }
        let c: [f64; P] = core::array::from_fn(|i| (0..P).map(|j| a[i][j] * self.right[j]).sum());
        // yᵀy − 2 cᵀXᵀy + cᵀXᵀX c
        let mut residual = self.square;
        for i in 0..P {
            let fitted: f64 = (0..P).map(|j| self.gram[i.max(j)][i.min(j)] * c[j]).sum();
            residual += c[i] * (fitted - 2.0 * self.right[i]);
        }
        Some(NormalSolution { coefficients: c, unscaled: a, residual: residual.max(0.0) })
    }
}

impl<const P: usize> Default for NormalEquations<P> {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::least_squares;
    use approx::assert_relative_eq;

    /// Against orthogonal triangularisation of the same rows, the last unknown known beforehand as one more row.
    #[test]
    fn as_by_triangularisation() {
        let mut normal = NormalEquations::<3>::new();
        let (mut rows, mut y) = (Vec::new(), Vec::new());
        for i in 0..501 {
            let x = 0.01 * f64::from(i);
            let value = 1.0 + 2.0 * x - 0.3 * x * x + 0.1 * libm::sin(40.0 * x);
            normal.push(&[1.0, x, x * x], value);
            rows.push(vec![1.0, x, x * x]);
            y.push(value);
        }
        normal.know(2, 0.5, 9.0);
        rows.push(vec![0.0, 0.0, 3.0]);
        y.push(1.5);
        let all = least_squares(&rows, &y, &vec![1.0; y.len()]).unwrap();
        let got = normal.solve().unwrap();
        for i in 0..3 {
            assert_relative_eq!(got.coefficients[i], all.coefficients[i], max_relative = 1e-11);
            for j in 0..3 {
                assert_relative_eq!(got.unscaled[i][j], all.unscaled[i][j], max_relative = 1e-9);
            }
        }
        assert_relative_eq!(got.residual, all.variance * all.dof, max_relative = 1e-9);
    }

    #[test]
    fn equal_columns_determine_nothing() {
        let mut normal = NormalEquations::<2>::new();
        for x in [1.0, 2.0, 3.0] {
            normal.push(&[x, 2.0 * x], x);
        }
        assert!(normal.solve().is_none());
        assert!(NormalEquations::<1>::new().solve().is_none());
    }
}
