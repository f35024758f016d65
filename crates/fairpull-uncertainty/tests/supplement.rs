//! Examples of JCGM 101:2008 (Monte Carlo), clause 9, with seeded draws: a million each, so that the ends of the
//! intervals are known to about 0.5 % of the standard uncertainty (the shortest one, flat at its best, to a few percent).
#![allow(clippy::unwrap_used)]

use approx::assert_relative_eq;
use fairpull_uncertainty::*;

const DRAWS: usize = 1_000_000;

fn run(seed: u64, mut model: impl FnMut(&mut Random) -> f64) -> (f64, f64, Coverage, Coverage) {
    let mut random = Random::new(seed);
    let mut y: Vec<f64> = (0..DRAWS).map(|_| model(&mut random)).collect();
    let (mean, u) = mean_and_deviation(&y);
    let symmetric = probabilistically_symmetric(&mut y, 0.95).unwrap();
    let short = shortest(&mut y, 0.95).unwrap();
    (mean, u, symmetric, short)
}

fn rectangular(r: &mut Random, low: f64, high: f64) -> f64 {
    low + (high - low) * r.uniform()
}

/// 9.2.2: four normal quantities, printed ±3.92.
#[test]
fn sum_of_normals_9_2_2() {
    let (_, u, c, _) = run(11, |r| (0..4).map(|_| r.normal()).sum());
    assert_relative_eq!(u, 2.0, epsilon = 0.006);
    assert_relative_eq!(c.high, 3.919927969080108, epsilon = 0.02);
    assert_relative_eq!(c.low, -3.919927969080108, epsilon = 0.02);
}

/// 9.2.4: one rectangular quantity dominates, u = 10.1; first order ±19.9, exact ±17.0.
#[test]
fn dominating_rectangle_9_2_4() {
    let root3 = libm::sqrt(3.0);
    let (_, u, c, _) = run(12, |r| {
        (0..3).map(|_| rectangular(r, -root3, root3)).sum::<f64>()
            + rectangular(r, -10.0 * root3, 10.0 * root3)
    });
    let first = libm::sqrt(combined_variance(&[1.0; 4], &[1.0, 1.0, 1.0, 10.0], |_, _| 0.0));
    assert_relative_eq!(first, 10.14889156509222, max_relative = 1e-12);
    assert_relative_eq!(normal_quantile(0.975) * first, 19.89146195525103, max_relative = 1e-9);
    assert_relative_eq!(u, first, epsilon = 0.03);
    assert_relative_eq!(c.high, 17.01581407624711, epsilon = 0.03);
}

/// 9.3, mass calibration: u = 0.0754 where first order gives 0.0539. The printed shortest interval
/// [1.0834, 1.3825] is from memory; twelve million draws of a second computation give [1.0843, 1.3835].
#[test]
fn mass_calibration_9_3() {
    let (mean, u, _, short) = run(13, |r| {
        let reference = 100_000.0 + 0.050 * r.normal();
        let added = 1.234 + 0.020 * r.normal();
        let air = rectangular(r, 1.10, 1.30);
        let weight = rectangular(r, 7e3, 9e3);
        let standard = rectangular(r, 7.95e3, 8.05e3);
        (reference + added) * (1.0 + (air - 1.2) * (1.0 / weight - 1.0 / standard)) - 1e5
    });
    assert_relative_eq!(mean, 1.2340, epsilon = 0.0003);
    assert_relative_eq!(u, 0.0754, epsilon = 0.0003);
    assert_relative_eq!(short.low, 1.0843, epsilon = 0.003);
    assert_relative_eq!(short.high, 1.3835, epsilon = 0.003);
}

/// 9.4, comparison loss Y = X1² + X2² with u = 0.005, x2 = 0: first order has no uncertainty at x1 = 0.
#[test]
fn comparison_loss_9_4() {
    for (x1, mean, u, low, high) in [
        (0.0, 5e-5, 5e-5, 0.0, 1.4978661367769954e-4),
        (0.010, 1.5e-4, 1.1180339887498949e-4, 0.0, 3.66e-4),
        (0.050, 2.55e-3, 5.024937810560445e-4, 1.59e-3, 3.55e-3),
    ] {
        let (m, s, _, short) = run(14, |r| {
            let (a, b) = (x1 + 0.005 * r.normal(), 0.005 * r.normal());
            a * a + b * b
        });
        assert_relative_eq!(m, mean, max_relative = 0.01);
        assert_relative_eq!(s, u, max_relative = 0.01);
        assert_relative_eq!(short.low, low, epsilon = 0.08 * u);
        assert_relative_eq!(short.high, high, epsilon = 0.08 * u);
    }
    // correlation 0.9: the mean stays, u grows
    for (x1, u) in
        [(0.0, 6.726812023536856e-5), (0.010, 1.2051970793193951e-4), (0.050, 5.045047076093543e-4)]
    {
        let (m, s, _, _) = run(15, |r| {
            let (z, w) = (r.normal(), r.normal());
            let (a, b) = (x1 + 0.005 * z, 0.005 * (0.9 * z + libm::sqrt(1.0 - 0.81) * w));
            a * a + b * b
        });
        assert_relative_eq!(m, x1 * x1 + 5e-5, max_relative = 0.01);
        assert_relative_eq!(s, u, max_relative = 0.01);
    }
}
