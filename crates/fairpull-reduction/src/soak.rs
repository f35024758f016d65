//! Heat soak: what part of the differences between pulls follows the heat left by the pulls before.

use fairpull_uncertainty::{LeastSquares, least_squares};

/// One pull as the level model sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Level {
    pub state: usize,
    /// Start, min on a common clock.
    pub minute: f64,
    /// Charge temperature above the ambient, K, if recorded.
    pub charge_rise: Option<f64>,
    /// Natural logarithm of the mean corrected power over the band.
    pub level: f64,
}

/// Levels of states with the heat of the pulls taken out.
#[derive(Clone, Debug)]
pub(crate) struct Soaked {
    /// Heat of each pull: K of charge temperature, or a share of the largest (of 0.05 at least) where that was not recorded.
    pub heat: Vec<f64>,
    pub in_kelvin: bool,
    /// Change of the level per unit of heat.
    pub slope: f64,
    /// Level of each state at no heat, and at the mean heat of its pulls.
    pub cold: Vec<f64>,
    pub mean: Vec<f64>,
    /// Residual standard deviation of a pull and its degrees of freedom.
    pub deviation: f64,
    pub dof: f64,
    pub residual: Vec<f64>,
    covariance: Vec<Vec<f64>>,
}

/// Prior of the loss of power per kelvin of charge temperature: −0.15 ± 0.15 %/K. The square root of temperature
/// gives −0.15 %/K at 330 K, full density −0.3 %/K, a control that holds the charge 0 (own judgement).
const PER_KELVIN: (f64, f64) = (-0.0015, 0.0015);
/// Without charge temperature: from no heat to the largest of the job, −0.7 ± 1 % (own judgement).
const PER_SHARE: (f64, f64) = (-0.007, 0.010);
/// What one pull leaves an hour later. Where no pull was warmer than that, all are measured by it: pulls hours apart are cold.
const COOLED: f64 = 0.05;

/// Heat left at each pull by all pulls before it: Σ exp(−Δt/τ), carried on from pull to pull in the order of time.
fn memory(minutes: &[f64], tau: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..minutes.len()).collect();
    order.sort_by(|a, b| minutes[*a].total_cmp(&minutes[*b]));
    let mut out = vec![0.0; minutes.len()];
    // what is left of all before the moment, and how many pulls began at it
    let (mut left, mut now, mut moment) = (0.0, 0.0, f64::NEG_INFINITY);
    for k in order {
        if minutes[k] > moment {
            left = (left + now) * libm::exp((moment - minutes[k]) / tau);
            (now, moment) = (0.0, minutes[k]);
        }
        out[k] = left;
        now += 1.0;
    }
    out
}

/// Heat of each pull. With charge temperature the decay time and the rise come from it, a constant of each state
/// (another cooler) taken out; without, a decay of 20 min is assumed.
fn heat(pulls: &[Level], states: usize) -> (Vec<f64>, bool) {
    let minutes: Vec<f64> = pulls.iter().map(|p| p.minute).collect();
    let rises: Option<Vec<f64>> = pulls.iter().map(|p| p.charge_rise.filter(|r| r.is_finite())).collect();
    if let Some(rises) = rises
        && pulls.len() > states + 1
    {
        let mut best: Option<(f64, Vec<f64>)> = None;
        for tau in [4.0, 7.0, 11.0, 16.0, 24.0, 36.0, 60.0, 100.0, 170.0] {
            let h = memory(&minutes, tau);
            let rows: Vec<Vec<f64>> = pulls
                .iter()
                .zip(&h)
                .map(|(p, h)| {
                    let mut r: Vec<f64> = (0..states).map(|s| f64::from(s == p.state)).collect();
                    r.push(*h);
                    r
                })
                .collect();
            let Ok(ls) = least_squares(&rows, &rises, &vec![1.0; rises.len()]) else { continue };
            let rise = ls.coefficients[states].max(0.0);
            let rss = ls.variance * ls.dof;
            if best.as_ref().is_none_or(|(b, _)| rss < *b) {
                best = Some((rss, h.iter().map(|h| rise * h).collect()));
            }
        }
        if let Some((_, heat)) = best {
            return (heat, true);
        }
    }
    let h = memory(&minutes, 20.0);
    let most = h.iter().copied().fold(COOLED, f64::max);
    (h.iter().map(|x| x / most).collect(), false)
}

