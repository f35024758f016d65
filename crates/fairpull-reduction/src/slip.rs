//! Gear ratio, tyre slip and the delay of the engine-speed channel, from the pulls themselves.

use fairpull_uncertainty::{LeastSquares, Triangle, least_squares};

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

/// v/n = ρ (1 − κF + τ a/v): linear in ρ, ρκ, ρτ over all pulls. `contact` is the force along each pull.
pub(crate) fn estimate(job: &Job, pulls: &[&PullFit], contact: &[Vec<f64>]) -> Slip {
    let by_job = job.vehicle.tyre_radius.value / job.vehicle.ratio;
    let hub = job.rig.kind == RigKind::Hub;
    let assumed = Slip {
        rolling: by_job,
        per_newton: if hub { 0.0 } else { ASSUMED.0 },
        per_newton_u: if hub { 0.0 } else { ASSUMED.1 },
        delay: 0.0,
        measured: false,
    };
    // 1, a/v, −F/1000 and v/n; a hub has no tyre to slip
    let mut rows: Vec<[f64; 4]> = Vec::new();
    for (p, contact) in pulls.iter().zip(contact) {
        rows.extend(p.pairs.iter().map(|(v, n, at)| {
            let force = if hub { 0.0 } else { interpolate(contact, *at) };
            [1.0, interpolate(&p.a, *at) / v, -force * 1e-3, v / n]
        }));
        rows.extend(p.idle_pairs.iter().map(|(v, n, force)| {
            let force = if hub { 0.0 } else { *force };
            [1.0, 0.0, -force * 1e-3, v / n]
        }));
    }
    if rows.len() < 40 {
        return assumed;
    }
    let median = |values: &mut [f64]| {
        let middle = values.len() / 2;
        fairpull_uncertainty::nth(values, middle)
    };
    let mut scratch: Vec<f64> = rows.iter().map(|r| r[3]).collect();
    let middle = median(&mut scratch);
    let mut kept: Vec<bool> = rows.iter().map(|r| (r[3] / middle - 1.0).abs() < 0.15).collect();
    let mut result = None;
    for _ in 0..3 {
        let Some(ls) = solve(rows.iter().zip(&kept).filter(|(_, kept)| **kept).map(|(r, _)| r), hub) else {
            return assumed;
        };
        let c: [f64; 3] = core::array::from_fn(|i| ls.coefficients.get(i).copied().unwrap_or(0.0));
        let off = |r: &[f64; 4]| libm::fabs(r[3] - (c[0] * r[0] + c[1] * r[1] + c[2] * r[2]));
        scratch.clear();
        scratch.extend(rows.iter().map(off));
        let spread = 1.4826 * median(&mut scratch);
        for (kept, r) in kept.iter_mut().zip(&rows) {
            *kept = off(r) <= 4.0 * spread.max(1e-9);
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

/// Least squares of the rows that are kept; without the third column on a hub rig.
fn solve<'a>(rows: impl Iterator<Item = &'a [f64; 4]>, hub: bool) -> Option<LeastSquares> {
    let mut triangle = Triangle::new();
    let mut count = 0.0;
    for row in rows {
        triangle.push(*row);
        count += 1.0;
    }
    let (mut rows, right) = triangle.finish();
    if hub {
        rows.iter_mut().for_each(|r| r.truncate(2));
    }
    let mut ls = least_squares(&rows, &right, &vec![1.0; right.len()]).ok()?;
    let unknowns = ls.coefficients.len() as f64;
    ls.variance *= ls.dof / (count - unknowns);
    ls.dof = count - unknowns;
    Some(ls)
}
