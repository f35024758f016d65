//! Gear ratio, tyre slip and the delay of the engine-speed channel, from the pulls themselves.

use fairpull_uncertainty::{NormalEquations, NormalSolution};

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
    let count = pulls.iter().map(|p| p.pairs.len() + p.idle_pairs.len()).sum();
    let mut rows: Vec<[f64; 4]> = Vec::with_capacity(count);
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
    let mut scratch = Vec::with_capacity(rows.len());
    let middle = median(&mut scratch, rows.iter().map(|r| r[3]));
    // a row counts while it is no further off than this from what its first three columns give
    let (mut c, mut most) = ([middle, 0.0, 0.0], 0.15 * libm::fabs(middle));
    let mut result = None;
    for _ in 0..3 {
        let off = |c: &[f64; 3], r: &[f64; 4]| libm::fabs(r[3] - (c[0] * r[0] + c[1] * r[1] + c[2] * r[2]));
        let Some((found, variance)) = solve(rows.iter().filter(|r| off(&c, r) <= most), hub) else {
            return assumed;
        };
        c = found.coefficients;
        most = 4.0 * (1.4826 * median(&mut scratch, rows.iter().map(|r| off(&c, r)))).max(1e-9);
        result = Some((found, variance));
    }
    let Some((found, variance)) = result else { return assumed };
    let rolling = c[0];
    if !(rolling > 0.0) {
        return assumed;
    }
    let slip = c[2] / rolling * 1e-3;
    let slip_u =
        if hub { 0.0 } else { libm::sqrt((found.unscaled[2][2] * variance).max(0.0)) / rolling * 1e-3 };
    // no tyre creeps forward under traction: a negative estimate is noise
    Slip {
        rolling,
        per_newton: slip.clamp(0.0, 5e-5),
        per_newton_u: slip_u,
        delay: c[1] / rolling,
        measured: true,
    }
}

fn median(scratch: &mut Vec<f64>, values: impl Iterator<Item = f64>) -> f64 {
    scratch.clear();
    scratch.extend(values);
    let middle = scratch.len() / 2;
    fairpull_uncertainty::nth(scratch, middle)
}

/// Least squares of the rows that are kept, with the variance of a row; on a hub rig the third column is nothing.
fn solve<'a>(rows: impl Iterator<Item = &'a [f64; 4]>, hub: bool) -> Option<(NormalSolution<3>, f64)> {
    let mut normal = NormalEquations::new();
    let mut count = 0.0;
    for [one, rate, force, travel] in rows {
        normal.push(&[*one, *rate, *force], *travel);
        count += 1.0;
    }
    if hub {
        normal.know(2, 0.0, 1.0);
    }
    let found = normal.solve()?;
    let unknowns = if hub { 2.0 } else { 3.0 };
    Some((found, found.residual / (count - unknowns)))
}
