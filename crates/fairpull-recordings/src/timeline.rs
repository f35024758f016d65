//! Time stamps to a strictly increasing time.

use crate::{RepairKind, Repairs};

/// Median of the positive steps, s; 0 when there is none.
pub(crate) fn median_interval(time: &[f64]) -> f64 {
    let mut steps: Vec<f64> = time
        .windows(2)
        .filter_map(|w| if let [a, b] = w { Some(b - a) } else { None })
        .filter(|d| *d > 0.0)
        .collect();
    quantile(&mut steps, 0.5).unwrap_or(0.0)
}

/// Value at a share of the sorted values (nearest rank); none when there are none.
pub(crate) fn quantile(values: &mut [f64], share: f64) -> Option<f64> {
    let last = values.len().checked_sub(1)?;
    let n = ((last as f64) * share + 0.5) as usize;
    let (_, v, _) = values.select_nth_unstable_by(n.min(last), f64::total_cmp);
    Some(*v)
}

/// The rows behind one another in time.
pub(crate) struct Timeline {
    /// Rows that stay, as indices into the rows read, in order of time.
    pub rows: Vec<usize>,
    pub time: Vec<f64>,
    pub segments: Vec<usize>,
}

/// Time between two starts of the clock, s: long enough that nothing is smoothed or differentiated across it.
const BETWEEN_SEGMENTS: f64 = 60.0;
/// Rows looked ahead to tell a clock that started again from a single bad stamp.
const AHEAD: usize = 5;
const DAY: f64 = 86_400.0;

/// Puts the rows in order. `raw` is in s, NaN where a stamp is missing; `line` gives the line of a row.
///
/// - A stamp equal to the one before: the row is dropped, the first one stays.
/// - A step back by at most 1 s or 20 usual intervals: rows are dropped until the clock is ahead again.
/// - A larger step back from which the clock does not return within five rows: it started again; the rows after it
///   are moved to 60 s behind the rows before and begin a new segment. If it returns, the row is dropped.
/// - A leap ahead by more than that from which the next row returns: the leaping row is dropped.
/// - A clock of the day that steps back by more than 12 h passed midnight: 24 h are added.
/// - A log that runs backward as a whole (newest row first) is turned round.
pub(crate) fn order(
    raw: &[f64],
    clock: bool,
    line: &dyn Fn(usize) -> u64,
    repairs: &mut Repairs,
) -> Timeline {
    let h = median_size(raw);
    let big = (20.0 * h).max(1.0);
    let mut stamped: Vec<(usize, f64)> =
        raw.iter().copied().enumerate().filter(|(_, t)| !t.is_nan()).collect();
    let lost = raw.len() - stamped.len();
    if let Some(first) = raw.iter().position(|t| t.is_nan()) {
        repairs.add(RepairKind::NoTimeStamp, None, lost as u64, line(first), String::new);
    }
    let (back, forth) = directions(&stamped);
    if back > 2 && forth * 50 < back {
        let at = stamped.first().map_or(0, |s| s.0);
        stamped.reverse();
        repairs.add(RepairKind::NewestFirst, None, stamped.len() as u64, line(at), String::new);
    }
    let mut out = Timeline {
        rows: Vec::with_capacity(stamped.len()),
        time: Vec::with_capacity(stamped.len()),
        segments: vec![0],
    };
    let mut shift = 0.0;
    let mut previous: Option<f64> = None;
    for (i, (row, t)) in stamped.iter().copied().enumerate() {
        let at = || line(row);
        if let Some(p) = previous {
            let ahead = stamped.get(i + 1..).unwrap_or(&[]);
            let step = t - p;
            if step == 0.0 {
                repairs.add(RepairKind::RepeatedStamp, None, 1, at(), || format!("{} s again", short(t)));
                continue;
            }
            let leaps = step > big && ahead.first().is_some_and(|n| n.1 > p && n.1 < t && n.1 - p <= big);
            if leaps {
                repairs.add(RepairKind::LeapingStamp, None, 1, at(), || from_to(p, t));
                continue;
            }
            if step < 0.0 {
                let next = ahead.get(..AHEAD.min(ahead.len())).unwrap_or(&[]);
                let returns = next.is_empty() || next.iter().any(|n| n.1 > p);
                if clock && step < -0.5 * DAY && !returns {
                    shift += DAY;
                    repairs.add(RepairKind::MidnightPassed, None, 1, at(), || from_to(p, t));
                } else if -step > big && !returns {
                    let end = out.time.last().copied().unwrap_or(p + shift);
                    shift = end + BETWEEN_SEGMENTS - t;
                    out.segments.push(out.rows.len());
                    repairs.add(RepairKind::ClockRestarted, None, 1, at(), || from_to(p, t));
                } else {
                    repairs.add(RepairKind::BackwardStamp, None, 1, at(), || from_to(p, t));
                    continue;
                }
            }
        }
        // Adding the shift may round two close stamps to one.
        if out.time.last().is_none_or(|last| t + shift > *last) {
            out.rows.push(row);
            out.time.push(t + shift);
        } else {
            repairs.add(RepairKind::RepeatedStamp, None, 1, at(), || format!("{} s again", short(t)));
        }
        previous = Some(t);
    }
    out
}

