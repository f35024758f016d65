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
    /// Heat of each pull: K of charge temperature, or a share of the largest where that was not recorded.
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

/// Heat left at each pull by all pulls before it: Σ exp(−Δt/τ).
fn memory(minutes: &[f64], tau: f64) -> Vec<f64> {
    minutes
        .iter()
        .map(|t| minutes.iter().filter(|s| **s < *t).map(|s| libm::exp((s - t) / tau)).sum())
        .collect()
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
    let most = h.iter().copied().fold(0.0, f64::max);
    (h.iter().map(|x| if most > 0.0 { x / most } else { 0.0 }).collect(), false)
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
