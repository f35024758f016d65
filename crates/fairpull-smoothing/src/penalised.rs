//! The fit.

use crate::banded::{BAND, Banded};
use crate::basis::{Basis, DEGREE};

/// Order of the differences that are penalised: a heavy penalty leaves a parabola.
const ORDER: usize = 3;
/// Largest number of knot intervals.
const MOST: usize = 60;

/// Logarithms by which the penalty may be less at the very start, where a charger comes up or a throttle has just opened.
const EASES: [f64; 3] = [3.0, 6.0, 9.0];
/// The ease fades as exp(−x·START), x the share of the curve.
const START: f64 = 12.0;

/// Why there is no fit.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum SmoothingError {
    /// Too few samples.
    #[error("{got} samples are too few for a smooth curve, at least {need} are needed")]
    TooFew {
        /// Samples given.
        got: usize,
        /// Samples needed.
        need: usize,
    },
    /// The abscissa does not rise from sample to sample, or a value is not finite.
    #[error("sample {index}: the abscissa must rise and every value be finite")]
    Disorder {
        /// Index of the first offending sample.
        index: usize,
    },
    /// The samples do not determine a curve.
    #[error("the samples do not determine a curve")]
    Singular,
}

/// A smooth curve through samples (t, y), with its variance.
#[derive(Clone, Debug)]
pub struct Penalised {
    basis: Basis,
    coefficients: Vec<f64>,
    factor: Banded,
    information: Banded,
    noise_variance: f64,
    penalty: f64,
    ease: f64,
    correlation: f64,
    effective: f64,
    samples: usize,
}

struct Trial {
    criterion: f64,
    factor: Banded,
    coefficients: Vec<f64>,
    variance: f64,
}

struct Problem {
    basis: Basis,
    gram: Banded,
    right: Vec<f64>,
    yy: f64,
    log_jacobian: f64,
    n: f64,
}

impl Penalised {
    /// Fits samples `t` (strictly rising) and `y`; knots no closer than `finest` (same unit as `t`).
    ///
    /// # Errors
    /// [`SmoothingError`] for fewer than 12 samples, disorder, or samples that determine no curve.
    pub fn fit(t: &[f64], y: &[f64], finest: f64) -> Result<Self, SmoothingError> {
        let n = t.len().min(y.len());
        if n < 12 {
            return Err(SmoothingError::TooFew { got: n, need: 12 });
        }
        for i in 0..n {
            if !(t[i].is_finite() && y[i].is_finite() && (i == 0 || t[i] > t[i - 1])) {
                return Err(SmoothingError::Disorder { index: i });
            }
        }
        let span = t[n - 1] - t[0];
        let fine = libm::ceil(span / finest).clamp(4.0, MOST as f64) as usize;
        let intervals = fine.min((n / 3).max(4));
        let basis = Basis { start: t[0], width: span / intervals as f64, intervals };
        let even = differences(basis.len(), 0.0);
        let mut steps: Vec<f64> = t.windows(2).map(|w| w[1] - w[0]).collect();
        steps.sort_unstable_by(f64::total_cmp);
        let usual = steps[steps.len() / 2];

        // profile over the lag correlation of the noise, then over the penalty
        let mut best: Option<(f64, f64, Problem)> = None;
        for rho in [0.0, 0.2, 0.4, 0.6, 0.75, 0.87] {
            let problem = Problem::new(basis, &t[..n], &y[..n], rho, usual);
            let (_, trial) = problem.search(&even).ok_or(SmoothingError::Singular)?;
            if best.as_ref().is_none_or(|(c, _, _)| trial.criterion < *c - 2.0) {
                best = Some((trial.criterion, rho, problem));
            }
        }
        let (even_criterion, correlation, problem) = best.ok_or(SmoothingError::Singular)?;
        let mut chosen = 0.0;
        let (mut log_penalty, mut trial) = problem.search(&even).ok_or(SmoothingError::Singular)?;
        // a curve may bend more at its start; how much is one more parameter of the likelihood
        let mut lowest = even_criterion;
        for ease in EASES {
            let Some((w, t)) = problem.search(&differences(basis.len(), ease)) else { continue };
            let criterion =
                t.criterion + (0..basis.len() - ORDER).map(|r| eased(r, basis.len(), ease)).sum::<f64>();
            if criterion < lowest - 2.0 {
                lowest = criterion;
                log_penalty = w;
                trial = t;
                chosen = ease;
            }
        }
        let weight = libm::exp(log_penalty);
        let mut effective = 0.0;
        for j in 0..basis.len() {
            let mut column = vec![0.0; basis.len()];
            for (i, row) in problem.gram.rows.iter().enumerate() {
                for (k, a) in row.iter().enumerate().take(i + 1) {
                    if i == j {
                        column[i - k] = *a;
                    } else if i - k == j {
                        column[i] = *a;
                    }
                }
            }
            effective += trial.factor.solve(&column)[j];
        }
        Ok(Self {
            basis,
            coefficients: trial.coefficients,
            factor: trial.factor,
            information: problem.gram,
            noise_variance: trial.variance,
            penalty: weight,
            ease: chosen,
            correlation,
            effective,
            samples: n,
        })
    }

