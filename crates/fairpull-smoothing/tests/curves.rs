//! Checks of the fit against curves whose slope is known, and against a dense computation.
use fairpull_smoothing::{Penalised, SmoothingError};

/// A small generator for test noise (splitmix64, sum of twelve uniforms).
struct Noise(u64);
impl Noise {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / 9_007_199_254_740_992.0
    }
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

fn speed(t: f64) -> f64 {
    15.0 + 4.0 * t + 1.5 * libm::sin(0.6 * t)
}
fn slope(t: f64) -> f64 {
    4.0 + 0.9 * libm::cos(0.6 * t)
}

#[test]
fn intervals_of_the_slope_cover_the_truth() {
    let (mut inside, mut total, mut square) = (0, 0, 0.0);
    for seed in 0..60 {
        let mut noise = Noise(seed);
        let t: Vec<f64> = (0..400).map(|i| 0.02 * f64::from(i)).collect();
        let y: Vec<f64> = t.iter().map(|t| speed(*t) + 0.02 * noise.normal()).collect();
        let fit = Penalised::fit(&t, &y, 0.1).unwrap();
        assert!((fit.noise() - 0.02).abs() < 0.003, "noise {}", fit.noise());
        for i in 10..390 {
            let at = 0.02 * f64::from(i);
            let error = fit.slope(at) - slope(at);
            square += error * error;
            inside += i32::from(error.abs() < 1.96 * fit.slope_deviation(at));
            total += 1;
        }
    }
    let coverage = f64::from(inside) / f64::from(total);
    // the curve is smoother than the penalty expects, so intervals err on the wide side
    assert!((0.93..0.995).contains(&coverage), "coverage {coverage}");
    let rms = libm::sqrt(square / f64::from(total));
    assert!(rms < 0.015, "slope error {rms}");
}

#[test]
fn correlated_noise_is_noticed() {
    let mut wide = 0;
    let (mut inside, mut total) = (0, 0);
    for seed in 0..40 {
        let mut noise = Noise(1000 + seed);
        let t: Vec<f64> = (0..400).map(|i| 0.02 * f64::from(i)).collect();
        let mut e = 0.0;
        let y: Vec<f64> = t
            .iter()
            .map(|t| {
                e = 0.7 * e + 0.714 * 0.02 * noise.normal();
                speed(*t) + e
            })
            .collect();
        let fit = Penalised::fit(&t, &y, 0.1).unwrap();
        wide += i32::from(fit.correlation() >= 0.4);
        for i in 10..390 {
            let at = 0.02 * f64::from(i);
            inside += i32::from((fit.slope(at) - slope(at)).abs() < 1.96 * fit.slope_deviation(at));
            total += 1;
        }
    }
    assert!(wide >= 38, "{wide}");
    let coverage = f64::from(inside) / f64::from(total);
    assert!((0.92..0.998).contains(&coverage), "coverage {coverage}");
}

/// Noise without memory is taken for such: only where the likelihood rises by more than a parameter is a correlation seen
/// (Wilks: one time in thirteen, to one side).
#[test]
fn noise_without_memory() {
    let mut none = 0;
    for seed in 0..60 {
        let mut noise = Noise(9000 + seed);
        let t: Vec<f64> = (0..150).map(|i| 0.02 * f64::from(i)).collect();
        let y: Vec<f64> = t.iter().map(|t| speed(*t) + 0.02 * noise.normal()).collect();
        none += i32::from(Penalised::fit(&t, &y, 0.1).unwrap().correlation() == 0.0);
    }
    assert!(none >= 50, "{none} of 60");
}

#[test]
fn a_parabola_is_kept_exactly() {
    let t: Vec<f64> = (0..100).map(|i| 0.05 * f64::from(i)).collect();
    let y: Vec<f64> = t.iter().map(|t| 1.0 + 2.0 * t + 0.3 * t * t).collect();
    let fit = Penalised::fit(&t, &y, 0.1).unwrap();
    for at in [0.1, 2.0, 4.9] {
        assert!((fit.slope(at) - (2.0 + 0.6 * at)).abs() < 1e-5);
    }
}

#[test]
fn refusals() {
    assert_eq!(
        Penalised::fit(&[0.0; 3], &[0.0; 3], 0.1).unwrap_err(),
        SmoothingError::TooFew { got: 3, need: 12 }
    );
    let t = [0.0; 20];
    assert_eq!(Penalised::fit(&t, &t, 0.1).unwrap_err(), SmoothingError::Disorder { index: 1 });
    let rising = |n: usize| -> Vec<f64> { (0..n).map(|i| 0.1 * i as f64).collect() };
    let (eleven, twelve) = (rising(11), rising(12));
    assert_eq!(
        Penalised::fit(&twelve, &eleven, 0.1).unwrap_err(),
        SmoothingError::TooFew { got: 11, need: 12 }
    );
    assert!(Penalised::fit(&twelve, &twelve, 0.1).is_ok());
    for (k, bad) in [(0, f64::NAN), (7, f64::INFINITY), (11, f64::NAN)] {
        let mut y = twelve.clone();
        y[k] = bad;
        assert_eq!(Penalised::fit(&twelve, &y, 0.1).unwrap_err(), SmoothingError::Disorder { index: k });
        assert_eq!(Penalised::fit(&y, &twelve, 0.1).unwrap_err(), SmoothingError::Disorder { index: k });
    }
    let mut back = twelve.clone();
    back.swap(5, 6);
    assert_eq!(Penalised::fit(&back, &twelve, 0.1).unwrap_err(), SmoothingError::Disorder { index: 6 });
}

