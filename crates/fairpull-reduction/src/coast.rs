//! Drag from a coast-down, without differentiating: the integrated equation of motion is linear in the drag.

use fairpull_uncertainty::{Triangle, least_squares};

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
    let scaled = |v: f64| 2.0 * v / top - 1.0;
    let mut rows: Vec<[f64; 5]> = Vec::with_capacity(n);
    let mut triangle = Triangle::new();
    let mut sums = [0.0; 3];
    for i in 0..n {
        if i > 0 {
            let dt = t[i] - t[i - 1];
            let (x0, x1) = (scaled(v[i - 1]), scaled(v[i]));
            sums[0] += dt;
            sums[1] += 0.5 * dt * (x0 + x1);
            sums[2] += dt * ((x0 * x0 + x0 * x1 + x1 * x1) / 3.0 - 1.0 / 3.0);
        }
        let row = [1.0, -sums[0], -sums[1], -sums[2], v[i]];
        triangle.push(row);
        rows.push(row);
    }
    let (few, few_y) = triangle.finish();
    let mean = (v[0] - v[n - 1]) / (t[n - 1] - t[0]);
    if !(mean > 0.0) {
        return None;
    }
    let mut noise = 0.02 * 0.02;
    let mut level = mean;
    let mut correlation = 0.0;
    let mut solved = None;
    // the prior is weighed against the data's own noise, so a few rounds settle both
    for _ in 0..3 {
        let (mut all, mut right, mut weights) = (few.clone(), few_y.clone(), vec![1.0; few_y.len()]);
        for (k, (at, sd)) in [(2, SLOPE), (3, CURVE)] {
            let mut row = vec![0.0; 4];
            row[k] = 1.0;
            all.push(row);
            right.push(at * level);
            weights.push(noise / (sd * level * sd * level));
        }
        let ls = least_squares(&all, &right, &weights).ok()?;
        let c: [f64; 4] = core::array::from_fn(|i| ls.coefficients[i]);
        let (mut rss, mut lagged, mut before) = (0.0, 0.0, 0.0);
        for r in &rows {
            let e = r[4] - (c[0] * r[0] + c[1] * r[1] + c[2] * r[2] + c[3] * r[3]);
            rss += e * e;
            lagged += e * before;
            before = e;
        }
        noise = (rss / (n as f64 - 4.0).max(1.0)).max(1e-10);
        correlation = (lagged / rss.max(1e-30)).clamp(0.0, 0.9);
        level = ls.coefficients[1].max(0.2 * mean);
        solved = Some(ls);
    }
    let ls = solved?;
    // correlated noise carries less information than its number of samples says
    let variance = noise * (1.0 + correlation) / (1.0 - correlation);
    // θ in (1, x, x² − 1/3) to (1, v, v²)
    let s = 2.0 / top;
    let map = [[1.0, -1.0, 1.0 - 1.0 / 3.0], [0.0, s, -2.0 * s], [0.0, 0.0, s * s]];
    let mut k = [0.0; 3];
    let mut covariance = [[0.0; 3]; 3];
    for i in 0..3 {
        for j in 0..3 {
            k[i] += map[i][j] * ls.coefficients[j + 1];
            for a in 0..3 {
                for b in 0..3 {
                    covariance[i][j] += map[i][a] * ls.unscaled[a + 1][b + 1] * map[j][b] * variance;
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
                prior[j][i] += map[i][a] * ls.unscaled[a + 1][j + 2] * weight * libm::sqrt(variance);
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

#[cfg(test)]
impl CoastFit {
    /// Deceleration at `v`, m/s².
    pub(crate) fn at(&self, v: f64) -> f64 {
        self.k[0] + v * (self.k[1] + v * self.k[2])
    }
}

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
