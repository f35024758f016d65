//! Distributions, quantiles and detectable changes beside scipy 1.17.1 (`betainc`, `ndtr`, `ndtri`, `t`, `nct`, and
//! `brentq` on the power of the test), over the range of their arguments and at its ends.
#![allow(clippy::unwrap_used)]

use approx::assert_relative_eq;
use fairpull_uncertainty::*;

#[test]
fn incomplete_beta_by_reference() {
    for (a, b, x, value) in [
        (0.5, 0.5, 0.25, 1.0 / 3.0), // 2/π · arcsin √x
        (2.0, 3.0, 0.1, 0.0523),
        (2.0, 3.0, 0.9, 0.9963),
        (10.0, 0.5, 0.3, 1.2205229279531696e-6),
        (10.0, 0.5, 0.999, 0.8888967091248604),
        (0.1, 8.0, 0.001, 0.6444798310985543),
        (30.0, 40.0, 0.42, 0.4470495308604757),
        (500.0, 0.5, 0.99, 0.0015273578790529906),
        (5.0, 5.0, 0.5, 0.5),
        (1.0, 1.0, 0.3, 0.3),
    ] {
        assert_relative_eq!(incomplete_beta(a, b, x), value, max_relative = 2e-12);
        assert_relative_eq!(incomplete_beta(b, a, 1.0 - x), 1.0 - value, max_relative = 2e-10);
    }
    assert_eq!((incomplete_beta(2.0, 3.0, 0.0), incomplete_beta(2.0, 3.0, 1.0)), (0.0, 1.0));
    for (a, b, x) in [(0.0, 1.0, 0.5), (1.0, 0.0, 0.5), (-1.0, 1.0, 0.5), (1.0, 1.0, -0.1), (1.0, 1.0, 1.005)]
    {
        assert!(incomplete_beta(a, b, x).is_nan(), "{a} {b} {x}");
    }
}

#[test]
fn normal_by_reference() {
    for (x, p) in [
        (-8.0, 6.22096057427174e-16),
        (-3.0, 0.0013498980316300933),
        (-1.0, 0.15865525393145707),
        (0.0, 0.5),
        (0.5, 0.6914624612740131),
        (5.0, 0.9999997133484281),
    ] {
        assert_relative_eq!(normal_cdf(x), p, max_relative = 1e-14);
    }
    for (p, x) in [
        (1e-12, -7.034483825301131),
        (1e-3, -3.090232306167813),
        (0.1, -1.2815515655446004),
        (0.8, 0.8416212335729143),
        (0.99, 2.3263478740408408),
    ] {
        assert_relative_eq!(normal_quantile(p), x, max_relative = 1e-13);
    }
    assert!(normal_quantile(0.5).abs() < 1e-15);
    // near 1 the probability itself has few digits left
    assert_relative_eq!(normal_quantile(1.0 - 1e-9), 5.997807019601637, max_relative = 1e-8);
    // the smallest probability there is: its quantile is inside the bracket (scipy: -38.4674)
    assert_relative_eq!(normal_quantile(5e-324), -38.46740561714434, max_relative = 1e-3);
    for p in [0.0, 1.0, -0.1, 1.1, f64::NAN] {
        assert!(normal_quantile(p).is_nan(), "{p}");
    }
}

