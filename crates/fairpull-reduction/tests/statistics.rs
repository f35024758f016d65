//! From the curves of the pulls to states and a comparison, by a second implementation of the statistics: levels, heat of
//! the pulls before, scatter, intervals, verdict. The inputs are declared all but exact, so that nothing else is in it.
#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used)]

mod made;

use fairpull_reduction::{Outcome, Verdict};
use fairpull_uncertainty::{coverage_factor, effective_dof, more_repeats, smallest_detectable, t_quantile};
use made::{Kind, Log};

/// Levels of the pulls of two states: what each pull accelerates more than another.
fn reduced(first: &[f64], second: &[f64]) -> Outcome {
    let mut job = made::job(Kind::Inertia, &[first.len(), second.len()], "");
    for (old, new) in [
        ("tyre_radius_u = \"0.5%\"", "tyre_radius_u = \"0.0001%\""),
        ("engine_inertia_u = \"3%\"", "engine_inertia_u = \"0.0001%\""),
        ("load_share_u = \"0.3%\"", "load_share_u = \"0.00001%\""),
        ("roller_radius_u = \"0.2%\"", "roller_radius_u = \"0.0001%\""),
        ("roller_inertia_u = \"0.4%\"", "roller_inertia_u = \"0.0001%\""),
        ("pressure_u = \"0.5hPa\"", "pressure_u = \"0.0001hPa\""),
        ("temperature_u = \"0.5K\"", "temperature_u = \"0.0001K\""),
        ("humidity_u = \"2%\"", "humidity_u = \"0.0001%\""),
    ] {
        assert!(job.contains(old), "{old}");
        job = job.replace(old, new);
    }
    made::reduced(&job, &|name| {
        let (state, pull) = (name.as_bytes()[0] - b'0', name.as_bytes()[2] - b'0');
        let mut log = Log::new(Kind::Inertia);
        log.acceleration *= [first, second][usize::from(state)][usize::from(pull)];
        log.text()
    })
    .unwrap_or_else(|e| panic!("{e}"))
}

