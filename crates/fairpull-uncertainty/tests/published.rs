//! Published values: JCGM 100:2008 examples, NIST reference data, tables of Student's t.
use approx::assert_relative_eq;
use fairpull_uncertainty::*;

/// JCGM 100:2008, table G.2 (digits computed by scipy 1.17.1, `scipy.stats.t.ppf`).
#[test]
fn student_quantiles() {
    for (dof, t) in [
        (1.0, 12.706204736174694),
        (2.0, 4.302652729749462),
        (3.0, 3.1824463052837078),
        (5.0, 2.5705818356363146),
        (10.0, 2.228138851986274),
        (16.0, 2.1199052992212546),
        (50.0, 2.008559112100761),
        (7.762313552342607, 2.3183529683211175),
    ] {
        assert_relative_eq!(coverage_factor(dof), t, max_relative = 1e-12);
    }
    assert_relative_eq!(t_quantile(0.995, 16.0), 2.9207816224251, max_relative = 1e-12);
    assert_relative_eq!(normal_quantile(0.975), 1.959963984540054, max_relative = 1e-14);
}

/// Welch-Satterthwaite on u = (1.2, 0.8, 0.5) with nu = (3, 50, inf); JCGM 100:2008 G.4.2 printed 1.03 and 19.0.
#[test]
fn effective_degrees_of_freedom() {
    let drill = [(1.2, 3.0), (0.8, 50.0), (0.5, f64::INFINITY)];
    assert_relative_eq!(effective_dof(&drill), 7.762313552342607, max_relative = 1e-13);
    let g42 = [(0.25, 9.0), (0.57, 4.0), (0.82, 14.0)];
    assert_relative_eq!(effective_dof(&g42), 18.998742314267954, max_relative = 1e-13);
    let u = [0.25, 0.57, 0.82];
    assert_relative_eq!(
        combined_variance(&[1.0; 3], &u, |_, _| 0.0).sqrt_libm(),
        1.0294658809304948,
        max_relative = 1e-14
    );
}

trait Root {
    fn sqrt_libm(self) -> f64;
}
impl Root for f64 {
    fn sqrt_libm(self) -> f64 {
        libm::sqrt(self)
    }
}

/// JCGM 100:2008, H.2 (simultaneous resistance and reactance): correlated input means, printed u = 0.071, 0.295, 0.236.
#[test]
fn correlated_propagation_h2() {
    let v = [5.007, 4.994, 5.005, 4.990, 4.999];
    let i = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3];
    let phi = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
    let n = 5.0;
    let stat = |x: &[f64]| {
        let (m, s) = mean_and_deviation(x);
        (m, s / libm::sqrt(n))
    };
    let ((vm, uv), (im, ui), (pm, up)) = (stat(&v), stat(&i), stat(&phi));
    let corr = |a: &[f64], am: f64, ua: f64, b: &[f64], bm: f64, ub: f64| {
        a.iter().zip(b).map(|(x, y)| (x - am) * (y - bm)).sum::<f64>() / (n * (n - 1.0)) / (ua * ub)
    };
    let r_vi = corr(&v, vm, uv, &i, im, ui);
    let r_vp = corr(&v, vm, uv, &phi, pm, up);
    let r_ip = corr(&i, im, ui, &phi, pm, up);
    assert_relative_eq!(r_vi, -0.3553112198174771, max_relative = 1e-9);
    assert_relative_eq!(r_vp, 0.8576242108399619, max_relative = 1e-9);
    assert_relative_eq!(r_ip, -0.6451112176892463, max_relative = 1e-9);
    let z = vm / im;
    let c = [libm::cos(pm) / im, -z * libm::cos(pm) / im, -z * libm::sin(pm)];
    let r = |a: usize, b: usize| match (a, b) {
        (0, 1) => r_vi,
        (0, 2) => r_vp,
        _ => r_ip,
    };
    let u = libm::sqrt(combined_variance(&c, &[uv, ui, up], r));
    assert_relative_eq!(u, 0.07107141, max_relative = 1e-6);
    let blind = libm::sqrt(combined_variance(&c, &[uv, ui, up], |_, _| 0.0));
    assert_relative_eq!(blind, 0.19454445, max_relative = 1e-6);
}

/// JCGM 100:2008, H.5: day-to-day variation, printed s_b = 85 and F = 2.25 from rounded values.
#[test]
fn analysis_of_variance_h5() {
    let means = [172.0, 116.0, 13.0, 144.0, 106.0, 31.0, 60.0, 125.0, 163.0, 41.0];
    let deviations = [60.0, 77.0, 111.0, 101.0, 67.0, 93.0, 80.0, 73.0, 88.0, 86.0];
    // five values with the printed mean and deviation of each day
    let groups: Vec<Vec<f64>> = means
        .iter()
        .zip(deviations)
        .map(|(m, s)| {
            let d = s * libm::sqrt(2.0);
            vec![m - d, *m, *m, *m, m + d]
        })
        .collect();
    let a = analysis_of_variance(&groups).unwrap();
    assert_relative_eq!(a.within, 84.88698369008054, max_relative = 1e-12);
    assert_relative_eq!(a.f_ratio, 2.2615192699707953, max_relative = 1e-12);
    assert_relative_eq!(a.between, 42.63861056731459, max_relative = 1e-12);
}