/// level = state + slope·heat, with a prior on the slope. `None` without a repeat in any state.
pub(crate) fn solve(pulls: &[Level], states: usize) -> Option<Soaked> {
    let (heat, in_kelvin) = heat(pulls, states);
    let (at, sd) = if in_kelvin { PER_KELVIN } else { PER_SHARE };
    let warm = heat.iter().any(|h| *h > 0.0);
    let mut variance = 0.007 * 0.007;
    let mut out: Option<(LeastSquares, f64, Vec<f64>)> = None;
    for _ in 0..8 {
        let mut rows: Vec<Vec<f64>> = Vec::new();
        let mut y: Vec<f64> = Vec::new();
        let mut weights = Vec::new();
        for (p, h) in pulls.iter().zip(&heat) {
            let mut r: Vec<f64> = (0..states).map(|s| f64::from(s == p.state)).collect();
            r.push(*h);
            rows.push(r);
            y.push(p.level);
            weights.push(1.0);
        }
        let mut prior = vec![0.0; states];
        prior.push(1.0);
        rows.push(prior);
        y.push(at);
        weights.push(variance / (sd * sd));
        let ls = least_squares(&rows, &y, &weights).ok()?;
        let residual: Vec<f64> = rows
            .iter()
            .zip(&y)
            .take(pulls.len())
            .map(|(r, y)| y - r.iter().zip(&ls.coefficients).map(|(a, b)| a * b).sum::<f64>())
            .collect();
        // the slope takes a degree of freedom only as far as the data and not the prior decide it
        let taken = if warm { 1.0 - ls.unscaled[states][states] * variance / (sd * sd) } else { 0.0 };
        let dof = pulls.len() as f64 - states as f64 - taken.clamp(0.0, 1.0);
        if dof < 0.5 {
            return None;
        }
        variance = (residual.iter().map(|e| e * e).sum::<f64>() / dof).max(1e-12);
        out = Some((ls, dof, residual));
    }
    let (ls, dof, residual) = out?;
    let cold: Vec<f64> = ls.coefficients[..states].to_vec();
    let slope = ls.coefficients[states];
    let mean = (0..states)
        .map(|s| {
            let own: Vec<f64> = pulls.iter().filter(|p| p.state == s).map(|p| p.level).collect();
            own.iter().sum::<f64>() / own.len() as f64
        })
        .collect();
    let covariance =
        ls.unscaled.iter().map(|r| r.iter().map(|x| x * variance).collect()).collect::<Vec<Vec<f64>>>();
    Some(Soaked {
        heat,
        in_kelvin,
        slope,
        cold,
        mean,
        deviation: libm::sqrt(variance),
        dof,
        residual,
        covariance,
    })
}

impl Soaked {
    /// Level of state `b` less that of state `a` at equal heat, with standard error.
    pub(crate) fn difference(&self, a: usize, b: usize) -> (f64, f64) {
        let c = &self.covariance;
        let variance = c[a][a] + c[b][b] - 2.0 * c[a][b];
        (self.cold[b] - self.cold[a], libm::sqrt(variance.max(0.0)))
    }
}