/// A slope that rises from 2 to 5 within the first half second: the penalty eases there, and only there is it needed.
#[test]
fn a_start_that_bends_is_eased() {
    let risen = |t: f64| 1.0 / (1.0 + libm::exp(-(t - 0.2) / 0.08));
    let bent = |t: f64| 10.0 + 2.0 * t + 3.0 * 0.08 * libm::log1p(libm::exp((t - 0.2) / 0.08));
    let (mut eased, mut even, mut square) = (0, 0, 0.0);
    for seed in 0..20 {
        let mut noise = Noise(5000 + seed);
        let t: Vec<f64> = (0..600).map(|i| 0.01 * f64::from(i)).collect();
        let y: Vec<f64> = t.iter().map(|t| bent(*t) + 0.01 * noise.normal()).collect();
        let fit = Penalised::fit(&t, &y, 0.1).unwrap();
        eased += i32::from(fit.ease() > 0.0);
        square += (2.0 + 3.0 * risen(0.3) - fit.slope(0.3)) * (2.0 + 3.0 * risen(0.3) - fit.slope(0.3));
        let plain: Vec<f64> = t.iter().map(|t| speed(*t) + 0.01 * noise.normal()).collect();
        even += i32::from(Penalised::fit(&t, &plain, 0.1).unwrap().ease() == 0.0);
    }
    assert!(eased >= 18, "{eased} of 20 eased");
    assert!(even >= 15, "{even} of 20 even");
    assert!(libm::sqrt(square / 20.0) < 0.25, "{}", libm::sqrt(square / 20.0));
}

/// Knots: no closer than asked, a third as many as samples, 60 intervals at most, four at least. A curve that bends as
/// often as it can uses as many parameters as there are, which is four more than intervals.
#[test]
fn knots_have_their_limits() {
    let parameters = |n: usize, step: f64, finest: f64, most: f64| {
        let t: Vec<f64> = (0..n).map(|i| step * i as f64).collect();
        let span = step * (n - 1) as f64;
        let y: Vec<f64> = t.iter().map(|t| 1e3 * libm::sin(0.6 * most * t / span)).collect();
        Penalised::fit(&t, &y, finest).unwrap().effective_parameters()
    };
    for (n, finest, most) in
        [(2000, 1e-3, 64.0), (2000, 1.0, 24.0), (60, 1e-3, 24.0), (12, 1e-3, 8.0), (300, 50.0, 8.0)]
    {
        let step = 20.0 / (n - 1) as f64;
        let got = parameters(n, step, finest * (1.0 + 1e-9), most);
        assert!(got < most + 1e-6 && got > 0.6 * most, "{n} {finest}: {got}");
    }
}

/// A straight line scaled and moved: value, slope and widths follow.
#[test]
fn scale_and_place_do_not_matter() {
    let mut noise = Noise(77);
    let t: Vec<f64> = (0..200).map(|i| 0.02 * f64::from(i)).collect();
    let y: Vec<f64> = t.iter().map(|t| speed(*t) + 0.02 * noise.normal()).collect();
    let fit = Penalised::fit(&t, &y, 0.1).unwrap();
    let moved: Vec<f64> = t.iter().map(|t| 100.0 + 3.0 * t).collect();
    let scaled: Vec<f64> = y.iter().map(|y| 7.0 - 5.0 * y).collect();
    let other = Penalised::fit(&moved, &scaled, 0.3).unwrap();
    let near = |a: f64, b: f64| assert!((a - b).abs() < 2e-4 * a.abs() + 1e-6, "{a} {b}");
    for at in [0.0, 0.7, 2.5, 3.98] {
        let there = 100.0 + 3.0 * at;
        near(other.value(there), 7.0 - 5.0 * fit.value(at));
        near(other.slope(there), -5.0 / 3.0 * fit.slope(at));
        near(other.value_deviation(there), 5.0 * fit.value_deviation(at));
        near(other.slope_deviation(there), 5.0 / 3.0 * fit.slope_deviation(at));
    }
    near(other.noise(), 5.0 * fit.noise());
    near(other.effective_parameters(), fit.effective_parameters());
}
