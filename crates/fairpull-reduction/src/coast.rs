//! Drag from a coast-down, without differentiating: the integrated equation of motion is linear in the drag.

use fairpull_uncertainty::NormalEquations;

/// Deceleration a + b·v + c·v² (m/s², m/s) of a coast-down, with covariance.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CoastFit {
    pub k: [f64; 3],
    pub covariance: [[f64; 3]; 3],
    /// What one standard deviation of the shape prior (slope, curvature) moves: common to all pulls of a car.
    pub prior: [[f64; 3]; 2],
    pub from: f64,
    pub to: f64,
    pub seconds: f64,
    pub samples: usize,
    pub residual: f64,
}

/// Shape prior: drag over a car's speed range is nearly straight in Legendre terms. Mean and standard deviation of
/// slope and curvature relative to the drag at mid-speed (own judgement, wide; it matters only for short coast-downs).
const SLOPE: (f64, f64) = (0.45, 0.35);
const CURVE: (f64, f64) = (0.10, 0.12);

/// Fits v(t) of a coast-down. `top` is the highest speed at which the drag will be wanted.
///
/// v_i = v_0 − Σ θ_k ∫ φ_k(v) dt with φ = 1, x, x² − 1/3 and x the speed scaled to ±1 over 0 to `top`. `None` when
/// the samples do not determine it.
pub(crate) fn fit(t: &[f64], v: &[f64], top: f64) -> Option<CoastFit> {
    let n = t.len();
    if n < 8 || !(top > 1.0) {
        return None;
    }
    let mean = (v[0] - v[n - 1]) / (t[n - 1] - t[0]);
    if !(mean > 0.0) {
        return None;
    }
    // columns no more alike than powers of time up to the third: of sixteen digits ten are left
    let mut samples = NormalEquations::new();
    for (row, y) in Rows::new(t, v, top) {
        samples.push(&row, y);
    }
    let mut noise = 0.02 * 0.02;
    let mut level = mean;
    let mut solved = None;
    // the prior is weighed against the data's own noise, so a few rounds settle both
    for _ in 0..3 {
        let (mut both, mut of_prior) = (samples, [0.0; 2]);
        for (j, (at, sd)) in [SLOPE, CURVE].into_iter().enumerate() {
            of_prior[j] = noise / (sd * level * sd * level);
            both.know(j + 2, at * level, of_prior[j]);
        }
        let found = both.solve()?;
        let c = found.coefficients;
        let known = of_prior
            .iter()
            .zip([SLOPE.0, CURVE.0])
            .zip(&c[2..])
            .map(|((w, at), c)| w * (c - at * level) * (c - at * level));
        let rss = found.residual - known.sum::<f64>();
        noise = (rss / (n as f64 - 4.0).max(1.0)).max(1e-10);
        level = c[1].max(0.2 * mean);
        solved = Some((c, found.unscaled));
    }
    let (c, inverse) = solved?;
    let (mut rss, mut lagged, mut before) = (0.0, 0.0, 0.0);
    for (row, y) in Rows::new(t, v, top) {
        let e = y - (c[0] * row[0] + c[1] * row[1] + c[2] * row[2] + c[3] * row[3]);
        rss += e * e;
        lagged += e * before;
        before = e;
    }
    noise = (rss / (n as f64 - 4.0).max(1.0)).max(1e-10);
    let correlation = (lagged / rss.max(1e-30)).clamp(0.0, 0.9);
    // correlated noise carries less information than its number of samples says
    let variance = noise * (1.0 + correlation) / (1.0 - correlation);
    // θ in (1, x, x² − 1/3) to (1, v, v²)
    let s = 2.0 / top;
    let map = [[1.0, -1.0, 1.0 - 1.0 / 3.0], [0.0, s, -2.0 * s], [0.0, 0.0, s * s]];
    let mut k = [0.0; 3];
    let mut covariance = [[0.0; 3]; 3];
    for i in 0..3 {
        for j in 0..3 {
            k[i] += map[i][j] * c[j + 1];
            for a in 0..3 {
                for b in 0..3 {
                    covariance[i][j] += map[i][a] * inverse[a + 1][b + 1] * map[j][b] * variance;
                }
            }
        }
    }
    let mut prior = [[0.0; 3]; 2];
    for (j, (_, sd)) in [SLOPE, CURVE].into_iter().enumerate() {
        // A⁻¹ e_j √w_j: how far the fit follows the prior where the samples say little
        let weight = libm::sqrt(noise) / (sd * level);
        for i in 0..3 {
            for a in 0..3 {
                prior[j][i] += map[i][a] * inverse[a + 1][j + 2] * weight * libm::sqrt(variance);
            }
        }
    }
    k.iter().all(|x| x.is_finite()).then_some(CoastFit {
        k,
        covariance,
        prior,
        from: v[0],
        to: v[n - 1],
        seconds: t[n - 1] - t[0],
        samples: n,
        residual: libm::sqrt(noise),
    })
}

