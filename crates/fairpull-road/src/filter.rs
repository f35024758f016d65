//! State-space smoother for kinetic energy: a spline of third order through noisy samples with autocorrelated noise.
//!
//! State: energy e, its first and second derivative by time, and the noise n of the speed reading. e''' is white noise
//! of density q (the Bayesian form of the spline that penalises ∫(e''')², Wahba 1978), n is a first-order
//! autoregression. Reading: y = e + v·n, since a speed error n is an energy error v·n. Kalman filter and fixed-interval
//! smoother in the form of Bryson and Frazier (no inverse of a covariance).

type M = [[f64; 4]; 4];
type V = [f64; 4];

/// One sample: time step from the one before (scaled), weight v of the noise (scaled), reading, and whether slope and
/// curvature start afresh here.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sample {
    pub(crate) step: f64,
    pub(crate) weight: f64,
    pub(crate) reading: f64,
    pub(crate) fresh: bool,
}

/// Smoothed state at a sample, in scaled units, with unit noise variance.
#[derive(Clone, Copy, Debug)]
pub(crate) struct State {
    pub(crate) mean: [f64; 3],
    pub(crate) cov: [[f64; 3]; 3],
}

struct Kept {
    x: V,
    p: M,
    innovation: f64,
    s: f64,
    gain: V,
    weight: f64,
    step: f64,
}

/// Variance of an unknown state before the first sample, in units of the noise variance of a sample: wide enough to
/// leave the result alone, narrow enough that the first covariances keep their digits.
const DIFFUSE: [f64; 3] = [1e6, 1e4, 1e4];

pub(crate) struct Pass {
    kept: Vec<Kept>,
    rho: f64,
    /// Concentrated log-likelihood and noise variance.
    pub(crate) log_likelihood: f64,
    pub(crate) noise_variance: f64,
}

fn transition(step: f64, rho: f64) -> M {
    let decay = if rho > 0.0 { libm::pow(rho, step) } else { 0.0 };
    [[1.0, step, 0.5 * step * step, 0.0], [0.0, 1.0, step, 0.0], [0.0, 0.0, 1.0, 0.0], [0.0, 0.0, 0.0, decay]]
}

/// F·P·Fᵀ for the block form of F (upper triangle of three, and one diagonal element).
fn propagate(f: &M, p: &M) -> M {
    let mut fp = [[0.0; 4]; 4];
    for i in 0..4 {
        for j in 0..4 {
            let mut sum = 0.0;
            for k in i..4 {
                sum += f[i][k] * p[k][j];
            }
            fp[i][j] = sum;
        }
    }
    let mut out = [[0.0; 4]; 4];
    for i in 0..4 {
        for j in i..4 {
            let mut sum = 0.0;
            for k in j..4 {
                sum += fp[i][k] * f[j][k];
            }
            out[i][j] = sum;
            out[j][i] = sum;
        }
    }
    out
}

pub(crate) fn forward(samples: &[Sample], q: f64, rho: f64) -> Pass {
    let mut x: V = [0.0; 4];
    let mut p: M = [[0.0; 4]; 4];
    for (i, row) in p.iter_mut().enumerate() {
        row[i] = DIFFUSE.get(i).copied().unwrap_or(1.0);
    }
    let mut kept: Vec<Kept> = Vec::with_capacity(samples.len());
    let (mut sum_log, mut sum_sq, mut counted) = (0.0, 0.0, 0_usize);
    // Samples that only settle an unknown state say nothing about noise and stiffness.
    let mut settling = 3;
    for (k, sample) in samples.iter().enumerate() {
        let d = sample.step;
        if k > 0 {
            let f = transition(d, rho);
            let decay = f[3][3];
            x = [x[0] + d * x[1] + 0.5 * d * d * x[2], x[1] + d * x[2], x[2], decay * x[3]];
            p = propagate(&f, &p);
            let (d2, d3) = (d * d, d * d * d);
            let noise = [
                [d3 * d2 / 20.0, d2 * d2 / 8.0, d3 / 6.0],
                [d2 * d2 / 8.0, d3 / 3.0, d2 / 2.0],
                [d3 / 6.0, d2 / 2.0, d],
            ];
            for i in 0..3 {
                for j in 0..3 {
                    p[i][j] += q * noise[i][j];
                }
            }
            p[3][3] += 1.0 - decay * decay;
            if sample.fresh {
                p[1][1] += DIFFUSE[1];
                p[2][2] += DIFFUSE[2];
                settling = 2;
            }
        }
        let w = sample.weight;
        let ph: V =
            [p[0][0] + w * p[0][3], p[1][0] + w * p[1][3], p[2][0] + w * p[2][3], p[3][0] + w * p[3][3]];
        let s = ph[0] + w * ph[3];
        let innovation = sample.reading - x[0] - w * x[3];
        let gain: V = [ph[0] / s, ph[1] / s, ph[2] / s, ph[3] / s];
        kept.push(Kept { x, p, innovation, s, gain, weight: w, step: d });
        if settling > 0 {
            settling -= 1;
        } else {
            sum_log += libm::log(s);
            sum_sq += innovation * innovation / s;
            counted += 1;
        }
        for i in 0..4 {
            x[i] += gain[i] * innovation;
            for j in i..4 {
                p[i][j] -= gain[i] * ph[j];
                p[j][i] = p[i][j];
            }
        }
    }
    let dof = counted.max(1) as f64;
    let noise_variance = sum_sq / dof;
    let log_likelihood = -0.5 * (dof * libm::log(noise_variance.max(1e-300)) + sum_log);
    Pass { kept, rho, log_likelihood, noise_variance }
}

