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
        let mut x = b.to_vec();
        self.solve_from(0, &mut x);
        x
    }

    /// The same in place for a right side that is zero before `first`, where nothing has to be done on the way down.
    pub(crate) fn solve_from(&self, first: usize, x: &mut [f64]) {
        let n = self.rows.len();
        for i in first..n {
            let row = &self.rows[i];
            let mut sum = x[i];
            for k in i.saturating_sub(BAND).max(first)..i {
                sum -= row[i - k] * x[k];
            }
            x[i] = sum / row[0];
        }
        for i in (0..n).rev() {
            let mut sum = x[i];
            for k in i + 1..(i + BAND + 1).min(n) {
                sum -= self.rows[k][k - i] * x[k];
            }
            x[i] = sum / self.rows[i][0];
        }
    }

    /// For each weight w, with A = self + w · penalty: log |A| and bᵀ A⁻¹ b; none where A is not positive definite.
    /// Each weight is worked through as [`Self::cholesky`] and [`Self::solve`] would, side by side with the others:
    /// one alone mostly waits for its own last result.
    pub(crate) fn log_det_and_form<const N: usize>(
        &self,
        weights: [f64; N],
        penalty: &Self,
        b: &[f64],
    ) -> [Option<(f64, f64)>; N] {
        let n = self.rows.len();
        let mut l = vec![[[0.0; N]; BAND + 1]; n];
        let mut x = vec![[0.0; N]; n];
        let (mut logs, mut sound) = ([0.0; N], [true; N]);
        for i in 0..n {
            let low = i.saturating_sub(BAND);
            let (done, rest) = l.split_at_mut(i);
            let row = &mut rest[0];
            for j in low..=i {
                let (a, p) = (self.rows[i][i - j], penalty.rows[i][i - j]);
                let mut sum: [f64; N] = core::array::from_fn(|m| a + weights[m] * p);
                let other = if j < i { &done[j] } else { &*row };
                let mut less = [0.0; N];
                for k in low..j {
                    for m in 0..N {
                        less[m] = row[i - k][m] * other[j - k][m];
                    }
                    for m in 0..N {
                        sum[m] -= less[m];
                    }
                }
                if i == j {
                    for m in 0..N {
                        sound[m] &= sum[m] > 0.0 && sum[m].is_finite();
                        sum[m] = libm::sqrt(sum[m]);
                        logs[m] += libm::log(sum[m]);
                    }
                } else {
                    for m in 0..N {
                        sum[m] /= other[0][m];
                    }
                }
                row[i - j] = sum;
            }
            let mut sum = [b[i]; N];
            for k in low..i {
                for m in 0..N {
                    sum[m] -= row[i - k][m] * x[k][m];
                }
            }
            for m in 0..N {
                x[i][m] = sum[m] / row[0][m];
            }
        }
        for i in (0..n).rev() {
            let mut sum = x[i];
            for k in i + 1..(i + BAND + 1).min(n) {
                for m in 0..N {
                    sum[m] -= l[k][k - i][m] * x[k][m];
                }
            }
            for m in 0..N {
                x[i][m] = sum[m] / l[i][0][m];
            }
        }
        core::array::from_fn(|m| {
            let form = x.iter().zip(b).map(|(x, b)| x[m] * b).sum::<f64>();
            sound[m].then_some((2.0 * logs[m], form))
        })
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn several_weights_at_once_give_the_bits_of_each_alone() {
        let n = 40;
        let (mut a, mut p) = (Banded::zero(n), Banded::zero(n));
        for i in 0..n {
            for j in i.saturating_sub(BAND)..=i {
                let x = libm::cos((3 * i + 7 * j) as f64);
                a.add(i, j, if i == j { 9.0 + x } else { x });
                p.add(i, j, if i == j { 0.5 * x } else { 0.1 * x });
            }
        }
        let b: Vec<f64> = (0..n).map(|i| libm::sin(i as f64)).collect();
        let weights = [0.0, 1.0, 3.0, 1e4];
        let together = a.log_det_and_form(weights, &p, &b);
        for (w, got) in weights.into_iter().zip(together) {
            let alone = a.plus(w, &p).cholesky().map(|l| {
                let x = l.solve(&b);
                (l.log_det(), x.iter().zip(&b).map(|(x, b)| x * b).sum::<f64>())
            });
            assert_eq!(got, alone, "{w}");
        }
        assert_eq!(together[3], None);
        let l = a.cholesky().unwrap();
        let mut x = vec![0.0; n];
        x[17..22].copy_from_slice(&b[17..22]);
        let whole = l.solve(&x);
        l.solve_from(17, &mut x);
        assert_eq!(whole, x);
    }
}
