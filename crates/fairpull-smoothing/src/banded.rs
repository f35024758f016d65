//! Symmetric banded matrices, and what the variance needs of their inverse: its band.

/// Half bandwidth: quartic splines (4) and one more for neighbouring rows combined by the noise model.
pub(crate) const BAND: usize = 5;

/// Lower band of a symmetric matrix: element (i, i − k) at `[i][k]`.
pub(crate) type Band = Vec<[f64; BAND + 1]>;

/// Band of (A + w S)⁻¹, the same between two gram matrices, and a solution.
#[derive(Clone, Debug)]
pub(crate) struct Solved {
    /// (A + w S)⁻¹ b.
    pub(crate) solution: Vec<f64>,
    /// Band of (A + w S)⁻¹.
    pub(crate) inverse: Band,
    /// Band of (A + w S)⁻¹ A (A + w S)⁻¹.
    pub(crate) between: Band,
}

/// A number and its rate of change.
#[derive(Clone, Copy, Default)]
struct Dual(f64, f64);

impl Dual {
    fn less(self, a: Self, b: Self) -> Self {
        Self(self.0 - a.0 * b.0, self.1 - (a.1 * b.0 + a.0 * b.1))
    }

    fn over(self, b: Self) -> Self {
        let q = self.0 / b.0;
        Self(q, (self.1 - q * b.1) / b.0)
    }
}

/// Solves (A + w S) x = b and takes the band of the inverse from the factors L D Lᵀ alone (Takahashi, Fagan and Chin,
/// 1973; from memory). With A growing at the rate A, the inverse shrinks at the rate (A + wS)⁻¹ A (A + wS)⁻¹, so the same
/// pass on duals gives that as well. `None` where the matrix is not positive definite.
pub(crate) fn solve(a: &Band, weight: f64, s: &Band, b: &[f64]) -> Option<Solved> {
    let n = a.len();
    // row i of L, its diagonal replaced by that of D
    let mut l = vec![[Dual::default(); BAND + 1]; n];
    let mut x = b.to_vec();
    for i in 0..n {
        let reach = BAND.min(i);
        let mut row = [Dual::default(); BAND + 1];
        for k in (0..=reach).rev() {
            row[k] = Dual(a[i][k] + weight * s[i][k], a[i][k]);
        }
        // row[k] is L times D until its column is done
        let (mut raw, mut diagonal) = (row, row[0]);
        for k in (1..=reach).rev() {
            for q in k + 1..=reach {
                raw[k] = raw[k].less(raw[q], l[i - k][q - k]);
            }
            row[k] = raw[k].over(l[i - k][0]);
            diagonal = diagonal.less(raw[k], row[k]);
            x[i] -= row[k].0 * x[i - k];
        }
        if !(diagonal.0 > 0.0 && diagonal.0.is_finite()) {
            return None;
        }
        row[0] = diagonal;
        l[i] = row;
    }
    let mut z = vec![[Dual::default(); BAND + 1]; n];
    for i in (0..n).rev() {
        let reach = BAND.min(n - 1 - i);
        x[i] /= l[i][0].0;
        for k in 1..=reach {
            x[i] -= l[i + k][k].0 * x[i + k];
        }
        // element (j, i) of the inverse for j from the farthest to i itself
        for j in (0..=reach).rev() {
            let mut sum = if j == 0 { Dual(1.0, 0.0).over(l[i][0]) } else { Dual::default() };
            for k in 1..=reach {
                let (low, high) = (j.min(k), j.max(k));
                sum = sum.less(l[i + k][k], z[i + high][high - low]);
            }
            z[i + j][j] = sum;
        }
    }
    let part = |of: fn(&Dual) -> f64| z.iter().map(|row| core::array::from_fn(|k| of(&row[k]))).collect();
    Some(Solved { solution: x, inverse: part(|d| d.0), between: part(|d| -d.1) })
}

/// Σ a_ij b_ij over the whole symmetric matrices.
pub(crate) fn product(a: &Band, b: &Band) -> f64 {
    let row = |(x, y): (&[f64; BAND + 1], &[f64; BAND + 1])| {
        x[0] * y[0] + 2.0 * (1..=BAND).map(|k| x[k] * y[k]).sum::<f64>()
    };
    a.iter().zip(b).map(row).sum()
}

/// vᵀ A v for a vector that is `v` from element `first` on and nothing elsewhere.
pub(crate) fn form<const M: usize>(a: &Band, first: usize, v: &[f64; M]) -> f64 {
    let mut sum = 0.0;
    for i in 0..M {
        let row = &a[first + i];
        let mut off = 0.0;
        for k in 1..=i {
            off += row[k] * v[i - k];
        }
        sum += v[i] * (row[0] * v[i] + 2.0 * off);
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn full(a: &Band, i: usize, j: usize) -> f64 {
        let (low, high) = (i.min(j), i.max(j));
        if high - low > BAND { 0.0 } else { a[high][high - low] }
    }

    /// Against columns of the inverse found by Gauss and Jordan's elimination of the dense matrix.
    #[test]
    fn the_band_of_the_inverse() {
        let n = 23;
        let mut a: Band = vec![[0.0; BAND + 1]; n];
        let mut s = a.clone();
        for i in 0..n {
            for k in 0..=BAND.min(i) {
                let x = libm::cos((10 * i - 7 * k) as f64);
                a[i][k] = if k == 0 { 9.0 + x } else { x };
                s[i][k] = if k == 0 { 5.0 + x } else { 0.4 * x };
            }
        }
        let (w, b) = (2.5, (0..n).map(|i| libm::sin(i as f64)).collect::<Vec<f64>>());
        let mut m: Vec<Vec<f64>> = (0..n)
            .map(|i| {
                let left = (0..n).map(|j| full(&a, i, j) + w * full(&s, i, j));
                left.chain((0..n).map(|j| f64::from(i == j))).collect()
            })
            .collect();
        for i in 0..n {
            let pivot = m[i][i];
            m[i].iter_mut().for_each(|x| *x /= pivot);
            for r in (0..n).filter(|r| *r != i) {
                let by = m[r][i];
                let top = m[i].clone();
                m[r].iter_mut().zip(&top).for_each(|(x, t)| *x -= by * t);
            }
        }
        let inverse = |i: usize, j: usize| m[i][n + j];
        let got = solve(&a, w, &s, &b).unwrap();
        let mut trace = 0.0;
        for i in 0..n {
            let x: f64 = (0..n).map(|j| inverse(i, j) * b[j]).sum();
            assert_relative_eq!(got.solution[i], x, epsilon = 1e-13);
            for k in 0..=BAND.min(i) {
                assert_relative_eq!(got.inverse[i][k], inverse(i, i - k), epsilon = 1e-14);
                let mut between = 0.0;
                for p in 0..n {
                    for q in 0..n {
                        between += inverse(i, p) * full(&a, p, q) * inverse(q, i - k);
                    }
                }
                assert_relative_eq!(got.between[i][k], between, epsilon = 1e-14);
            }
            trace += (0..n).map(|j| inverse(i, j) * full(&a, j, i)).sum::<f64>();
        }
        assert_relative_eq!(product(&got.inverse, &a), trace, max_relative = 1e-12);
        let v = [0.3, -1.0, 2.0];
        let by_hand: f64 =
            (0..3).map(|i| (0..3).map(|j| v[i] * inverse(4 + i, 4 + j) * v[j]).sum::<f64>()).sum();
        assert_relative_eq!(form(&got.inverse, 4, &v), by_hand, max_relative = 1e-12);
        assert!(solve(&a, -9.0, &s, &b).is_none());
    }
}
