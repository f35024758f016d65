//! Normal equations of the samples, whitened for each correlation that the noise may have.

use crate::banded::{BAND, Band};
use crate::basis::{Basis, DEGREE};

/// Order of the differences that are penalised: a heavy penalty leaves a parabola.
pub(crate) const ORDER: usize = 3;

/// Lag correlations of the noise that are tried.
pub(crate) const CORRELATIONS: [f64; TRIED] = [0.0, 0.2, 0.4, 0.6, 0.75, 0.87];
pub(crate) const TRIED: usize = 6;
/// Their logarithms; the first is none.
const LOGS: [f64; TRIED] = [
    0.0,
    -1.609_437_912_434_100_4,
    -0.916_290_731_874_155,
    -0.510_825_623_765_990_7,
    -0.287_682_072_451_780_9,
    -0.139_262_067_333_507_68,
];
/// Samples further apart than so many usual steps count as independent.
const NEAR: f64 = 1.6;

/// A row spans at most two neighbouring cells.
const WIDE: usize = DEGREE + 2;

/// Equations for each kind of noise, side by side.
pub(crate) struct Equations {
    /// Lower band: element (i, i − k) at `[i][k]`.
    pub(crate) gram: Vec<[[f64; TRIED]; BAND + 1]>,
    pub(crate) right: Vec<[f64; TRIED]>,
    yy: [f64; TRIED],
    /// Logarithm of the determinant of the noise's correlations.
    pub(crate) log_noise: [f64; TRIED],
    /// Samples less the coefficients that the penalty leaves alone.
    pub(crate) free: f64,
}

impl Equations {
    /// Variance of the noise, from bᵀ(A + wS)⁻¹b.
    pub(crate) fn variance(&self, m: usize, fitted: f64) -> f64 {
        // yᵀy − βᵀ(BᵀB + λS)β is the penalised sum of squares; guard against cancellation on noise-free input
        let penalised = (self.yy[m] - fitted).max(1e-14 * self.yy[m]).max(f64::MIN_POSITIVE);
        penalised / self.free
    }

    pub(crate) fn new(basis: &Basis, t: &[f64], y: &[f64]) -> Self {
        let usual = usual_step(t);
        let mut out = Self {
            gram: vec![[[0.0; TRIED]; BAND + 1]; basis.len()],
            right: vec![[0.0; TRIED]; basis.len()],
            yy: [0.0; TRIED],
            log_noise: [0.0; TRIED],
            free: (t.len() - ORDER) as f64,
        };
        let mut block = Block::default();
        let mut determinant = [1.0; TRIED];
        // before the first sample: so long ago that it is near nothing
        let mut before = (f64::NEG_INFINITY, 0.0, 0, [0.0; DEGREE + 1]);
        for (i, (ti, yi)) in t.iter().zip(y).enumerate() {
            let (first, b) = basis.values(*ti);
            let (tp, yp, mut base, bp) = before;
            let mut r = [0.0; TRIED];
            let step = (ti - tp) / usual;
            if step < NEAR && first - base <= 1 {
                r = decays(step);
            } else {
                base = first;
            }
            if base != block.base {
                block.flush(&mut out);
                block.base = base;
            }
            let mut shifted = [0.0; WIDE];
            shifted[first - base..=first - base + DEGREE].copy_from_slice(&b);
            let weight: [f64; TRIED] = core::array::from_fn(|m| 1.0 / (1.0 - r[m] * r[m]));
            let value: [f64; TRIED] = core::array::from_fn(|m| yi - r[m] * yp);
            let mut row = [[0.0; TRIED]; WIDE];
            for k in 0..WIDE {
                let earlier = if k <= DEGREE { bp[k] } else { 0.0 };
                row[k] = core::array::from_fn(|m| shifted[k] - r[m] * earlier);
            }
            block.add(&row, &value, &weight);
            for m in 0..TRIED {
                out.yy[m] += weight[m] * value[m] * value[m];
                determinant[m] *= weight[m];
            }
            if i % 16 == 15 || i + 1 == t.len() {
                for m in 0..TRIED {
                    out.log_noise[m] -= libm::log(determinant[m]);
                }
                determinant = [1.0; TRIED];
            }
            before = (*ti, *yi, first, b);
        }
        block.flush(&mut out);
        out
    }

    /// Gram matrix and right side for kind `m` of noise.
    pub(crate) fn single(&self, m: usize) -> (Band, Vec<f64>) {
        (self.gram.iter().map(|row| row.map(|x| x[m])).collect(), self.right.iter().map(|x| x[m]).collect())
    }
}

/// What the samples of one pair of cells add.
#[derive(Default)]
struct Block {
    base: usize,
    gram: [[[f64; TRIED]; WIDE]; WIDE],
    right: [[f64; TRIED]; WIDE],
}

