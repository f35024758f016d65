//! One grid point of one pull worked through, so that a sceptic can redo it by hand.

use crate::evaluate::Deviation;
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
    let at = work.bench.times(p).get(i).copied().filter(|t| t.is_finite())?;
    let d = Deviation::default();
    let dense = nearest(&p.time, at);
    let c = &work.curves[k];
    let contact = work.bench.contact(p, dense, &d);
    let parts = work.bench.parts(p, &work.drags[k], dense);
    let air = &work.pulls[k].log.air;
    Some(Worked {
        pull: p.name.clone(),
        rpm: grid[i],
        v: p.v[dense],
        a: p.a[dense],
        mass: parts.mass,
        brake: p.force.get(dense).copied().unwrap_or(0.0),
        parasitic: parts.parasitic,
        contact,
        slip: work.bench.slip.per_newton * contact,
        rotating: parts.rotating,
        wheel: c.wheel[i],
        crank: c.crank[i],
        corrected: c.corrected[i],
        factor: c.factor.value(),
        total_kpa: air.air.station().kilopascals(),
        vapour_kpa: air.air.vapour().kilopascals(),
        temperature_c: air.air.temperature().celsius(),
        drag: parts.drag,
        share: work.job.loss.share.map_or(f64::NAN, |s| s.0),
    })
}
