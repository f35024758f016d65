//! The smoother against a dense computation, and the textbook's slope against a signal-processing library.
#![allow(clippy::panic)]

use approx::assert_relative_eq;
use fairpull_smoothing::Penalised;
use fairpull_tests::{fixture, number, textbook::savitzky_golay_slope};

fn list(table: &toml::Table, key: &str) -> Vec<f64> {
    let array = table.get(key).and_then(|v| v.as_array()).unwrap_or_else(|| panic!("no array {key}"));
    array.iter().map(|v| v.as_float().unwrap_or_else(|| panic!("{key}: {v} is no number"))).collect()
}

/// Quartic P-spline with third differences and REML by numpy and scipy (versions in the fixture).
#[test]
fn penalised_spline_agrees_with_dense_algebra() {
    let f = fixture("smoothing/penalised");
    let width = number(&f, "knot_width");
    let fit = Penalised::fit(&list(&f, "t"), &list(&f, "y"), width * (1.0 + 1e-9)).unwrap();
    assert_relative_eq!(fit.correlation(), 0.0);
    // either search for the penalty ends at about 1e-6 of its logarithm
    assert_relative_eq!(libm::log(fit.penalty()), number(&f, "log_penalty"), epsilon = 1e-5);
    assert_relative_eq!(fit.noise(), number(&f, "noise"), max_relative = 1e-6);
    assert_relative_eq!(fit.effective_parameters(), number(&f, "effective_parameters"), max_relative = 3e-6);
    let (value, slope) = (list(&f, "value"), list(&f, "slope"));
    let (deviation, noise) = (list(&f, "slope_deviation"), list(&f, "slope_noise"));
    for (i, at) in list(&f, "at").into_iter().enumerate() {
        assert_relative_eq!(fit.value(at), value[i], epsilon = 1e-7);
        assert_relative_eq!(fit.slope(at), slope[i], epsilon = 2e-6);
        assert_relative_eq!(fit.slope_deviation(at), deviation[i], max_relative = 5e-6);
        assert_relative_eq!(fit.slope_noise(at), noise[i], max_relative = 5e-6);
    }
}

/// The same with correlated noise, a gap and starts that bend: which correlation, which ease, and all widths.
#[test]
fn correlation_and_ease_agree_with_dense_algebra() {
    let f = fixture("smoothing/correlated");
    let cases = f.get("case").and_then(|v| v.as_array()).unwrap_or_else(|| panic!("no cases"));
    assert_eq!(cases.len(), 4);
    for case in cases.iter().filter_map(toml::Value::as_table) {
        let (t, y) = (list(case, "t"), list(case, "y"));
        let fit = Penalised::fit(&t, &y, number(case, "finest")).unwrap();
        assert_eq!(fit.samples(), t.len());
        assert_eq!(fit.correlation(), number(case, "correlation"));
        assert_eq!(fit.ease(), number(case, "ease"));
        assert_relative_eq!(libm::log(fit.penalty()), number(case, "log_penalty"), epsilon = 1e-5);
        assert_relative_eq!(fit.noise(), number(case, "noise"), max_relative = 1e-6);
        let effective = number(case, "effective_parameters");
        assert_relative_eq!(fit.effective_parameters(), effective, max_relative = 3e-6);
        let expected = |key: &str| list(case, key);
        let (value, slope) = (expected("value"), expected("slope"));
        let (of_value, of_slope) = (expected("value_deviation"), expected("slope_deviation"));
        let noise = expected("slope_noise");
        for (i, at) in list(case, "at").into_iter().enumerate() {
            assert_relative_eq!(fit.value(at), value[i], epsilon = 1e-7);
            assert_relative_eq!(fit.slope(at), slope[i], epsilon = 2e-6);
            assert_relative_eq!(fit.value_deviation(at), of_value[i], max_relative = 5e-6);
            assert_relative_eq!(fit.slope_deviation(at), of_slope[i], max_relative = 5e-6);
            assert_relative_eq!(fit.slope_noise(at), noise[i], max_relative = 5e-6);
            assert_eq!(fit.slope_deviations(at), (fit.slope_noise(at), fit.slope_deviation(at)));
        }
    }
}

/// scipy's `savgol_filter` inside the window (its ends are another matter).
#[test]
fn textbook_slope_agrees_with_scipy() {
    let f = fixture("smoothing/savitzky_golay");
    let (y, slope) = (list(&f, "y"), list(&f, "slope"));
    let t: Vec<f64> = (0..10).map(|i| 0.1 * f64::from(i)).collect();
    let got = savitzky_golay_slope(&t, &y, 2);
    for i in 2..8 {
        assert_relative_eq!(got[i], slope[i], max_relative = 1e-12);
    }
}
