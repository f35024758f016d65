//! Smooth kinetic energy from a log of speed, with an interval that knows of correlated noise.
//!
//! The stiffness of the spline and the correlation of the noise are not chosen but averaged over, each pair weighted
//! by its likelihood: the interval therefore contains the doubt about them. Energy rather than speed is smoothed,
//! because a noise of constant variance adds a constant to energy and nothing to its derivative, power.

use crate::error::{RoadError, rising, within};
use crate::filter::{Sample, State, backward, forward};

/// Smoothed energy per unit mass at every sample.
#[derive(Clone, Debug)]
pub(crate) struct Smooth {
    pub(crate) t: Vec<f64>,
    /// e = v²/2, its derivatives by time, SI.
    pub(crate) mean: Vec<[f64; 3]>,
    /// Covariance of the three.
    pub(crate) cov: Vec<[[f64; 3]; 3]>,
    /// Noise of the speed reading, m/s.
    pub(crate) noise: f64,
    /// Correlation of the noise of neighbouring samples.
    pub(crate) correlation: f64,
}

/// Fewest samples that carry a spline of third order and its noise.
pub(crate) const FEWEST: usize = 12;
const CORRELATIONS: [f64; 6] = [0.0, 0.2, 0.4, 0.6, 0.8, 0.9];
const BANDS: usize = 14;

/// Smooths speed (m/s) over time (s); `fresh` marks samples at which power jumps (start and end of a shift).
pub(crate) fn smooth(t: &[f64], v: &[f64], fresh: &[bool]) -> Result<Smooth, RoadError> {
    check(t, v)?;
    let n = t.len();
    let first = t.first().copied().unwrap_or(0.0);
    let mut steps: Vec<f64> = t.windows(2).filter_map(|w| Some(w.get(1)? - w.first()?)).collect();
    fairpull_uncertainty::ascending(&mut steps);
    let h = steps.get(steps.len() / 2).copied().unwrap_or(1.0);
    let mean_v = v.iter().map(|x| libm::fabs(*x)).sum::<f64>() / n as f64;
    let mean_v = mean_v.max(1.0);
    // A parabola lies in the null space of the penalty: taking it out first leaves the result alone and helps rounding.
    let tau: Vec<f64> = t.iter().map(|x| (x - first) / h).collect();
    let energy: Vec<f64> = v.iter().map(|x| 0.5 * x * x).collect();
    let base = parabola(&tau, &energy);
    let samples: Vec<Sample> = (0..n)
        .filter_map(|i| {
            let (x, e, s) = (*tau.get(i)?, *energy.get(i)?, libm::fabs(*v.get(i)?));
            let step = if i == 0 { 0.0 } else { x - tau.get(i - 1)? };
            let reading = (e - base[0] - base[1] * x - base[2] * x * x) / mean_v;
            let weight = s.max(0.5) / mean_v;
            Some(Sample { step, weight, reading, fresh: fresh.get(i).copied().unwrap_or(false) })
        })
        .collect();
    let average = average(&samples);
    let mut out = Smooth {
        t: t.to_vec(),
        mean: Vec::with_capacity(n),
        cov: Vec::with_capacity(n),
        noise: libm::sqrt(average.noise_variance),
        correlation: average.correlation,
    };
    let unit = [mean_v, mean_v / h, mean_v / (h * h)];
    for (i, state) in average.states.iter().enumerate() {
        let x = tau.get(i).copied().unwrap_or(0.0);
        let poly = [
            base[0] + base[1] * x + base[2] * x * x,
            (base[1] + 2.0 * base[2] * x) / h,
            2.0 * base[2] / (h * h),
        ];
        let mut mean = [0.0; 3];
        let mut cov = [[0.0; 3]; 3];
        for a in 0..3 {
            mean[a] = poly[a] + unit[a] * state.mean[a];
            for b in 0..3 {
                cov[a][b] = unit[a] * unit[b] * state.cov[a][b];
            }
        }
        // Noise of variance s² lifts the mean of v²/2 by s²/2.
        mean[0] -= 0.5 * average.noise_variance;
        out.mean.push(mean);
        out.cov.push(cov);
    }
    Ok(out)
}