/// Rows of the design with what they should give, the loss of speed since the first sample taken as known: 1, and minus
/// the integrals of 1, x and x² − 1/3 since then.
struct Rows<'a> {
    t: &'a [f64],
    v: &'a [f64],
    top: f64,
    at: usize,
    sums: [f64; 3],
    x: f64,
}

impl<'a> Rows<'a> {
    fn new(t: &'a [f64], v: &'a [f64], top: f64) -> Self {
        Self { t, v, top, at: 0, sums: [0.0; 3], x: 2.0 * v[0] / top - 1.0 }
    }
}

impl Iterator for Rows<'_> {
    type Item = ([f64; 4], f64);

    fn next(&mut self) -> Option<Self::Item> {
        let (i, v) = (self.at, *self.v.get(self.at)?);
        if i > 0 {
            let dt = self.t[i] - self.t[i - 1];
            let (x0, x1) = (self.x, 2.0 * v / self.top - 1.0);
            self.sums[0] += dt;
            self.sums[1] += 0.5 * dt * (x0 + x1);
            self.sums[2] += dt * ((x0 * x0 + x0 * x1 + x1 * x1) / 3.0 - 1.0 / 3.0);
            self.x = x1;
        }
        self.at += 1;
        Some(([1.0, -self.sums[0], -self.sums[1], -self.sums[2]], v - self.v[0]))
    }
}

#[cfg(test)]
impl CoastFit {
    /// Deceleration at `v`, m/s².
    pub(crate) fn at(&self, v: f64) -> f64 {
        self.k[0] + v * (self.k[1] + v * self.k[2])
    }
}

#[cfg(test)]
#[path = "coast_edges.rs"]
mod edges;

#[cfg(test)]
mod tests {
    use super::fit;

    /// dv/dt = −(a + b v + c v²) integrated in small steps; the published closed form is checked where losses live.
    fn run(a: f64, b: f64, c: f64, from: f64, seconds: f64) -> (Vec<f64>, Vec<f64>) {
        let (mut t, mut v) = (vec![0.0], vec![from]);
        let (mut x, h) = (from, 1e-3);
        for i in 1..=(seconds / h) as usize {
            let f = |v: f64| -(a + v * (b + v * c));
            let k1 = f(x);
            let k2 = f(x + 0.5 * h * k1);
            x += h * k2;
            if i % 20 == 0 {
                t.push(i as f64 * h);
                v.push(x);
            }
        }
        (t, v)
    }

    #[test]
    fn noise_free_coast_down_is_recovered() {
        let (a, b, c) = (0.1, 0.002, 0.0003);
        let (t, v) = run(a, b, c, 40.0, 40.0);
        let f = fit(&t, &v, 45.0).unwrap();
        for at in [15.0, 25.0, 40.0] {
            let truth = a + at * (b + at * c);
            assert!((f.at(at) / truth - 1.0).abs() < 2e-3, "{at}: {} {truth}", f.at(at));
        }
    }

    /// Against least squares by orthogonal triangularisation of all rows.
    #[test]
    fn normal_equations_keep_enough_digits() {
        let (t, v) = run(0.1, 0.002, 0.0003, 40.0, 40.0);
        for n in [40, t.len()] {
            let (mut normal, mut rows, mut right) = (super::NormalEquations::new(), Vec::new(), Vec::new());
            for (row, y) in super::Rows::new(&t[..n], &v[..n], 45.0) {
                normal.push(&row, y);
                rows.push(row.to_vec());
                right.push(y);
            }
            // the prior at a noise of 3 mm/s
            for k in [2, 3] {
                normal.know(k, 0.1, 1e-3);
                rows.push((0..4).map(|i| f64::from(i == k)).collect());
                right.push(0.1);
            }
            let weights: Vec<f64> = (0..rows.len()).map(|i| if i < n { 1.0 } else { 1e-3 }).collect();
            let ls = fairpull_uncertainty::least_squares(&rows, &right, &weights).unwrap();
            let got = normal.solve().unwrap();
            for i in 0..4 {
                let c = ls.coefficients[i];
                approx::assert_relative_eq!(got.coefficients[i], c, max_relative = 1e-6, epsilon = 1e-9);
                approx::assert_relative_eq!(got.unscaled[i][i], ls.unscaled[i][i], max_relative = 1e-6);
            }
        }
    }

    #[test]
    fn a_short_coast_down_says_little() {
        let (t, v) = run(0.1, 0.002, 0.0003, 40.0, 40.0);
        let long = fit(&t, &v, 45.0).unwrap();
        let short = fit(&t[..70], &v[..70], 45.0).unwrap();
        let spread = |f: &super::CoastFit, v: f64| {
            let g = [1.0, v, v * v];
            let mut s = 0.0;
            for i in 0..3 {
                for j in 0..3 {
                    s += g[i] * f.covariance[i][j] * g[j];
                }
            }
            libm::sqrt(s)
        };
        assert!(spread(&short, 15.0) > 5.0 * spread(&long, 15.0));
    }
}