    /// Value at `t`.
    #[must_use]
    pub fn value(&self, t: f64) -> f64 {
        let (first, b) = self.basis.values(t);
        b.iter().zip(&self.coefficients[first..]).map(|(a, c)| a * c).sum()
    }

    /// Slope at `t`.
    #[must_use]
    pub fn slope(&self, t: f64) -> f64 {
        let (first, b) = self.basis.slopes(t);
        b.iter().zip(&self.coefficients[first..]).map(|(a, c)| a * c).sum()
    }

    /// Posterior standard deviation of the slope at `t`: noise and smoothing bias.
    #[must_use]
    pub fn slope_deviation(&self, t: f64) -> f64 {
        self.slope_deviations(t).1
    }

    /// Part of [`Penalised::slope_deviation`] that repeats average out: the noise alone.
    #[must_use]
    pub fn slope_noise(&self, t: f64) -> f64 {
        self.slope_deviations(t).0
    }

    /// [`Penalised::slope_noise`] and [`Penalised::slope_deviation`] at once.
    #[must_use]
    pub fn slope_deviations(&self, t: f64) -> (f64, f64) {
        let (first, b) = self.basis.slopes(t);
        let w = self.spread(first, &b);
        let q: f64 = b.iter().zip(&w[first..]).map(|(x, y)| x * y).sum();
        let noise = self.information.quadratic(&w).max(0.0);
        (libm::sqrt(self.noise_variance * noise), libm::sqrt(self.noise_variance * q.max(0.0)))
    }

    /// Posterior standard deviation of the value at `t`.
    #[must_use]
    pub fn value_deviation(&self, t: f64) -> f64 {
        let (first, b) = self.basis.values(t);
        let w = self.spread(first, &b);
        let q: f64 = b.iter().zip(&w[first..]).map(|(x, y)| x * y).sum();
        libm::sqrt(self.noise_variance * q.max(0.0))
    }

    fn spread(&self, first: usize, b: &[f64; DEGREE + 1]) -> Vec<f64> {
        let mut e = vec![0.0; self.basis.len()];
        for (slot, x) in e[first..].iter_mut().zip(b) {
            *slot = *x;
        }
        self.factor.solve_from(first, &mut e);
        e
    }

    /// Standard deviation of the noise of one sample.
    #[must_use]
    pub fn noise(&self) -> f64 {
        libm::sqrt(self.noise_variance)
    }

    /// Correlation of the noise of neighbouring samples that was found.
    #[must_use]
    pub const fn correlation(&self) -> f64 {
        self.correlation
    }

    /// Effective number of parameters.
    #[must_use]
    pub const fn effective_parameters(&self) -> f64 {
        self.effective
    }

    /// Weight of the penalty that was chosen.
    #[must_use]
    pub const fn penalty(&self) -> f64 {
        self.penalty
    }

    /// Logarithm by which the penalty is less at the start; 0 where an even penalty does as well.
    #[must_use]
    pub const fn ease(&self) -> f64 {
        self.ease
    }

    /// Number of samples.
    #[must_use]
    pub const fn samples(&self) -> usize {
        self.samples
    }
}

/// By how much, as a logarithm, the weight of difference `r` of `n` coefficients is less than at the end of the curve.
fn eased(r: usize, n: usize, ease: f64) -> f64 {
    ease * libm::exp(-START * r as f64 / (n - ORDER) as f64)
}

/// DᵀWD of third differences, W eased at the start of the curve.
fn differences(n: usize, ease: f64) -> Banded {
    const D: [f64; ORDER + 1] = [-1.0, 3.0, -3.0, 1.0];
    let mut s = Banded::zero(n);
    for r in 0..n - ORDER {
        let w = libm::exp(-eased(r, n, ease));
        for (i, a) in D.iter().enumerate() {
            for (j, b) in D.iter().enumerate().take(i + 1) {
                s.add(r + i, r + j, w * a * b);
            }
        }
    }
    s
}