fn check(t: &[f64], v: &[f64]) -> Result<(), RoadError> {
    if t.len() != v.len() {
        return Err(RoadError::Unequal {
            left: "time",
            left_len: t.len(),
            right: "speed",
            right_len: v.len(),
        });
    }
    crate::car::few("samples of the log", t.len(), FEWEST, "log faster or over a longer stretch")?;
    for (i, (a, b)) in t.iter().zip(v).enumerate() {
        within(*a, -1e10, 1e10, &format!("time, sample {}", i + 1), "s", "remove the sample or repair it")?;
        within(
            *b,
            -1.0,
            200.0,
            &format!("speed, sample {}", i + 1),
            "m/s",
            "check the unit of the speed column",
        )?;
    }
    rising(t, "time", "s")
}

struct Average {
    states: Vec<State>,
    noise_variance: f64,
    correlation: f64,
}

/// Average over stiffness and correlation with likelihood weights.
fn average(samples: &[Sample]) -> Average {
    let widest = (2 * samples.len()) as f64;
    let ratio = libm::pow(widest / 2.0, 1.0 / (BANDS - 1) as f64);
    let mut passes = Vec::new();
    for rho in CORRELATIONS {
        let mut band = 2.0;
        for _ in 0..BANDS {
            // A spline of this order passes waves longer than about 2π·q^(−1/6) samples.
            let q = libm::pow(band, -6.0);
            passes.push((q, rho, forward(samples, q, rho)));
            band *= ratio;
        }
    }
    let best = passes.iter().map(|p| p.2.log_likelihood).fold(f64::NEG_INFINITY, f64::max);
    let mut total = 0.0;
    let mut out = Average { states: Vec::new(), noise_variance: 0.0, correlation: 0.0 };
    let mut moments: Vec<([f64; 3], [[f64; 3]; 3])> = vec![([0.0; 3], [[0.0; 3]; 3]); samples.len()];
    let mut pivot: Vec<[f64; 3]> = Vec::new();
    for (_, rho, pass) in &passes {
        let weight = libm::exp(pass.log_likelihood - best);
        if weight < 2e-3 {
            continue;
        }
        total += weight;
        out.noise_variance += weight * pass.noise_variance;
        out.correlation += weight * rho;
        let states = backward(pass);
        if pivot.is_empty() {
            pivot = states.iter().map(|s| s.mean).collect();
        }
        for ((sum, s), p) in moments.iter_mut().zip(&states).zip(&pivot) {
            for i in 0..3 {
                let di = s.mean[i] - p[i];
                sum.0[i] += weight * di;
                for j in 0..3 {
                    sum.1[i][j] += weight * (pass.noise_variance * s.cov[i][j] + di * (s.mean[j] - p[j]));
                }
            }
        }
    }
    out.noise_variance /= total;
    out.correlation /= total;
    out.states = moments
        .iter()
        .zip(&pivot)
        .map(|((sum, square), p)| {
            let mut state = State { mean: [0.0; 3], cov: [[0.0; 3]; 3] };
            for i in 0..3 {
                state.mean[i] = p[i] + sum[i] / total;
                for j in 0..3 {
                    state.cov[i][j] = square[i][j] / total - sum[i] / total * (sum[j] / total);
                }
            }
            state
        })
        .collect();
    out
}

/// Least-squares parabola through (x, y), by the normal equations in centred coordinates.
fn parabola(x: &[f64], y: &[f64]) -> [f64; 3] {
    let n = x.len() as f64;
    let (mx, scale) = (x.iter().sum::<f64>() / n, x.last().copied().unwrap_or(1.0).max(1e-9));
    let rows: Vec<[f64; 3]> = x
        .iter()
        .map(|v| {
            let u = (v - mx) / scale;
            [1.0, u, u * u]
        })
        .collect();
    let c = crate::linear::least_squares(&rows, y, None).map_or([0.0; 3], |f| f.coefficients);
    // Back from u = (x − m)/s to powers of x.
    let (a, b, q) = (c[0], c[1] / scale, c[2] / (scale * scale));
    [a - b * mx + q * mx * mx, b - 2.0 * q * mx, q]
}