/// Solves a small system by Gauss-Jordan elimination and gives the inverse too.
fn solve(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> (Vec<f64>, Vec<Vec<f64>>) {
    let n = b.len();
    let mut inverse: Vec<Vec<f64>> =
        (0..n).map(|i| (0..n).map(|j| f64::from(u8::from(i == j))).collect()).collect();
    for k in 0..n {
        let by = a[k][k];
        for j in 0..n {
            a[k][j] /= by;
            inverse[k][j] /= by;
        }
        b[k] /= by;
        for i in (0..n).filter(|i| *i != k) {
            let f = a[i][k];
            for j in 0..n {
                a[i][j] -= f * a[k][j];
                inverse[i][j] -= f * inverse[k][j];
            }
            b[i] -= f * b[k];
        }
    }
    (b, inverse)
}

/// What the levels say.
struct Second {
    levels: Vec<Vec<f64>>,
    mean: [f64; 2],
    difference: f64,
    error: f64,
    deviation: f64,
    dof: f64,
    slope: f64,
    heat: Vec<Vec<f64>>,
}

/// Levels of pulls 20 minutes apart, the second state a day later; a slope of −0.7 ± 1 % for the warmest pull of the job
/// is given beforehand, heat decays in 20 minutes.
fn second(out: &Outcome) -> Second {
    let band: Vec<usize> =
        (0..out.grid.len()).filter(|i| out.grid[*i] >= out.band.0 && out.grid[*i] <= out.band.1).collect();
    let levels: Vec<Vec<f64>> = out
        .states
        .iter()
        .map(|s| {
            let one = |p: &fairpull_reduction::PullOutcome| {
                band.iter().map(|i| libm::log(p.curve[*i])).sum::<f64>() / band.len() as f64
            };
            s.pulls.iter().map(one).collect()
        })
        .collect();
    let mut heat: Vec<Vec<f64>> = levels
        .iter()
        .enumerate()
        .map(|(s, l)| {
            let all = |k: usize| {
                let now = 1440.0 * s as f64 + 20.0 * k as f64;
                let others = (0..2)
                    .flat_map(|t| (0..levels[t].len()).map(move |j| 1440.0 * t as f64 + 20.0 * j as f64));
                others.filter(|then| *then < now).map(|then| libm::exp((then - now) / 20.0)).sum::<f64>()
            };
            (0..l.len()).map(all).collect()
        })
        .collect();
    let most = heat.iter().flatten().copied().fold(0.0, f64::max);
    heat.iter_mut().flatten().for_each(|h| *h /= most);
    let n: usize = levels.iter().map(Vec::len).sum();
    let mut variance = 0.007 * 0.007;
    let (mut x, mut inverse, mut dof) = (Vec::new(), Vec::new(), 0.0);
    for _ in 0..8 {
        let mut a = vec![vec![0.0; 3]; 3];
        let mut b = vec![0.0; 3];
        for s in 0..2 {
            for (l, h) in levels[s].iter().zip(&heat[s]) {
                let row = [f64::from(u8::from(s == 0)), f64::from(u8::from(s == 1)), *h];
                for i in 0..3 {
                    for j in 0..3 {
                        a[i][j] += row[i] * row[j];
                    }
                    b[i] += row[i] * l;
                }
            }
        }
        let weight = variance / (0.01 * 0.01);
        a[2][2] += weight;
        b[2] -= weight * 0.007;
        (x, inverse) = solve(a, b);
        let free = 1.0 - inverse[2][2] * weight;
        dof = n as f64 - 2.0 - free.clamp(0.0, 1.0);
        let rss: f64 = (0..2)
            .flat_map(|s| levels[s].iter().zip(&heat[s]).map(move |(l, h)| (s, l, h)))
            .map(|(s, l, h)| (l - x[s] - x[2] * h) * (l - x[s] - x[2] * h))
            .sum();
        variance = rss / dof;
    }
    let c = |i: usize, j: usize| inverse[i][j] * variance;
    let mean = |s: usize| levels[s].iter().sum::<f64>() / levels[s].len() as f64;
    Second {
        mean: [mean(0), mean(1)],
        difference: x[1] - x[0],
        error: libm::sqrt(c(0, 0) + c(1, 1) - 2.0 * c(0, 1)),
        deviation: libm::sqrt(variance),
        dof,
        slope: x[2],
        heat,
        levels,
    }
}

fn near(got: f64, expected: f64, by: f64) {
    assert!((got - expected).abs() <= by * expected.abs() + 1e-12, "{got} {expected}");
}

const FIRST: [f64; 4] = [1.003, 0.997, 1.001, 0.9985];

#[test]
fn states_and_their_comparison() {
    for (by, verdict) in [
        (1.03, Verdict::Gain),
        (0.9857, Verdict::NoDetectableChange),
        (0.9843, Verdict::NoDetectableChange),
        (0.95, Verdict::Loss),
    ] {
        let other: Vec<f64> = [0.998, 1.0035, 1.0005].iter().map(|x| x * by).collect();
        let out = reduced(&FIRST, &other);
        let by_hand = second(&out);
        for (s, state) in out.states.iter().enumerate() {
            near(state.repeatability.0, by_hand.deviation, 1e-6);
            near(state.repeatability.1, by_hand.dof, 1e-6);
            assert!(!state.repeatability_assumed);
            for (pull, level) in state.pulls.iter().zip(&by_hand.levels[s]) {
                assert!((pull.level - (level - by_hand.mean[s])).abs() < 1e-12);
            }
            let soak = state.soak.unwrap();
            let own = &by_hand.levels[s];
            let n = own.len() as f64;
            let middle = (n - 1.0) / 2.0;
            let sxx: f64 = (0..own.len()).map(|i| (i as f64 - middle) * (i as f64 - middle)).sum();
            let slope = own.iter().enumerate().map(|(i, l)| (i as f64 - middle) * l).sum::<f64>() / sxx;
            let mean = by_hand.mean[s];
            let rss: f64 = own
                .iter()
                .enumerate()
                .map(|(i, l)| l - mean - slope * (i as f64 - middle))
                .map(|e| e * e)
                .sum();
            near(soak.per_pull.value, slope, 1e-6);
            let half = coverage_factor(n - 2.0) * libm::sqrt(rss / (n - 2.0) / sxx);
            near(soak.per_pull.high - soak.per_pull.value, half, 1e-6);
            let heat = &by_hand.heat[s];
            near(soak.heat, heat[heat.len() - 1], 1e-9);
            near(soak.first_to_last, by_hand.slope * (heat[heat.len() - 1] - heat[0]), 1e-6);
            assert!(!soak.in_kelvin);
        }
        let c = &out.comparisons[0];
        assert_eq!((c.from, c.to, c.verdict), (0, 1, verdict));
        // what the rig shares is next to nothing and infinitely well known
        let half = coverage_factor(effective_dof(&[(by_hand.error, by_hand.dof)])) * by_hand.error;
        near(c.mean.value, libm::expm1(by_hand.difference), 1e-5);
        near(c.mean.low, libm::expm1(by_hand.difference - half), 1e-3);
        near(c.mean.high, libm::expm1(by_hand.difference + half), 1e-3);
        near(c.smallest_detectable, smallest_detectable(by_hand.error, by_hand.dof), 1e-3);
        let within = libm::expm1(by_hand.difference.abs() + t_quantile(0.95, by_hand.dof) * by_hand.error);
        near(c.within, within, 1e-3);
        let soaked = by_hand.mean[1] - by_hand.mean[0] - by_hand.difference;
        assert!((c.soak_removed - soaked).abs() < 1e-9);
        let said = format!("heat soak differs between the states by {:+.2} % in power", 100.0 * soaked);
        assert_eq!(c.remarks.iter().any(|r| r.contains(&said)), soaked.abs() > 5e-4, "{:?}", c.remarks);
        assert!(c.remarks.iter().any(|r| r.contains("driven one after the other")), "{:?}", c.remarks);
        // 3 K and 7 hPa apart are near enough
        assert!(!c.remarks.iter().any(|r| r.contains("the air differs")), "{:?}", c.remarks);
        // means of kilowatts over the band
        let over = |s: usize| {
            let inside: Vec<f64> = out.states[s]
                .curve
                .iter()
                .filter(|p| p.rpm >= out.band.0 && p.rpm <= out.band.1)
                .map(|p| p.power.value)
                .collect();
            inside.iter().sum::<f64>() / inside.len() as f64
        };
        let watts = over(1) * libm::exp(-soaked);
        near(c.mean_watts.value, watts - over(0), 1e-6);
        near(c.mean_watts.high - c.mean_watts.value, half * watts, 1e-3);
        let peaks = [out.states[0].peak_power.value.value, out.states[1].peak_power.value.value];
        near(c.peak.value, peaks[1] / peaks[0] * libm::exp(-soaked) - 1.0, 1e-6);
        near(c.peak_watts.value, c.peak.value * peaks[0], 1e-9);
        near(c.peak_watts.low, c.peak.low * peaks[0], 1e-9);
        near(c.peak_watts.high, c.peak.high * peaks[0], 1e-9);
        // the same gain at each speed but for what the shapes differ
        for (rpm, point, band) in &c.curve {
            let at = |s: usize| out.states[s].curve.iter().find(|p| p.rpm == *rpm).unwrap().power.value;
            near(point.value, at(1) / at(0) * libm::exp(-soaked) - 1.0, 1e-6);
            assert!(band.low <= point.low && band.high >= point.high && band.value == point.value);
            let spread = 0.5 * (libm::log1p(point.high) - libm::log1p(point.low));
            assert!(spread > 0.9 * half && spread < 1.6 * half, "{rpm}: {spread} {half}");
        }
        let expected = if verdict == Verdict::NoDetectableChange {
            let scatter2 = by_hand.deviation * by_hand.deviation * (1.0 / 4.0 + 1.0 / 3.0);
            let stays = libm::sqrt((by_hand.error * by_hand.error - scatter2).max(0.0));
            more_repeats(by_hand.difference, by_hand.deviation, stays)
                .and_then(|n| n.checked_sub(3))
                .filter(|n| *n > 0)
        } else {
            None
        };
        assert_eq!(c.more_pulls, expected);
        assert!(c.if_compensated.is_none());
    }
}

/// The curve of a state: level of its pulls with the mean of their shapes.
#[test]
fn a_state_is_the_mean_of_its_pulls() {
    let out = reduced(&FIRST, &[1.02, 1.0]);
    let by_hand = second(&out);
    for (s, state) in out.states.iter().enumerate() {
        for p in &state.curve {
            let logs: Vec<f64> = state
                .pulls
                .iter()
                .zip(&by_hand.levels[s])
                .map(|(q, level)| libm::log(q.curve[p.index]) - level)
                .filter(|x| x.is_finite())
                .collect();
            assert_eq!(logs.len(), p.pulls);
            assert!(4 * p.pulls >= 3 * state.pulls.len());
            let shape = logs.iter().sum::<f64>() / logs.len() as f64;
            near(p.power.value, libm::exp(by_hand.mean[s] + shape), 1e-9);
        }
        // every point that enough pulls reach, and no other
        let reached = |i: &usize| {
            let n = state.pulls.iter().filter(|q| q.curve[*i].is_finite()).count();
            4 * n >= 3 * state.pulls.len()
        };
        let expected: Vec<usize> = (0..out.grid.len()).filter(reached).collect();
        assert_eq!(state.curve.iter().map(|p| p.index).collect::<Vec<_>>(), expected);
    }
    // two pulls have no trend
    assert!(out.states[1].soak.is_none() && out.states[0].soak.is_some());
}

/// Without a repeat the scatter is assumed: 1 % on 5 degrees of freedom, and said.
#[test]
fn one_pull_a_state() {
    let out = reduced(&[1.0], &[1.04]);
    let c = &out.comparisons[0];
    for state in &out.states {
        assert_eq!(state.repeatability, (0.01, 5.0));
        assert!(state.repeatability_assumed && state.soak.is_none());
    }
    assert!(out.notices.iter().any(|n| n.contains("no state has a repeat")));
    let half = coverage_factor(5.0) * 0.01 * libm::sqrt(2.0);
    let d = libm::log1p(c.mean.value);
    near(libm::log1p(c.mean.high) - d, half, 1e-3);
    near(c.smallest_detectable, smallest_detectable(0.01 * libm::sqrt(2.0), 5.0), 1e-3);
    assert_eq!(c.soak_removed, 0.0);
    let level = |s: usize| out.states[s].curve.iter().map(|p| libm::log(p.power.value)).sum::<f64>();
    assert!(d > 0.03 && level(1) > level(0), "{d}");
}

/// The peak on another text of the same formula is the same peak, with the mean factor of the pulls.
#[test]
fn the_peak_on_another_standard() {
    let job = made::job(Kind::Inertia, &[2], "")
        .replace("standard = \"iso-1585\"\n", "standard = \"iso-1585\"\nalso = [\"iso-1585-2020\"]\n");
    let out = made::reduced(&job, &|_| Log::new(Kind::Inertia).text()).unwrap_or_else(|e| panic!("{e}"));
    let state = &out.states[0];
    let (factor, figure) = state.restated[0].figure.clone().unwrap();
    near(factor, state.pulls[0].factor, 1e-12);
    near(figure.value, state.peak_power.value.value, 1e-12);
    near(figure.low, state.peak_power.value.low, 1e-12);
    near(figure.high, state.peak_power.value.high, 1e-12);
    assert!(!state.restated[0].outside && state.restated[0].standard == "iso-1585-2020");
}

/// More than 5 K or 10 hPa between the states is said, with its sign.
#[test]
fn air_that_differs_is_said() {
    let job = made::job(Kind::Inertia, &[1, 1], "");
    let text = |_: &str| Log::new(Kind::Inertia).text();
    for (pressure, celsius, said) in [
        ("978hPa", "27C", None),
        ("975.1hPa", "28.98C", None),
        ("974.9hPa", "27C", Some("+3.0 K and -10.1 hPa")),
        ("978hPa", "29.02C", Some("+5.0 K and -7.0 hPa")),
        ("995.1hPa", "18.9C", Some("-5.1 K and +10.1 hPa")),
    ] {
        let moved = job
            .replace("pressure = \"978hPa\"", &format!("pressure = \"{pressure}\""))
            .replace("temperature = \"27C\"", &format!("temperature = \"{celsius}\""));
        let out = made::reduced(&moved, &text).unwrap_or_else(|e| panic!("{e}"));
        let remark = out.comparisons[0].remarks.iter().find(|r| r.starts_with("the air differs"));
        assert_eq!(remark.is_some(), said.is_some(), "{pressure} {celsius}: {remark:?}");
        assert!(remark.is_none_or(|r| r.contains(said.unwrap())), "{remark:?}");
    }
}