/// Levels as they stand, with an assumed scatter, where nothing was repeated.
pub(crate) fn assumed(pulls: &[Level], states: usize, deviation: f64, dof: f64) -> Soaked {
    let mean: Vec<f64> = (0..states)
        .map(|s| {
            let own: Vec<f64> = pulls.iter().filter(|p| p.state == s).map(|p| p.level).collect();
            own.iter().sum::<f64>() / own.len().max(1) as f64
        })
        .collect();
    let mut covariance = vec![vec![0.0; states + 1]; states + 1];
    for (s, row) in covariance.iter_mut().enumerate().take(states) {
        let own = pulls.iter().filter(|p| p.state == s).count().max(1) as f64;
        row[s] = deviation * deviation / own;
    }
    Soaked {
        heat: vec![0.0; pulls.len()],
        in_kelvin: false,
        slope: 0.0,
        cold: mean.clone(),
        mean,
        deviation,
        dof,
        residual: vec![0.0; pulls.len()],
        covariance,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64, by: f64) {
        assert!((got - expected).abs() <= by, "{got} {expected}");
    }

    fn pull(state: usize, minute: f64, charge_rise: Option<f64>, level: f64) -> Level {
        Level { state, minute, charge_rise, level }
    }

    /// Each pull before leaves its heat, which decays to 1/e in the time given; a pull at the same time leaves none.
    #[test]
    fn heat_of_the_pulls_before() {
        let e = libm::exp(-1.0);
        let h = memory(&[0.0, 20.0, 20.0, 60.0], 20.0);
        for (got, expected) in h.iter().zip([0.0, e, e, e * e * e + 2.0 * e * e]) {
            near(*got, expected, 1e-15);
        }
        // without charge temperature: 20 minutes, as a share of the largest
        let pulls: Vec<Level> = [0.0, 20.0, 20.0, 60.0].map(|m| pull(0, m, None, 0.0)).to_vec();
        let (share, in_kelvin) = heat(&pulls, 1);
        assert!(!in_kelvin);
        let most = h[1].max(h[3]);
        share.iter().zip(&h).for_each(|(s, h)| near(*s, h / most, 1e-15));
        assert_eq!(heat(&[pull(0, 5.0, None, 0.0)], 1).0, [0.0]);
    }

    /// Pulls hours or days apart are cold, and so plain groups: what the first left is not blown up to all there is.
    #[test]
    fn pulls_hours_apart_are_cold() {
        let left = |apart: f64| heat(&[pull(0, 0.0, None, 0.0), pull(0, apart, None, 0.0)], 1).0[1];
        assert_eq!(left(59.0), 1.0);
        near(left(60.0), libm::exp(-3.0) / 0.05, 1e-15);
        near(left(120.0), libm::exp(-6.0) / 0.05, 1e-15);
        assert!(left(1440.0) < 1e-25);
        let levels = [1.0, 1.02, 1.01, 1.03, 0.99];
        let pulls: Vec<Level> =
            levels.iter().enumerate().map(|(k, l)| pull(0, 1440.0 * k as f64, None, *l)).collect();
        let s = solve(&pulls, 1).unwrap();
        near(s.slope, PER_SHARE.0, 1e-12);
        near(s.dof, 4.0, 1e-12);
        near(s.deviation, libm::sqrt(1e-3 / 4.0), 1e-12);
        near(s.cold[0], 1.01, 1e-12);
    }

    /// Charge temperature that rises by what the pulls before left, over a constant of each state: decay and heat are
    /// found, and a loss of 0.2 %/K with them.
    #[test]
    fn charge_temperature_gives_decay_and_heat() {
        let minutes = [0.0, 6.0, 13.0, 19.0, 40.0, 46.0, 55.0, 61.0];
        let taus = [4.0, 7.0, 11.0, 16.0, 24.0, 36.0, 60.0, 100.0, 170.0];
        for (tau, kelvin) in taus.into_iter().zip([9.0, 9.0, 7.0, 5.0, 4.0, 4.0, 3.0, 2.5, 2.0]) {
            let h = memory(&minutes, tau);
            let pulls: Vec<Level> = minutes
                .iter()
                .zip(&h)
                .enumerate()
                .map(|(k, (m, h))| {
                    let state = k / 4;
                    let rise = 5.0 + 8.0 * state as f64 + kelvin * h;
                    pull(state, *m, Some(rise), 11.0 + 0.03 * state as f64 - 0.002 * kelvin * h)
                })
                .collect();
            let s = solve(&pulls, 2).unwrap();
            assert!(s.in_kelvin);
            s.heat.iter().zip(&h).for_each(|(got, h)| near(*got, kelvin * h, 1e-9));
            near(s.slope, -0.002, 1e-6);
            near(s.cold[1] - s.cold[0], 0.03, 1e-5);
            near(s.difference(0, 1).0, 0.03, 1e-5);
            near(s.cold[0], 11.0, 1e-5);
            // at the mean heat of its pulls
            let mean: f64 = pulls[..4].iter().map(|p| p.level).sum::<f64>() / 4.0;
            near(s.mean[0], mean, 1e-12);
            assert!(s.residual.iter().all(|e| e.abs() < 1e-5));
        }
        // a charge that cools is no heat; one reading missing and the pulls' times stand in
        let cooling: Vec<Level> = minutes.iter().map(|m| pull(0, *m, Some(30.0 - 0.1 * m), 1.0)).collect();
        assert_eq!(heat(&cooling, 1), (vec![0.0; 8], true));
        let mut one_missing = cooling.clone();
        one_missing[3].charge_rise = Some(f64::NAN);
        assert!(!heat(&one_missing, 1).1);
        assert!(!heat(&cooling[..2], 1).1 && heat(&cooling[..3], 1).1);
    }

    /// Pulls on different days leave each other no heat: pooled scatter, and the error of a difference of means.
    #[test]
    fn cold_pulls_are_plain_groups() {
        let levels = [[1.01, 0.99, 1.0], [1.045, 1.03, 1.06]];
        let far = |s: usize, k: usize| 1e6 * (3 * s + k) as f64;
        let pulls: Vec<Level> =
            (0..6).map(|i| pull(i / 3, far(i / 3, i % 3), None, levels[i / 3][i % 3])).collect();
        let s = solve(&pulls, 2).unwrap();
        assert_eq!(s.dof, 4.0);
        near(s.slope, PER_SHARE.0, 1e-15);
        let variance = (2.0 * 1e-4 + 4.5e-4) / 4.0;
        near(s.deviation, libm::sqrt(variance), 1e-12);
        let (difference, error) = s.difference(0, 1);
        near(difference, 0.045, 1e-12);
        near(error, libm::sqrt(variance * (2.0 / 3.0)), 1e-12);
        near(s.residual[0], 0.01, 1e-12);
        // nothing repeated
        assert!(solve(&[pulls[0], pulls[3]], 2).is_none());
        assert!(solve(&pulls[..1], 1).is_none());
        let alone = assumed(&[pulls[0], pulls[3]], 2, 0.01, 5.0);
        assert_eq!((alone.mean.clone(), alone.cold.clone()), (vec![1.01, 1.045], vec![1.01, 1.045]));
        assert_eq!((alone.deviation, alone.dof, alone.slope, alone.in_kelvin), (0.01, 5.0, 0.0, false));
        assert_eq!((alone.heat.clone(), alone.residual.clone()), (vec![0.0; 2], vec![0.0; 2]));
        let (difference, error) = alone.difference(0, 1);
        near(difference, 0.035, 1e-15);
        near(error, 0.01 * libm::sqrt(2.0), 1e-15);
        let unlike: Vec<Level> = [0, 1, 1, 2, 2, 2].map(|s| pull(s, far(s, s), None, 1.0)).to_vec();
        for (a, b, share) in [(0, 1, 1.5), (0, 2, 4.0 / 3.0), (1, 2, 5.0 / 6.0)] {
            near(assumed(&unlike, 3, 0.01, 5.0).difference(a, b).1, 0.01 * libm::sqrt(share), 1e-15);
        }
        let several = assumed(&pulls, 2, 0.01, 5.0);
        near(several.difference(0, 1).1, 0.01 * libm::sqrt(2.0 / 3.0), 1e-15);
        near(several.mean[1], 1.045, 1e-15);
    }

    /// Few warm pulls follow the prior: −0.7 ± 1 % for the warmest, as a weighted mean of two readings has it.
    #[test]
    fn a_prior_and_the_pulls_share_the_slope() {
        // heat 0 and 1 in one state: the difference of levels is one reading of the slope
        let pulls = [
            pull(0, 0.0, None, 1.0),
            pull(0, 10.0, None, 1.03),
            pull(0, 1e6, None, 1.0),
            pull(0, 1e6 + 10.0, None, 1.03),
        ];
        let s = solve(&pulls, 1).unwrap();
        // the slope of a straight line through two cold and two warm pulls has variance 1·variance
        let (v, p) = (s.deviation * s.deviation, PER_SHARE.1 * PER_SHARE.1);
        near(s.slope, (0.03 / v + PER_SHARE.0 / p) / (1.0 / v + 1.0 / p), 5e-4);
        near(s.dof, 3.0 - p / (p + v), 1e-2);
        near(s.mean[0], 1.015, 1e-12);
    }

    #[test]
    fn heat_in_whatever_order_pulls_are_listed() {
        let minutes = [12.0, 0.0, 7.0, 7.0, 3000.0, 21.5];
        for (t, got) in minutes.iter().zip(memory(&minutes, 20.0)) {
            let before = minutes.iter().filter(|s| *s < t);
            let sum: f64 = before.map(|s| libm::exp((s - t) / 20.0)).sum();
            assert!((got - sum).abs() < 1e-15, "{t}: {got} {sum}");
        }
    }
}