impl Problem {
    /// Normal equations of the samples, whitened for noise whose correlation over `usual` is `rho`.
    fn new(basis: Basis, t: &[f64], y: &[f64], rho: f64, usual: f64) -> Self {
        let mut gram = Banded::zero(basis.len());
        let mut right = vec![0.0; basis.len()];
        let (mut yy, mut log_jacobian) = (0.0, 0.0);
        let mut before: Option<(f64, f64, usize, [f64; DEGREE + 1])> = None;
        for (ti, yi) in t.iter().zip(y) {
            let (first, b) = basis.values(*ti);
            // a row spans at most two neighbouring cells
            let mut row = [0.0; DEGREE + 2];
            let mut base = first;
            let mut value = *yi;
            let mut scale = 1.0;
            let near = before.filter(|(tp, _, fp, _)| rho > 0.0 && ti - tp < 1.6 * usual && first - fp <= 1);
            if let Some((tp, yp, fp, bp)) = near {
                let r = libm::pow(rho, (ti - tp) / usual);
                scale = 1.0 / libm::sqrt(1.0 - r * r);
                base = fp;
                for (k, x) in bp.iter().enumerate() {
                    row[k] -= r * x;
                }
                value -= r * yp;
            }
            for (k, x) in b.iter().enumerate() {
                row[k + first - base] += x;
            }
            value *= scale;
            for x in &mut row {
                *x *= scale;
            }
            log_jacobian += libm::log(scale);
            yy += value * value;
            for i in 0..row.len() {
                if row[i] == 0.0 {
                    continue;
                }
                right[base + i] += row[i] * value;
                for j in i.saturating_sub(BAND)..=i {
                    if row[j] != 0.0 {
                        gram.add(base + i, base + j, row[i] * row[j]);
                    }
                }
            }
            before = Some((*ti, *yi, first, b));
        }
        Self { basis, gram, right, yy, log_jacobian, n: t.len() as f64 }
    }

    /// Fit at one penalty.
    fn trial(&self, penalty: &Banded, log_weight: f64) -> Option<Trial> {
        let weight = libm::exp(log_weight);
        let factor = self.gram.plus(weight, penalty).cholesky()?;
        let coefficients = factor.solve(&self.right);
        let fitted: f64 = coefficients.iter().zip(&self.right).map(|(c, r)| c * r).sum();
        let (criterion, variance) = self.criterion(log_weight, factor.log_det(), fitted);
        Some(Trial { criterion, factor, coefficients, variance })
    }

    /// −2 log restricted likelihood, up to a constant, and the variance of the noise.
    fn criterion(&self, log_weight: f64, log_det: f64, fitted: f64) -> (f64, f64) {
        let free = self.n - ORDER as f64;
        // yᵀy − βᵀ(BᵀB + λS)β is the penalised sum of squares; guard against cancellation on noise-free input
        let penalised = (self.yy - fitted).max(1e-14 * self.yy).max(f64::MIN_POSITIVE);
        let variance = penalised / free;
        let criterion = free * libm::log(variance) + log_det
            - (self.basis.len() - ORDER) as f64 * log_weight
            - 2.0 * self.log_jacobian;
        (criterion, variance)
    }

    /// The criterion alone at several penalties; infinite where there is no fit.
    fn criteria<const N: usize>(&self, penalty: &Banded, at: [f64; N]) -> [f64; N] {
        let found = self.gram.log_det_and_form(at.map(libm::exp), penalty, &self.right);
        core::array::from_fn(|m| {
            found[m].map_or(f64::INFINITY, |(log_det, fitted)| self.criterion(at[m], log_det, fitted).0)
        })
    }

    /// Coarse scan, then golden section. The heaviest weight stays where double precision still resolves the parabola.
    fn search(&self, penalty: &Banded) -> Option<(f64, Trial)> {
        let (low, high, step) = (-12.0, 18.0, 2.0);
        let mut best = (f64::INFINITY, low);
        let mut at = low;
        while at <= high {
            let four = [at, at + step, at + 2.0 * step, at + 3.0 * step];
            for (c, at) in self.criteria(penalty, four).into_iter().zip(four) {
                if c < best.0 && at <= high {
                    best = (c, at);
                }
            }
            at += 4.0 * step;
        }
        let ratio = 0.618_033_988_749_894_9;
        let (mut a, mut b) = (best.1 - step, best.1 + step);
        for _ in 0..18 {
            let (x1, x2) = (b - ratio * (b - a), a + ratio * (b - a));
            let [c1, c2] = self.criteria(penalty, [x1, x2]);
            if c1 < c2 {
                b = x2;
            } else {
                a = x1;
            }
        }
        let middle = 0.5 * (a + b);
        self.trial(penalty, middle).map(|t| (middle, t))
    }
}