/// Gaps (more than five usual intervals) and an uneven rate, noted only.
pub(crate) fn describe(t: &Timeline, line: &dyn Fn(usize) -> u64, repairs: &mut Repairs) {
    let h = median_interval(&t.time);
    let mut steps = Vec::with_capacity(t.time.len());
    let (mut gaps, mut off) = (0_u64, 0_u64);
    let (mut first_gap, mut first_off, mut longest) = (0, 0, 0.0);
    for (i, w) in t.time.windows(2).enumerate() {
        let [a, b] = w else { continue };
        if t.segments.binary_search(&(i + 1)).is_ok() {
            continue;
        }
        let step = b - a;
        steps.push(step);
        if step > 5.0 * h {
            if gaps == 0 {
                first_gap = i + 1;
            }
            gaps += 1;
            longest = if step > longest { step } else { longest };
        } else if (step - h).abs() > 0.2 * h {
            if off == 0 {
                first_off = i + 1;
            }
            off += 1;
        }
    }
    let at = |i: usize| t.rows.get(i).map_or(0, |r| line(*r));
    if gaps > 0 {
        repairs.add(RepairKind::Gap, None, gaps, at(first_gap), || {
            format!("longest {} s, usually {} s between rows", short(longest), short(h))
        });
    }
    if let (Some(low), Some(high)) = (quantile(&mut steps, 0.05), quantile(&mut steps, 0.95))
        && high > 1.5 * low
        && off > 0
    {
        repairs.add(RepairKind::UnevenRate, None, off, at(first_off), || {
            format!("{} to {} s between rows (5 % and 95 % points)", short(low), short(high))
        });
    }
}

fn from_to(a: f64, b: f64) -> String {
    format!("from {} s to {} s", short(a), short(b))
}

/// Median size of the steps either way.
fn median_size(raw: &[f64]) -> f64 {
    let pairs = raw.windows(2).filter_map(|w| if let [a, b] = w { Some((b - a).abs()) } else { None });
    let mut steps: Vec<f64> = pairs.filter(|d| *d > 0.0 && d.is_finite()).collect();
    quantile(&mut steps, 0.5).unwrap_or(0.0)
}

/// Number of steps back and forth.
fn directions(stamped: &[(usize, f64)]) -> (usize, usize) {
    let steps = || stamped.windows(2).filter_map(|w| if let [a, b] = w { Some(b.1 - a.1) } else { None });
    (steps().filter(|d| *d < 0.0).count(), steps().filter(|d| *d > 0.0).count())
}

/// A number with six digits, without trailing zeros.
pub(crate) fn short(x: f64) -> String {
    let rounded = format!("{x:.5e}").parse::<f64>().unwrap_or(x);
    format!("{rounded}")
}
