//! The fit.

use crate::banded::{self, BAND, Band};
use crate::basis::{Basis, DEGREE};
use crate::equations::{CORRELATIONS, Equations, ORDER, TRIED};
use crate::likelihood;

/// Largest number of knot intervals.
const MOST: usize = 60;

/// Logarithm by which the penalty may be less at the very start, where a charger comes up or a throttle has just opened:
/// nothing, or up to three times this.
const EASE: f64 = 3.0;
const EASES: [usize; 3] = [1, 2, 3];
/// The ease fades as exp(−x·START), x the share of the curve.
const START: f64 = 12.0;
/// By how much minus twice the logarithm of the likelihood must fall for one more parameter.
const PARAMETER: f64 = 2.0;

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
    /// Covariance of the coefficients over the noise variance: of the posterior, and of the noise alone.
    posterior: Band,
    noisy: Band,
    noise_variance: f64,
    penalty: f64,
    ease: f64,
    correlation: f64,
    effective: f64,
    samples: usize,
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
        let soft = Soft::new(basis.len() - ORDER);

        // no penalty touches a parabola: without it there is less to cancel
        let through = [0, n / 2, n - 1];
        let parabola = basis.parabola(through.map(|i| t[i]), through.map(|i| y[i]));
        let rest: Vec<f64> = t.iter().zip(y).map(|(t, y)| y - parabola.value(*t)).collect();
        // profile over the lag correlation of the noise, then over the penalty
        let all = Equations::new(&basis, &t[..n], &rest);
        let even = likelihood::even(&all, &soft);
        if !even.iter().all(|(_, criterion)| criterion.is_finite()) {
            return Err(SmoothingError::Singular);
        }
        let mut kind = 0;
        for m in 1..TRIED {
            if even[m].1 < even[kind].1 - PARAMETER {
                kind = m;
            }
        }
        // a curve may bend more at its start; how much is one more parameter of the likelihood
        let eased = likelihood::eased(&all, &soft, kind, EASES, even[kind].0);
        let ((mut log_weight, mut lowest), mut ease) = (even[kind], 0);
        for (times, (at, criterion)) in EASES.into_iter().zip(eased) {
            // the determinant of the penalty itself
            let criterion = criterion + EASE * times as f64 * soft.sum;
            if criterion < lowest - PARAMETER {
                (log_weight, lowest, ease) = (at, criterion, times);
            }
        }
        let shape = soft.differences(ease);
        let penalty = libm::exp(likelihood::settled(&all, &shape, kind, log_weight));
        let (gram, right) = all.single(kind);
        let solved = banded::solve(&gram, penalty, &shape, &right).ok_or(SmoothingError::Singular)?;
        let fitted = solved.solution.iter().zip(&right).map(|(c, r)| c * r).sum();
        let coefficients =
            solved.solution.iter().enumerate().map(|(j, c)| c + parabola.coefficient(j)).collect();
        Ok(Self {
            basis,
            effective: banded::product(&solved.inverse, &gram),
            coefficients,
            posterior: solved.inverse,
            noisy: solved.between,
            noise_variance: all.variance(kind, fitted),
            penalty,
            ease: EASE * ease as f64,
            correlation: CORRELATIONS[kind],
            samples: n,
        })
    }

    /// Value at `t`.
    #[must_use]
    pub fn value(&self, t: f64) -> f64 {
        self.combined(self.basis.values(t))
    }

    /// Slope at `t`.
    #[must_use]
    pub fn slope(&self, t: f64) -> f64 {
        self.combined(self.basis.slopes(t))
    }

    fn combined(&self, (first, b): (usize, [f64; DEGREE + 1])) -> f64 {
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
        (self.deviation(&self.noisy, first, &b), self.deviation(&self.posterior, first, &b))
    }

    /// Posterior standard deviation of the value at `t`.
    #[must_use]
    pub fn value_deviation(&self, t: f64) -> f64 {
        let (first, b) = self.basis.values(t);
        self.deviation(&self.posterior, first, &b)
    }

    fn deviation(&self, covariance: &Band, first: usize, b: &[f64; DEGREE + 1]) -> f64 {
        libm::sqrt(self.noise_variance * banded::form(covariance, first, b).max(0.0))
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

/// How much less the penalty may be along the curve.
pub(crate) struct Soft {
    /// exp(−EASE·fade) for each difference, the fade from 1 at the start to 0.
    least: Vec<f64>,
    /// Of the fades.
    sum: f64,
}

impl Soft {
    pub(crate) fn new(differences: usize) -> Self {
        let by = libm::exp(-START / differences as f64);
        let (mut fade, mut sum) = (1.0, 0.0);
        let mut least = Vec::with_capacity(differences);
        for _ in 0..differences {
            least.push(libm::exp(-EASE * fade));
            sum += fade;
            fade *= by;
        }
        Self { least, sum }
    }

    /// Lower band of DᵀWD of third differences: W is less by so many times EASE at the start of the curve.
    pub(crate) fn differences(&self, times: usize) -> Band {
        const D: [f64; ORDER + 1] = [-1.0, 3.0, -3.0, 1.0];
        let mut s = vec![[0.0; BAND + 1]; self.least.len() + ORDER];
        for (r, least) in self.least.iter().enumerate() {
            let w: f64 = (0..times).map(|_| *least).product();
            for (i, a) in D.iter().enumerate() {
                for (j, b) in D.iter().enumerate().take(i + 1) {
                    s[r + i][i - j] += w * a * b;
                }
            }
        }
        s
    }
}