/// Two groups of four, values of a reference computation (scipy 1.17.1 `ttest_ind(equal_var=False)`).
#[test]
fn welch_comparison() {
    let w = welch(&[148.2, 149.1, 147.6, 148.8], &[153.0, 153.9, 151.8, 154.3]).unwrap();
    assert_relative_eq!(w.difference / w.error, 7.461811094711091, max_relative = 1e-12);
    assert_relative_eq!(w.dof, 4.911182802778435, max_relative = 1e-12);
    assert_relative_eq!(w.difference - w.half_width, 3.153712993558881, max_relative = 1e-10);
    assert_relative_eq!(w.difference + w.half_width, 6.496287006441096, max_relative = 1e-10);
}

/// NIST Statistical Reference Datasets, Norris (linear, 36 points) certified B0 -0.262323073774029, B1 1.00211681802045, s 0.884796396144373.
#[test]
fn norris() {
    let data = include_str!("norris.txt");
    let (mut rows, mut y) = (Vec::new(), Vec::new());
    for line in data.lines().filter(|l| !l.starts_with('#')) {
        let v: Vec<f64> = line.split_whitespace().map(|t| t.parse().unwrap()).collect();
        y.push(v[0]);
        rows.push(vec![1.0, v[1]]);
    }
    assert_eq!(y.len(), 36);
    let fit = least_squares(&rows, &y, &vec![1.0; y.len()]).unwrap();
    assert_relative_eq!(fit.coefficients[0], -0.262323073774029, max_relative = 1e-9);
    assert_relative_eq!(fit.coefficients[1], 1.00211681802045, max_relative = 1e-12);
    assert_relative_eq!(libm::sqrt(fit.variance), 0.884796396144373, max_relative = 1e-12);
    let se = libm::sqrt(fit.variance * fit.unscaled[0][0]);
    assert_relative_eq!(se, 0.232818234301152, max_relative = 1e-10);
}

/// Smallest detectable difference in units of the repeat deviation (exact non-central t, scipy 1.17.1 `nct`).
#[test]
fn detectable_change() {
    for (n, expected) in [
        (3.0, 3.0708922663635456),
        (4.0, 2.380754213271172),
        (6.0, 1.7955409206169888),
        (10.0, 1.3249473925791613),
    ] {
        let got = smallest_detectable(libm::sqrt(2.0 / n), 2.0 * n - 2.0);
        assert_relative_eq!(got, expected, max_relative = 1e-5);
    }
    assert_eq!(more_repeats(2.0, 1.0, 0.0), Some(6));
    // what repeats do not shrink asks for more of them, and at 2.8 times itself (both quantiles together) for ever
    assert!(more_repeats(2.0, 1.0, 0.5) > Some(6));
    assert_eq!(more_repeats(2.0, 1.0, 0.72), None);
}

/// JCGM 101:2008, 9.2.3: sum of four rectangular quantities, printed ±3.88 (exact 3.87940674134783).
#[test]
fn monte_carlo_rectangular() {
    let mut random = Random::new(7);
    let half = libm::sqrt(3.0);
    let mut draws: Vec<f64> =
        (0..200_000).map(|_| (0..4).map(|_| (2.0 * random.uniform() - 1.0) * half).sum::<f64>()).collect();
    let c = probabilistically_symmetric(&mut draws, 0.95).unwrap();
    assert_relative_eq!(c.high, 3.87940674134783, epsilon = 0.03);
    assert_relative_eq!(c.low, -3.87940674134783, epsilon = 0.03);
    let s = shortest(&mut draws, 0.95).unwrap();
    assert!(s.high - s.low <= c.high - c.low);
}

/// The samplers have the moments of their distributions.
#[test]
fn samplers() {
    let mut random = Random::new(3);
    let n = 200_000;
    let z: Vec<f64> = (0..n).map(|_| random.normal()).collect();
    let (m, s) = mean_and_deviation(&z);
    assert!(m.abs() < 0.01 && (s - 1.0).abs() < 0.01, "{m} {s}");
    let mut t: Vec<f64> = (0..n).map(|_| random.student(6.0)).collect();
    let c = probabilistically_symmetric(&mut t, 0.95).unwrap();
    assert_relative_eq!(c.high, coverage_factor(6.0), epsilon = 0.05);
}
