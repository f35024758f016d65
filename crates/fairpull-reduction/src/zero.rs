//! Zero of the load cell of a braked roller: with the brake off in the coast-down it must read nothing.

use core::ops::Range;

use crate::job::{Job, RigKind};
use crate::segment::Found;
use crate::trace::Trace;

/// A larger reading than this share of the pull's is taken for a brake that is really on.
const MOST: f64 = 0.03;
/// What the zero may wander between pull and coast-down without a word, share of the pull's force.
const WORD: f64 = 0.002;

/// Takes the reading of the released brake off the force, as a straight line through the middles of the coast-downs
/// of the log (one of them: a constant). Says so when it matters.
pub(crate) fn remove(trace: &mut Trace, found: &[Found], job: &Job) -> Vec<String> {
    if job.rig.kind != RigKind::BrakedRoller || trace.force.is_empty() {
        return Vec::new();
    }
    let level = |rows: Range<usize>| -> Option<f64> {
        let mut f: Vec<f64> = trace.force[rows].iter().copied().filter(|x| x.is_finite()).collect();
        let middle = f.len() / 2;
        (f.len() >= 10).then(|| fairpull_uncertainty::nth(&mut f, middle))
    };
    let Some(full) = found.iter().filter_map(|f| level(f.pull.clone())).reduce(f64::max) else {
        return Vec::new();
    };
    let mut notes = Vec::new();
    let mut points: Vec<(f64, f64)> = Vec::new();
    for f in found {
        // a released brake needs a moment, and so does a filter behind the load cell
        let Some(rows) = f.coast.clone() else { continue };
        let start = trace.time[rows.start] + 0.8;
        let first = rows.start + trace.time[rows.clone()].partition_point(|t| *t < start);
        let half = first + (rows.end - first.min(rows.end)) / 2;
        for part in [first..half, half..rows.end] {
            let Some(zero) = level(part.clone()) else { continue };
            if libm::fabs(zero) > MOST * full {
                notes.push(format!(
                    "the force reads {zero:.0} N in the coast-down, which is more than a zero error: the brake counts as on there"
                ));
                return notes;
            }
            points.push((0.5 * (trace.time[part.start] + trace.time[part.end - 1]), zero));
        }
    }
    let n = points.len() as f64;
    if points.is_empty() {
        return notes;
    }
    let (mt, mz) = (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n);
    let stt: f64 = points.iter().map(|p| (p.0 - mt) * (p.0 - mt)).sum();
    let stz: f64 = points.iter().map(|p| (p.0 - mt) * (p.1 - mz)).sum();
    let rate = if points.len() > 1 && stt > 0.0 { stz / stt } else { 0.0 };
    let middle = found.first().map_or(mt, |f| trace.time[f.pull.start.midpoint(f.pull.end)]);
    let there = mz + rate * (middle - mt);
    if libm::fabs(there) > WORD * full {
        notes.push(format!(
            "the force reads {mz:+.1} N with the brake released ({:+.1} N a minute): {there:+.1} N is taken off in the pull",
            60.0 * rate
        ));
    }
    for (t, f) in trace.time.iter().zip(&mut trace.force) {
        *f -= mz + rate * (t - mt);
    }
    notes
}
