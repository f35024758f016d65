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

/// A step that differs by less than this share from the usual one is as long as it: clocks are written in decimals.
const EVEN: f64 = 1e-6;

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
        let mut whitened = Sums::new(basis.len());
        // of samples one usual step apart: their own rows, those of the samples before them, and the differences
        let mut even = Sums::<4>::new(basis.len());
        let regular: [f64; TRIED] = CORRELATIONS.map(|r| 1.0 / (1.0 - r * r));
        let mut count = 0.0;
        let mut steps = Steps::default();
        let mut log_noise = [0.0; TRIED];
        let mut determinant = [1.0; TRIED];
        // before the first sample: so long ago that it is near nothing
        let mut before = Sample { t: f64::NEG_INFINITY, y: 0.0, first: 0, b: [0.0; DEGREE + 1] };
        for (i, (ti, yi)) in t.iter().zip(y).enumerate() {
            let (first, b) = basis.values(*ti);
            let now = Sample { t: *ti, y: *yi, first, b };
            let step = (ti - before.t) / usual;
            let joined = step < NEAR && first - before.first <= 1;
            if joined && libm::fabs(step - 1.0) < EVEN {
                let row = now.with(&before, |own, earlier| [own, earlier, own - earlier, 0.0]);
                even.add(before.first, &row, &[*yi, before.y, yi - before.y, 0.0], &[1.0; 4]);
                count += 1.0;
            } else if joined {
                let (r, weight) = steps.get(step);
                let row = now.with(&before, |own, earlier| r.map(|r| own - r * earlier));
                whitened.add(before.first, &row, &r.map(|r| yi - r * before.y), &weight);
                for m in 0..TRIED {
                    determinant[m] *= weight[m];
                }
            } else {
                let row = now.with(&now, |own, _| [own; TRIED]);
                whitened.add(first, &row, &[*yi; TRIED], &[1.0; TRIED]);
            }
            if i % 16 == 15 || i + 1 == t.len() {
                for m in 0..TRIED {
                    if determinant[m] != 1.0 {
                        log_noise[m] -= libm::log(determinant[m]);
                    }
                }
                determinant = [1.0; TRIED];
            }
            before = now;
        }
        whitened.flush();
        even.flush();
        if count > 0.0 {
            // (b − r p)(b − r p)ᵀ = (1 − r) b bᵀ − (r − r²) p pᵀ + r (b − p)(b − p)ᵀ
            let put = |to: &mut [f64; TRIED], [own, earlier, change, _]: [f64; 4]| {
                for (m, r) in CORRELATIONS.into_iter().enumerate() {
                    to[m] += regular[m] * ((1.0 - r) * (own - r * earlier) + r * change);
                }
            };
            for (to, from) in whitened.gram.iter_mut().flatten().zip(even.gram.iter().flatten()) {
                put(to, *from);
            }
            for (to, from) in whitened.right.iter_mut().zip(&even.right) {
                put(to, *from);
            }
            put(&mut whitened.yy, even.yy);
            for m in 1..TRIED {
                log_noise[m] -= count * libm::log(regular[m]);
            }
        }
        let Sums { gram, right, yy, .. } = whitened;
        Self { gram, right, yy, log_noise, free: (t.len() - ORDER) as f64 }
    }

    /// Gram matrix and right side for kind `m` of noise.
    pub(crate) fn single(&self, m: usize) -> (Band, Vec<f64>) {
        (self.gram.iter().map(|row| row.map(|x| x[m])).collect(), self.right.iter().map(|x| x[m]).collect())
    }
}

/// A sample and the splines that act at it.
struct Sample {
    t: f64,
    y: f64,
    first: usize,
    b: [f64; DEGREE + 1],
}

impl Sample {
    /// A row for each lane, from its own splines and those of a sample that begins in the same cell or the one before.
    fn with<const L: usize>(&self, before: &Self, of: impl Fn(f64, f64) -> [f64; L]) -> [[f64; L]; WIDE] {
        let (mut own, mut earlier) = ([0.0; WIDE], [0.0; WIDE]);
        let at = self.first - before.first;
        own[at..=at + DEGREE].copy_from_slice(&self.b);
        earlier[..=DEGREE].copy_from_slice(&before.b);
        core::array::from_fn(|k| of(own[k], earlier[k]))
    }
}

/// Correlations over the steps that come again and again, with the weights of their rows: a clock in milliseconds has few.
#[derive(Default)]
struct Steps {
    known: Vec<(f64, [f64; TRIED], [f64; TRIED])>,
    next: usize,
}

impl Steps {
    const KEPT: usize = 8;

    fn get(&mut self, step: f64) -> ([f64; TRIED], [f64; TRIED]) {
        if let Some((_, r, weight)) = self.known.iter().find(|k| libm::fabs(k.0 - step) < EVEN) {
            return (*r, *weight);
        }
        let r = decays(step);
        let weight = r.map(|r| 1.0 / (1.0 - r * r));
        if self.known.len() < Self::KEPT {
            self.known.push((step, r, weight));
        } else {
            self.known[self.next] = (step, r, weight);
            self.next = (self.next + 1) % Self::KEPT;
        }
        (r, weight)
    }
}