impl Block {
    fn add(&mut self, row: &[[f64; TRIED]; WIDE], value: &[f64; TRIED], weight: &[f64; TRIED]) {
        for i in 0..WIDE {
            let weighed: [f64; TRIED] = core::array::from_fn(|m| weight[m] * row[i][m]);
            for m in 0..TRIED {
                self.right[i][m] += weighed[m] * value[m];
            }
            for j in 0..=i {
                for m in 0..TRIED {
                    self.gram[i][j][m] += weighed[m] * row[j][m];
                }
            }
        }
    }

    fn flush(&mut self, out: &mut Equations) {
        // the last spline of the last pair may lie behind the last coefficient: nothing has been added to it
        for i in 0..WIDE.min(out.gram.len() - self.base) {
            for m in 0..TRIED {
                out.right[self.base + i][m] += self.right[i][m];
            }
            for j in 0..=i {
                for m in 0..TRIED {
                    out.gram[self.base + i][i - j][m] += self.gram[i][j][m];
                }
            }
        }
        *self = Self::default();
    }
}

/// Correlation over `step` usual steps, 0 < `step` < [`NEAR`]: exp(log · step) by the series of a sixteenth of it (the
/// ninth term is below 1e-13) and four squarings.
fn decays(step: f64) -> [f64; TRIED] {
    let mut out = [1.0; TRIED];
    for d in (1..=8).rev() {
        for m in 0..TRIED {
            out[m] = 1.0 + LOGS[m] * step / 16.0 / f64::from(d) * out[m];
        }
    }
    for _ in 0..4 {
        for x in &mut out {
            *x *= *x;
        }
    }
    out[0] = 0.0;
    out
}

/// Median of the steps between samples.
fn usual_step(t: &[f64]) -> f64 {
    let mut steps: Vec<f64> = t.windows(2).map(|w| w[1] - w[0]).collect();
    let middle = steps.len() / 2;
    *steps.select_nth_unstable_by(middle, f64::total_cmp).1
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn decay_of_the_correlation() {
        for m in 1..TRIED {
            assert_relative_eq!(LOGS[m], libm::log(CORRELATIONS[m]), max_relative = 1e-15);
            for step in [1e-9, 0.3, 0.95, 1.0, 1.05, 1.59] {
                let r = libm::pow(CORRELATIONS[m], step);
                assert_relative_eq!(decays(step)[m], r, max_relative = 1e-11);
            }
        }
        assert_eq!(decays(1.0)[0], 0.0);
    }

    /// Against rows whitened one by one: jittered steps, a gap inside, and cells without a sample.
    #[test]
    fn whitened_rows_add_up() {
        let mut t: Vec<f64> =
            (0..60).map(|i| 0.02 * f64::from(i) + 0.003 * libm::sin(9.0 * f64::from(i))).collect();
        t.iter_mut().skip(31).for_each(|t| *t += 0.5);
        let y: Vec<f64> = t.iter().map(|t| 3.0 + t * t).collect();
        let end = t[t.len() - 1];
        let basis = Basis { start: t[0], width: (end - t[0]) / 18.0, intervals: 18 };
        let got = Equations::new(&basis, &t, &y);
        let usual = usual_step(&t);
        for m in 0..TRIED {
            let n = basis.len();
            let (mut gram, mut right) = (vec![vec![0.0; n]; n], vec![0.0; n]);
            let (mut yy, mut log_noise) = (0.0, 0.0);
            for i in 0..t.len() {
                let row = |i: usize| {
                    let (first, b) = basis.values(t[i]);
                    let mut row = vec![0.0; n];
                    row[first..first + b.len()].copy_from_slice(&b);
                    (first, row)
                };
                let ((first, mut x), mut v, mut scale) = (row(i), y[i], 1.0);
                if i > 0 && m > 0 && t[i] - t[i - 1] < 1.6 * usual && first - row(i - 1).0 <= 1 {
                    let r = libm::pow(CORRELATIONS[m], (t[i] - t[i - 1]) / usual);
                    scale = 1.0 / libm::sqrt(1.0 - r * r);
                    x.iter_mut().zip(row(i - 1).1).for_each(|(x, p)| *x -= r * p);
                    v -= r * y[i - 1];
                }
                x.iter_mut().for_each(|x| *x *= scale);
                v *= scale;
                log_noise -= 2.0 * libm::log(scale);
                yy += v * v;
                for a in 0..n {
                    right[a] += x[a] * v;
                    for b in 0..n {
                        gram[a][b] += x[a] * x[b];
                    }
                }
            }
            assert_relative_eq!(got.yy[m], yy, max_relative = 1e-10);
            assert_relative_eq!(got.log_noise[m], log_noise, epsilon = 1e-9);
            for a in 0..n {
                assert_relative_eq!(got.right[a][m], right[a], max_relative = 1e-9, epsilon = 1e-9);
                for b in 0..=a {
                    let here = if a - b <= BAND { got.gram[a][a - b][m] } else { 0.0 };
                    assert_relative_eq!(here, gram[a][b], max_relative = 1e-9, epsilon = 1e-9);
                }
            }
        }
    }
}
