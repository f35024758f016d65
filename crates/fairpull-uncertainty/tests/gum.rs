//! Worked examples of JCGM 100:2008, annex H, from the inputs to the printed figures. Full digits beside the printed
//! ones are second computations; where a digit is unprinted the printed value is named.
use approx::assert_relative_eq;
use fairpull_uncertainty::*;

/// H.1, calibration of an end gauge: printed u_c = 32 nm, ν_eff = 16, U_99 = 93 nm, with second-order terms 34 nm.
#[test]
fn end_gauge_h1() {
    let root3 = libm::sqrt(3.0);
    let length = 50_000_623.0;
    let theta: f64 = -0.1;
    // deviation of the comparison: repeat, random and systematic effects of the comparator
    let parts = [5.8, 3.9, 6.7];
    let u_d = libm::sqrt(combined_variance(&[1.0; 3], &parts, |_, _| 0.0));
    let nu_d = effective_dof(&[(5.8, 24.0), (3.9, 5.0), (6.7, 8.0)]);
    assert_relative_eq!(u_d, 9.681941953967707, max_relative = 1e-14); // printed 9.7
    assert_relative_eq!(nu_d, 25.447250777362726, max_relative = 1e-12); // printed 25.6
    let u_alpha = 2e-6 / root3;
    let u_d_alpha = 1e-6 / root3;
    let u_theta = libm::hypot(0.2, 0.5 / libm::sqrt(2.0));
    assert_relative_eq!(u_theta, 0.406201920231798, max_relative = 1e-14); // printed 0.41
    let u_d_theta = 0.05 / root3;
    let alpha = 11.5e-6;
    let c = [1.0, 1.0, -length * theta, -length * alpha];
    let u = [25.0, u_d, u_d_alpha, u_d_theta];
    let u_c = libm::sqrt(combined_variance(&c, &u, |_, _| 0.0));
    assert_relative_eq!(u_c, 31.663879111008633, max_relative = 1e-13);
    assert_eq!(libm::round(u_c), 32.0);
    let nu = effective_dof(&[(25.0, 18.0), (u_d, nu_d), (c[2] * u[2], 50.0), (c[3] * u[3], 2.0)]);
    assert_relative_eq!(nu, 16.75185573762724, max_relative = 1e-12);
    let whole = libm::floor(nu);
    assert_eq!(whole, 16.0);
    let u99 = t_quantile(0.995, whole) * u_c;
    assert_relative_eq!(u99, 92.48327620212403, max_relative = 1e-12); // printed 93, from 2.92 × 32
    // second order: l·u(δα)·u(θ) and l·u(α)·u(δθ), printed 11.7 and 1.7
    let second = [length * u_d_alpha * u_theta, length * u_alpha * u_d_theta];
    assert_relative_eq!(second[0], 11.726185506009493, max_relative = 1e-12);
    assert_relative_eq!(second[1], 1.6666874333333335, max_relative = 1e-7);
    let all = libm::sqrt(u_c * u_c + second.iter().map(|x| x * x).sum::<f64>());
    assert_eq!(libm::round(all), 34.0);
}

/// H.3, calibration of a thermometer by a straight line: printed y1 = -0.1712 (0.0029), y2 = 0.00218 (0.00067),
/// r = -0.930, s = 0.0035, b(30 °C) = -0.1494 (0.0041).
#[test]
fn calibration_line_h3() {
    let t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    let b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
    let rows: Vec<Vec<f64>> = t.iter().map(|t| vec![1.0, t - 20.0]).collect();
    let fit = least_squares(&rows, &b, &[1.0; 11]).unwrap();
    let covariance = |i: usize, j: usize| fit.unscaled[i][j] * fit.variance;
    let (u1, u2) = (libm::sqrt(covariance(0, 0)), libm::sqrt(covariance(1, 1)));
    let r = covariance(0, 1) / (u1 * u2);
    assert_relative_eq!(fit.coefficients[0], -0.17120379013134981, max_relative = 1e-11);
    assert_relative_eq!(fit.coefficients[1], 0.0021826977398872014, max_relative = 1e-10);
    assert_relative_eq!(u1, 0.0028775978351599585, max_relative = 1e-10);
    assert_relative_eq!(u2, 0.0006679387732278329, max_relative = 1e-10);
    assert_relative_eq!(r, -0.9304296030934461, max_relative = 1e-10);
    assert_relative_eq!(libm::sqrt(fit.variance), 0.003497563963505287, max_relative = 1e-10);
    let at30 = fit.coefficients[0] + 10.0 * fit.coefficients[1];
    let u30 = libm::sqrt(combined_variance(&[1.0, 10.0], &[u1, u2], |_, _| r));
    assert_relative_eq!(at30, -0.1493768127324778, max_relative = 1e-10);
    assert_relative_eq!(u30, 0.004138595752854953, max_relative = 1e-10);
}

/// 4.4.3, twenty readings of a temperature: printed mean 100.145, s 1.489, u 0.333.
#[test]
fn twenty_readings_4_4_3() {
    let t = [
        96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68,
        100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
    ];
    let (mean, s) = mean_and_deviation(&t);
    assert_relative_eq!(mean, 100.145, max_relative = 1e-14);
    assert_relative_eq!(s, 1.4888444830595435, max_relative = 1e-12);
    assert_relative_eq!(s / libm::sqrt(20.0), 0.3329157472046673, max_relative = 1e-12);
}

/// A before/after on one bench: the inertia is common and cancels in the ratio (second computation: first-order
/// propagation with correlation 1, and with the correlation left out, which is the mistake).
#[test]
fn shared_inertia_cancels_in_a_ratio() {
    let (a1, a2, u) = (1.85, 1.95, 0.012);
    let ratio = a2 / a1;
    let c = [ratio / a1, 1.0 / a1, ratio, -ratio];
    let inertia = 0.005;
    let parts = [u, u, inertia, inertia];
    let shared = |i: usize, j: usize| f64::from(i == 2 && j == 3);
    let right = libm::sqrt(combined_variance(&c, &parts, shared));
    assert_relative_eq!(right, 0.009424465196119057, max_relative = 1e-12);
    let wrong = libm::sqrt(combined_variance(&c, &parts, |_, _| 0.0));
    assert_relative_eq!(wrong, 0.0120154917367642, max_relative = 1e-12);
}