#[test]
fn student_by_reference() {
    for (t, dof, p) in [
        (-3.0, 2.0, 0.04773298313335456),
        (-1.0, 1.0, 0.25),
        (0.0, 5.0, 0.5),
        (0.5, 0.7, 0.634799156658835),
        (2.0, 3.5, 0.9369307387120432),
        (2.5, 1e4, 0.9937823902247082),
        (4.0, 30.0, 0.9998090771819581),
        (-2.0, 2e6, 0.02275019943690338),
        (1.3, 2e6, 0.9031994405049037),
        (-2.0, 1e9, 0.022750132083156623),
        (-2.0, 1e13, 0.022750131948179195),
        (-2.0, f64::INFINITY, 0.022750131948179195),
    ] {
        assert_relative_eq!(t_cdf(t, dof), p, max_relative = 1e-12);
    }
    for (p, dof, t) in [
        (0.6, 1.0, 0.32491969623290634),
        (0.75, 0.5, 1.5537739740300383),
        (0.9, 1.3, 2.425947410787918),
        (0.95, 2.0, 2.9199855803537242),
        (0.975, 1.5, 6.016663104427929),
        (0.99, 7.0, 2.9979515668685277),
        (0.999, 4.0, 7.173182219782307),
        (0.9999, 1.0, 3183.098757118502),
        (0.55, 100.0, 0.12598088204153987),
        (0.995, 1e5, 2.575878469908375),
        (0.02, 3.0, -3.481908760321213),
        (1.0 - 1e-9, 2.0, 22360.68005765849),
        (0.8, 1e6, 0.8416215930139844),
        (0.8, 2e6, 0.8416214132934126),
        (0.8, 1e9, 0.8416212339323552),
        (0.8, 9e11, 0.8416212335733138),
        (0.8, f64::INFINITY, 0.8416212335729143),
    ] {
        assert_relative_eq!(t_quantile(p, dof), t, max_relative = 1e-8);
    }
    for (p, dof) in [(0.0, 3.0), (1.0, 3.0), (1.5, 3.0), (0.9, 0.0), (0.9, -1.0), (0.9, f64::NAN)] {
        assert!(t_quantile(p, dof).is_nan(), "{p} {dof}");
    }
    // Cauchy's distribution in closed form, deep into its tail
    for p in [0.5 + 1e-9, 0.5001, 0.999_999, 1.0 - 1e-12] {
        let t = 1.0 / libm::tan(core::f64::consts::PI * (1.0 - p));
        assert_relative_eq!(t_quantile(p, 1.0), t, epsilon = 2e-8, max_relative = 1e-6);
    }
    // fewer than one degree of freedom counts as one
    assert_eq!(coverage_factor(0.3), coverage_factor(1.0));
    assert_eq!(coverage_factor(f64::NAN), coverage_factor(1.0));
    assert!(coverage_factor(1.005) < coverage_factor(1.0));
    assert_relative_eq!(coverage_factor(1.5), 6.016663104427929, max_relative = 1e-10);
}

#[test]
fn noncentral_by_reference() {
    for (t, dof, delta, p) in [
        (2.0, 5.0, 1.0, 0.7780746626162148),
        (2.5, 3.0, 2.0, 0.5753094132997543),
        (-1.0, 6.0, 0.5, 0.07992477725000172),
        (3.0, 1.0, 4.0, 0.20590131975067252),
        (0.0, 10.0, -1.0, 0.8413447460685429),
        (4.0, 200.0, 3.5, 0.686287404805757),
        (20.0, 8.0, 25.0, 0.1345175255841249),
        (-2.4, 6.0, 2.9, 3.71398744650653e-6),
        (1.0, 1000.0, 1.0, 0.49990028521437374),
        (1.0, 1e7, 0.5, 0.6914624612740131), // normal from a million degrees of freedom up
    ] {
        assert_relative_eq!(noncentral_t_cdf(t, dof, delta), p, epsilon = 1e-9, max_relative = 0.0);
    }
    // without non-centrality it is Student's t
    for (t, dof) in [(-2.0, 1.0), (0.7, 2.5), (3.0, 12.0), (1.0, 900.0)] {
        assert_relative_eq!(noncentral_t_cdf(t, dof, 0.0), t_cdf(t, dof), epsilon = 1e-9);
    }
}

#[test]
fn smallest_detectable_by_reference() {
    for (dof, factor) in [
        (1.0, 16.334008869920996),
        (1.5, 7.829040965651402),
        (2.0, 5.653489266197127),
        (3.0, 4.255898686515602),
        (6.0, 3.3668948970850074),
        (14.0, 3.0132684557535114),
        (98.0, 2.829411218777863),
        (1000.0, 2.8042758963753953),
        (f64::INFINITY, 2.801_585_2), // 1.959 964 + 0.841 621 and the other tail, which is next to nothing
    ] {
        assert_relative_eq!(smallest_detectable(1.0, dof), factor, max_relative = 2e-6);
        assert_relative_eq!(smallest_detectable(0.25, dof), 0.25 * factor, max_relative = 2e-6);
    }
    assert_eq!(smallest_detectable(1.0, 0.2), smallest_detectable(1.0, 1.0));
    assert!(smallest_detectable(1.0, 1.005) < smallest_detectable(1.0, 1.0));
}

/// Counted up one by one in the second implementation.
#[test]
fn more_repeats_by_reference() {
    for (change, deviation, other, n) in [
        (2.0, 1.0, 0.0, Some(6)),
        (2.0, 1.0, 0.5, Some(9)),
        (-2.0, 1.0, 0.5, Some(9)),
        (5.7, 1.0, 0.0, Some(2)),
        (5.6, 1.0, 0.0, Some(3)),
        (50.0, 1.0, 0.0, Some(2)),
        (0.57, 1.0, 0.0, Some(50)),
        (0.5, 1.0, 0.0, None),
        (-1.2, 1.0, 0.1, Some(13)),
        (1.0, 1.0, 0.0, Some(17)),
        (0.8, 1.0, 0.1, Some(29)),
        (8.0, 10.0, 1.0, Some(29)),
    ] {
        assert_eq!(more_repeats(change, deviation, other), n, "{change} {deviation} {other}");
    }
}