/// Normal equations of `L` kinds of rows side by side, those of one pair of cells after another.
struct Sums<const L: usize> {
    gram: Vec<[[f64; L]; BAND + 1]>,
    right: Vec<[f64; L]>,
    yy: [f64; L],
    base: usize,
    here: Block<L>,
}

/// What the samples of one pair of cells add.
struct Block<const L: usize> {
    gram: [[[f64; L]; WIDE]; WIDE],
    right: [[f64; L]; WIDE],
}

impl<const L: usize> Block<L> {
    const NOTHING: Self = Self { gram: [[[0.0; L]; WIDE]; WIDE], right: [[0.0; L]; WIDE] };
}

impl<const L: usize> Sums<L> {
    fn new(n: usize) -> Self {
        Self {
            gram: vec![[[0.0; L]; BAND + 1]; n],
            right: vec![[0.0; L]; n],
            yy: [0.0; L],
            base: 0,
            here: Block::NOTHING,
        }
    }

    /// Takes in a row that begins at spline `base`.
    #[inline]
    fn add(&mut self, base: usize, row: &[[f64; L]; WIDE], value: &[f64; L], weight: &[f64; L]) {
        if base != self.base {
            self.flush();
            self.base = base;
        }
        let here = &mut self.here;
        unrolled!(I in [0, 1, 2, 3, 4, 5] {
            let weighed: [f64; L] = core::array::from_fn(|m| weight[m] * row[I][m]);
            for m in 0..L {
                here.right[I][m] += weighed[m] * value[m];
            }
            unrolled!(J in [0, 1, 2, 3, 4, 5] {
                if I + 1 > J {
                    for m in 0..L {
                        here.gram[I][J][m] += weighed[m] * row[J][m];
                    }
                }
            });
        });
        for m in 0..L {
            self.yy[m] += weight[m] * value[m] * value[m];
        }
    }

    fn flush(&mut self) {
        // the last spline of the last pair may lie behind the last coefficient: nothing has been added to it
        for i in 0..WIDE.min(self.gram.len() - self.base) {
            for m in 0..L {
                self.right[self.base + i][m] += self.here.right[i][m];
            }
            for j in 0..=i {
                for m in 0..L {
                    self.gram[self.base + i][i - j][m] += self.here.gram[i][j][m];
                }
            }
        }
        self.here = Block::NOTHING;
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

/// Median of the steps between samples; their mean where all are even.
fn usual_step(t: &[f64]) -> f64 {
    let mean = (t[t.len() - 1] - t[0]) / (t.len() - 1) as f64;
    if t.windows(2).all(|w| libm::fabs(w[1] - w[0] - mean) < EVEN * mean) {
        return mean;
    }
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

    /// Against rows whitened one by one: jittered steps, even ones, and runs of even ones between uneven, with a gap inside
    /// and cells without a sample.
    #[test]
    fn whitened_rows_add_up() {
        for jitter in [[1.0; 4], [0.0; 4], [0.0, 1.0, 0.0, 2.0], [2.0, 0.0, 0.0, 1.0]] {
            // any step; or one of three
            let wobble = |i: u32| match jitter[i as usize / 15] {
                2.0 => 0.001 * f64::from(i % 3),
                by => 0.003 * by * libm::sin(9.0 * f64::from(i)),
            };
            let t: Vec<f64> = (0..60).map(|i| 0.02 * f64::from(i) + wobble(i)).collect();
            add_up(&t);
            add_up(
                &t.iter().enumerate().map(|(i, t)| if i > 31 { t + 0.5 } else { *t }).collect::<Vec<f64>>(),
            );
        }
        // a clock that leaves out every third tick: the usual step is not the mean one
        add_up(&(0..60).map(|i| 0.02 * f64::from(i + i / 2) / 1.5).collect::<Vec<f64>>());
        // gaps on both sides of what counts as neighbours, within a cell; and more samples than a product of weights has room for
        let even: Vec<f64> = (0..60).map(|i| 0.02 * f64::from(i)).collect();
        for gap in [0.59, 0.61] {
            let t = even.iter().enumerate().map(|(i, t)| if i > 34 { t + 0.02 * gap } else { *t });
            add_up(&t.collect::<Vec<f64>>());
        }
        add_up(
            &(0..900)
                .map(|i| 0.02 * f64::from(i) + 0.003 * libm::sin(9.0 * f64::from(i)))
                .collect::<Vec<f64>>(),
        );
    }

    fn add_up(t: &[f64]) {
        let y: Vec<f64> = t.iter().map(|t| 3.0 + t * t).collect();
        let end = t[t.len() - 1];
        let basis = Basis { start: t[0], width: (end - t[0]) / 18.0, intervals: 18 };
        let got = Equations::new(&basis, t, &y);
        let mut steps: Vec<f64> = t.windows(2).map(|w| w[1] - w[0]).collect();
        steps.sort_by(f64::total_cmp);
        let usual = steps[steps.len() / 2];
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
