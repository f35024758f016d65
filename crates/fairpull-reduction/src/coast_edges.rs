use super::*;

/// Inverse of a symmetric positive definite matrix, by Gauss and Jordan's elimination.
fn inverse(mut a: [[f64; 4]; 4]) -> [[f64; 4]; 4] {
    let mut out: [[f64; 4]; 4] =
        core::array::from_fn(|i| core::array::from_fn(|j| f64::from(u8::from(i == j))));
    for k in 0..4 {
        let by = a[k][k];
        for j in 0..4 {
            (a[k][j], out[k][j]) = (a[k][j] / by, out[k][j] / by);
        }
        for i in (0..4).filter(|i| *i != k) {
            let f = a[i][k];
            for j in 0..4 {
                a[i][j] -= f * a[k][j];
                out[i][j] -= f * out[k][j];
            }
        }
    }
    out
}

/// A coast-down from 30 m/s in steps of 0.05 s with errors that follow each other.
fn recorded(seconds: f64) -> (Vec<f64>, Vec<f64>) {
    let (mut t, mut v, mut x, mut e) = (Vec::new(), Vec::new(), 30.0, 0.0);
    for i in 0..(seconds / 0.05) as usize {
        let z = libm::sin(1e4 * libm::sin(i as f64));
        e = 0.5 * e + 0.02 * z;
        t.push(0.05 * i as f64);
        v.push(x + e);
        x -= 0.05 * (0.3 + 0.006 * x + 2e-4 * x * x);
    }
    (t, v)
}

/// The same question asked in powers of the speed instead of Legendre's terms: v_i = v_0 − Σ k_j ∫v^j dt, slope 0.45 ± 0.35
/// and curvature 0.10 ± 0.12 of the drag at half the top speed given beforehand, noise and level found in three rounds.
#[test]
fn the_fit_in_powers_of_the_speed() {
    for (seconds, top) in [(2.0, 40.0), (6.0, 40.0), (30.0, 35.0)] {
        let (t, v) = recorded(seconds);
        let n = t.len();
        let mut rows = vec![[1.0, 0.0, 0.0, 0.0]];
        for i in 1..n {
            let (dt, a, b) = (t[i] - t[i - 1], v[i - 1], v[i]);
            let r = rows[i - 1];
            rows.push([1.0, r[1] - dt, r[2] - dt * (a + b) / 2.0, r[3] - dt * (a * a + a * b + b * b) / 3.0]);
        }
        let h = top / 2.0;
        // slope and curvature in terms of k, and the drag in the middle
        let shape = [[0.0, 0.0, h, 2.0 * h * h], [0.0, 0.0, 0.0, h * h]];
        let expected = [(0.45, 0.35), (0.10, 0.12)];
        let mean = (v[0] - v[n - 1]) / (t[n - 1] - t[0]);
        let (mut noise, mut level, mut rho) = (4e-4, mean, 0.0);
        let (mut k, mut c) = ([0.0; 4], [[0.0; 4]; 4]);
        for _ in 0..3 {
            let mut a = [[0.0; 4]; 4];
            let mut right = [0.0; 4];
            let mut add = |row: &[f64; 4], y: f64, w: f64| {
                for i in 0..4 {
                    for j in 0..4 {
                        a[i][j] += w * row[i] * row[j];
                    }
                    right[i] += w * row[i] * y;
                }
            };
            rows.iter().zip(&v).for_each(|(r, y)| add(r, *y, 1.0));
            for (g, (at, sd)) in shape.iter().zip(expected) {
                add(g, at * level, noise / (sd * level * sd * level));
            }
            c = inverse(a);
            k = core::array::from_fn(|i| (0..4).map(|j| c[i][j] * right[j]).sum());
            let e: Vec<f64> =
                rows.iter().zip(&v).map(|(r, y)| y - (0..4).map(|i| r[i] * k[i]).sum::<f64>()).collect();
            let rss: f64 = e.iter().map(|e| e * e).sum();
            noise = rss / (n as f64 - 4.0);
            rho = (e.windows(2).map(|w| w[0] * w[1]).sum::<f64>() / rss).clamp(0.0, 0.9);
            level = (k[1] + k[2] * h + k[3] * h * h * 4.0 / 3.0).max(0.2 * mean);
        }
        let variance = noise * (1.0 + rho) / (1.0 - rho);
        let got = fit(&t, &v, top).unwrap();
        let near = |got: f64, expected: f64, scale: f64| {
            assert!((got - expected).abs() <= 1e-6 * scale, "{seconds}: {got} {expected}");
        };
        near(got.residual, libm::sqrt(noise), got.residual);
        for i in 0..3 {
            near(got.k[i], k[i + 1], k[i + 1].abs());
            for j in 0..3 {
                let scale = libm::sqrt(c[i + 1][i + 1] * c[j + 1][j + 1]) * variance;
                near(got.covariance[i][j], c[i + 1][j + 1] * variance, scale);
            }
            for (j, (g, (_, sd))) in shape.iter().zip(expected).enumerate() {
                let toward: f64 = (0..4).map(|a| c[i + 1][a] * g[a]).sum();
                let moved = toward * libm::sqrt(noise) / (sd * level) * libm::sqrt(variance);
                near(got.prior[j][i], moved, libm::sqrt(c[i + 1][i + 1] * variance));
            }
        }
        assert_eq!((got.from, got.to, got.samples), (v[0], v[n - 1], n));
        assert_eq!(got.seconds, t[n - 1] - t[0]);
        assert!(rho > 0.2, "{rho}");
    }
}

#[test]
fn what_determines_no_drag() {
    let (t, v) = recorded(6.0);
    assert!(fit(&t[..8], &v[..8], 40.0).is_some());
    assert!(fit(&t[..7], &v[..7], 40.0).is_none());
    assert!(fit(&t, &v, 1.0).is_none() && fit(&t, &v, f64::NAN).is_none());
    let back: Vec<f64> = v.iter().rev().copied().collect();
    assert!(fit(&t, &back, 40.0).is_none());
}
