//! One grid point of one pull worked through, so that a sceptic can redo it by hand.

use crate::outcome::{StateOutcome, Worked};
use crate::reduce::Work;
use crate::states::nearest;

/// The first pull of the last state at the grid speed nearest to its peak.
pub(crate) fn worked(work: &Work<'_>, states: &[StateOutcome]) -> Option<Worked> {
    let s = states.len().checked_sub(1)?;
    let k = (0..work.pulls.len()).find(|k| work.family.state[*k] == s)?;
    let grid = work.bench.grid;
    let i = nearest(grid, states[s].peak_power.rpm);
    let p = &work.pulls[k].fit;
    let c = &work.curves[k];
    if !c.corrected[i].is_finite() {
        return None;
    }
    let parts = work.bench.parts(p, &work.drags[k], grid[i]);
    let air = &work.pulls[k].log.air;
    Some(Worked {
        pull: p.name.clone(),
        rpm: grid[i],
        v: parts.v,
        a: parts.a,
        mass: parts.mass,
        brake: parts.brake,
        parasitic: parts.parasitic,
        contact: parts.contact,
        slip: work.bench.slip.per_newton * parts.contact,
        rim: parts.rim,
        rim_acceleration: parts.rim_acceleration,
        rotating: parts.rotating,
        wheel: c.wheel[i],
        crank: c.crank[i],
        corrected: c.corrected[i],
        factor: c.factor.value(),
        total_kpa: air.air.station().kilopascals(),
        vapour_kpa: air.air.vapour().kilopascals(),
        temperature_c: air.air.temperature().celsius(),
        drag: parts.drag,
        handed: parts.handed,
        share: work.job.loss.share.map_or(f64::NAN, |s| s.0),
        rims: parts.rims,
        apart: parts.apart,
        between: parts.share,
        open: parts.open,
        minus: parts.minus,
        coast: work.drags[k].coast.as_ref().map_or([f64::NAN; 3], |c| c.k),
        own_coast: p.coast.is_some(),
    })
}
