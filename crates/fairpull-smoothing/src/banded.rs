//! Symmetric banded matrices: lower band, Cholesky, solve.

/// Half bandwidth: quartic splines (4) and one more for neighbouring rows combined by the noise model.
pub(crate) const BAND: usize = 5;

/// Lower band of a symmetric matrix: `rows[i][k]` is element (i, i − k).
#[derive(Clone, Debug)]
pub(crate) struct Banded {
    pub(crate) rows: Vec<[f64; BAND + 1]>,
}

impl Banded {
    pub(crate) fn zero(n: usize) -> Self {
        Self { rows: vec![[0.0; BAND + 1]; n] }
    }

    /// Adds `value` to element (i, j), j <= i <= j + BAND.
    pub(crate) fn add(&mut self, i: usize, j: usize, value: f64) {
        self.rows[i][i - j] += value;
    }

    /// self + factor * other.
    pub(crate) fn plus(&self, factor: f64, other: &Self) -> Self {
        let mut out = self.clone();
        for (row, more) in out.rows.iter_mut().zip(&other.rows) {
            for (a, b) in row.iter_mut().zip(more) {
                *a += factor * b;
            }
        }
        out
    }

    /// Lower Cholesky factor, or `None` when not positive definite.
    pub(crate) fn cholesky(&self) -> Option<Self> {
        let n = self.rows.len();
        let mut l = Self::zero(n);
        for i in 0..n {
            for j in i.saturating_sub(BAND)..=i {
                let mut sum = self.rows[i][i - j];
                for k in i.saturating_sub(BAND).max(j.saturating_sub(BAND))..j {
                    sum -= l.rows[i][i - k] * l.rows[j][j - k];
                }
                if i == j {
                    if !(sum > 0.0 && sum.is_finite()) {
                        return None;
                    }
                    l.rows[i][0] = libm::sqrt(sum);
                } else {
                    l.rows[i][i - j] = sum / l.rows[j][0];
                }
            }
        }
        Some(l)
    }

    /// Solves L Lᵀ x = b with self = L.
    pub(crate) fn solve(&self, b: &[f64]) -> Vec<f64> {
        let n = self.rows.len();
        let mut x = b.to_vec();
        for i in 0..n {
            let mut sum = x[i];
            for k in i.saturating_sub(BAND)..i {
                sum -= self.rows[i][i - k] * x[k];
            }
            x[i] = sum / self.rows[i][0];
        }
        for i in (0..n).rev() {
            let mut sum = x[i];
            for k in i + 1..(i + BAND + 1).min(n) {
                sum -= self.rows[k][k - i] * x[k];
            }
            x[i] = sum / self.rows[i][0];
        }
        x
    }

    /// Log determinant of L Lᵀ with self = L.
    pub(crate) fn log_det(&self) -> f64 {
        2.0 * self.rows.iter().map(|r| libm::log(r[0])).sum::<f64>()
    }

    /// xᵀ A x for the symmetric matrix.
    pub(crate) fn quadratic(&self, x: &[f64]) -> f64 {
        let mut sum = 0.0;
        for (i, row) in self.rows.iter().enumerate() {
            for (k, a) in row.iter().enumerate().take(i + 1) {
                let twice = if k == 0 { 1.0 } else { 2.0 };
                sum += twice * a * x[i] * x[i - k];
            }
        }
        sum
    }
}
