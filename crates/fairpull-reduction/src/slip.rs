//! Gear ratio, tyre slip and the delay of the engine-speed channel, from the pulls themselves.

use fairpull_uncertainty::least_squares;

use crate::job::{Job, RigKind};
use crate::pull::{PullFit, interpolate};

/// What joins engine speed and roller speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Slip {
    /// Roller speed over engine speed without force, m per rad.
    pub rolling: f64,
    /// Slip per newton at the contact, 1/N, with standard uncertainty.
    pub per_newton: f64,
    pub per_newton_u: f64,
    /// Delay of the engine-speed channel against the roller, s.
    pub delay: f64,
    /// True when it comes from the recordings; false when the job's ratio and an assumed slip stand in.
    pub measured: bool,
}

/// Slip of a road tyre on a roller when engine speed was not recorded: 2 % at 3000 N, give or take half of it
/// (common practice, no source).
const ASSUMED: (f64, f64) = (6.7e-6, 3.3e-6);

/// v/n = ρ (1 − κF + τ a/v): linear in ρ, ρκ, ρτ over all pulls. `contact` gives the force of a pull at a dense index.
pub(crate) fn estimate(job: &Job, pulls: &[PullFit], contact: impl Fn(&PullFit, f64) -> f64) -> Slip {
    let by_job = job.vehicle.tyre_radius.value / job.vehicle.ratio;
    let hub = job.rig.kind == RigKind::Hub;
    let assumed = Slip {
        rolling: by_job,
        per_newton: if hub { 0.0 } else { ASSUMED.0 },
        per_newton_u: if hub { 0.0 } else { ASSUMED.1 },
        delay: 0.0,
        measured: false,
    };
    let mut rows: Vec<Vec<f64>> = Vec::new();
    let mut y: Vec<f64> = Vec::new();
    for p in pulls {
        for (v, n, at) in &p.pairs {
            let a = interpolate(&p.a, *at);
            let mut row = vec![1.0, a / v];
            if !hub {
                row.push(-contact(p, *at) * 1e-3);
            }
            rows.push(row);
            y.push(v / n);
        }
        for (v, n) in &p.idle_pairs {
            rows.push(if hub { vec![1.0, 0.0] } else { vec![1.0, 0.0, 0.0] });
            y.push(v / n);
        }
    }
    if y.len() < 40 {
        return assumed;
    }
    let mut sorted = y.clone();
    fairpull_uncertainty::ascending(&mut sorted);
    let middle = sorted[sorted.len() / 2];
    let mut weights: Vec<f64> = y.iter().map(|r| f64::from((r / middle - 1.0).abs() < 0.15)).collect();
    let mut result = None;
    for _ in 0..3 {
        let Ok(ls) = least_squares(&rows, &y, &weights) else { return assumed };
        let residual: Vec<f64> = rows
            .iter()
            .zip(&y)
            .map(|(r, y)| y - r.iter().zip(&ls.coefficients).map(|(a, b)| a * b).sum::<f64>())
            .collect();
        let mut sizes: Vec<f64> = residual.iter().map(|e| e.abs()).collect();
        fairpull_uncertainty::ascending(&mut sizes);
        let spread = 1.4826 * sizes[sizes.len() / 2];
        for (w, e) in weights.iter_mut().zip(&residual) {
            *w = f64::from(e.abs() <= 4.0 * spread.max(1e-9));
        }
        result = Some(ls);
    }
    let Some(ls) = result else { return assumed };
    let rolling = ls.coefficients[0];
    if !(rolling > 0.0) {
        return assumed;
    }
    let slip = ls.coefficients.get(2).map_or(0.0, |c| c / rolling * 1e-3);
    let slip_u = ls
        .unscaled
        .get(2)
        .and_then(|r| r.get(2))
        .map_or(0.0, |s| libm::sqrt((s * ls.variance).max(0.0)) / rolling * 1e-3);
    // no tyre creeps forward under traction: a negative estimate is noise
    Slip {
        rolling,
        per_newton: slip.clamp(0.0, 5e-5),
        per_newton_u: slip_u,
        delay: ls.coefficients[1] / rolling,
        measured: true,
    }
}