/// Smoothed states at all samples.
pub(crate) fn backward(pass: &Pass) -> Vec<State> {
    let mut l: V = [0.0; 4];
    let mut big: M = [[0.0; 4]; 4];
    let mut out = Vec::with_capacity(pass.kept.len());
    for kept in pass.kept.iter().rev() {
        // C = I − K·H with H = (1, 0, 0, w): only the first and last column differ from the unit matrix.
        let (w, g) = (kept.weight, &kept.gain);
        let gl = g[0] * l[0] + g[1] * l[1] + g[2] * l[2] + g[3] * l[3];
        let drive = kept.innovation / kept.s + gl;
        l = [l[0] - drive, l[1], l[2], l[3] - w * drive];
        let mut bg: V = [0.0; 4];
        for i in 0..4 {
            bg[i] = big[i][0] * g[0] + big[i][1] * g[1] + big[i][2] * g[2] + big[i][3] * g[3];
        }
        let gbg = g[0] * bg[0] + g[1] * bg[1] + g[2] * bg[2] + g[3] * bg[3];
        let h: V = [1.0, 0.0, 0.0, w];
        let corner = gbg + 1.0 / kept.s;
        for i in 0..4 {
            for j in 0..4 {
                big[i][j] += corner * h[i] * h[j] - h[i] * bg[j] - bg[i] * h[j];
            }
        }
        let mut mean = [0.0; 3];
        let mut pb = [[0.0; 4]; 3];
        for i in 0..3 {
            mean[i] = kept.x[i];
            for j in 0..4 {
                mean[i] -= kept.p[i][j] * l[j];
                for k in 0..4 {
                    pb[i][j] += kept.p[i][k] * big[k][j];
                }
            }
        }
        let mut cov = [[0.0; 3]; 3];
        for i in 0..3 {
            for j in 0..3 {
                cov[i][j] = kept.p[i][j];
                for k in 0..4 {
                    cov[i][j] -= pb[i][k] * kept.p[k][j];
                }
            }
        }
        out.push(State { mean, cov });
        let f = transition(kept.step, pass.rho);
        l = [l[0], f[0][1] * l[0] + l[1], f[0][2] * l[0] + f[1][2] * l[1] + l[2], f[3][3] * l[3]];
        let ft = transposed(&f);
        big = congruence(&ft, &big);
    }
    out.reverse();
    out
}

fn transposed(f: &M) -> M {
    let mut t = [[0.0; 4]; 4];
    for i in 0..4 {
        for j in 0..4 {
            t[i][j] = f[j][i];
        }
    }
    t
}

fn congruence(a: &M, b: &M) -> M {
    let mut ab = [[0.0; 4]; 4];
    for i in 0..4 {
        for j in 0..4 {
            for k in 0..4 {
                ab[i][j] += a[i][k] * b[k][j];
            }
        }
    }
    let mut out = [[0.0; 4]; 4];
    for i in 0..4 {
        for j in 0..4 {
            for k in 0..4 {
                out[i][j] += ab[i][k] * a[j][k];
            }
        }
    }
    out
}
