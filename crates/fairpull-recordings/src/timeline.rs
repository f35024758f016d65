//! Time stamps to a strictly increasing time.

use crate::counted::Counted;
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

/// Index of a share of so many sorted values (nearest rank); none when there are none.
pub(crate) fn rank(count: usize, share: f64) -> Option<usize> {
    let last = count.checked_sub(1)?;
    Some((((last as f64) * share + 0.5) as usize).min(last))
}

/// Value at a share of the sorted sizes; none when there are none. Sizes are not negative, so that their bits rise
/// with them.
pub(crate) fn quantile(sizes: &mut [f64], share: f64) -> Option<f64> {
    let n = rank(sizes.len(), share)?;
    Some(*sizes.select_nth_unstable_by_key(n, |x| x.to_bits()).1)
}

/// The rows behind one another in time.
pub(crate) struct Timeline {
    /// Rows that stay, in order of time; none where all stay as they are.
    pub rows: Option<Counted>,
    pub time: Vec<f64>,
    pub segments: Vec<usize>,
}

impl Timeline {
    /// The row behind a place in time.
    pub fn row(&self, place: usize) -> usize {
        match &self.rows {
            Some(rows) => rows.get(place).unwrap_or(0) as usize,
            None => place,
        }
    }
}

/// Time between two starts of the clock, s: long enough that nothing is smoothed or differentiated across it.
const BETWEEN_SEGMENTS: f64 = 60.0;
/// A step of less is no leap, s.
const LEAST: f64 = 1.0;
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
    mut raw: Vec<f64>,
    clock: bool,
    line: &dyn Fn(usize) -> u64,
    repairs: &mut Repairs,
) -> Timeline {
    // The usual log: every row later than the one before.
    if !raw.first().is_some_and(|t| t.is_nan()) && raw.array_windows().all(|[a, b]| b - a > 0.0) {
        raw.iter_mut().for_each(|t| *t += 0.0);
        return Timeline { rows: None, time: raw, segments: vec![0] };
    }
    let mut found = None;
    let mut big = || *found.get_or_insert_with(|| (20.0 * median_size(&raw)).max(LEAST));
    let lost = raw.iter().filter(|t| t.is_nan()).count();
    if let Some(first) = raw.iter().position(|t| t.is_nan()) {
        repairs.add(RepairKind::NoTimeStamp, None, lost as u64, line(first), String::new);
    }
    let (back, forth) = directions(&raw);
    let newest_first = back > 2 && forth * 50 < back;
    if newest_first {
        let at = raw.iter().position(|t| !t.is_nan()).unwrap_or(0);
        repairs.add(RepairKind::NewestFirst, None, (raw.len() - lost) as u64, line(at), String::new);
    }
    let row_of = |i: usize| if newest_first { raw.len() - 1 - i } else { i };
    // The stamps from a place on, missing ones left out.
    let stamps = |from: usize| {
        let stamp = |i| raw.get(row_of(i)).map(|t| (row_of(i), *t));
        (from..raw.len()).filter_map(stamp).filter(|s| !s.1.is_nan())
    };
    let mut rows = Counted::default();
    let mut out = Timeline { rows: None, time: Vec::with_capacity(raw.len() - lost), segments: vec![0] };
    let mut shift = 0.0;
    let mut previous: Option<f64> = None;
    for (row, t) in stamps(0) {
        let at = || line(row);
        if let Some(p) = previous {
            let ahead = || stamps(row_of(row) + 1).map(|s| s.1);
            let step = t - p;
            if step == 0.0 {
                repairs.add(RepairKind::RepeatedStamp, None, 1, at(), || format!("{} s again", short(t)));
                continue;
            }
            let leaps = step > LEAST
                && step > big()
                && ahead().next().is_some_and(|n| n > p && n < t && n - p <= big());
            if leaps {
                repairs.add(RepairKind::LeapingStamp, None, 1, at(), || from_to(p, t));
                continue;
            }
            if step < 0.0 {
                let returns = ahead().next().is_none() || ahead().take(AHEAD).any(|n| n > p);
                if clock && step < -0.5 * DAY && !returns {
                    shift += DAY;
                    repairs.add(RepairKind::MidnightPassed, None, 1, at(), || from_to(p, t));
                } else if -step > big() && !returns {
                    let end = out.time.last().copied().unwrap_or(p + shift);
                    shift = end + BETWEEN_SEGMENTS - t;
                    out.segments.push(rows.len());
                    repairs.add(RepairKind::ClockRestarted, None, 1, at(), || from_to(p, t));
                } else {
                    repairs.add(RepairKind::BackwardStamp, None, 1, at(), || from_to(p, t));
                    continue;
                }
            }
        }
        // Adding the shift may round two close stamps to one.
        if out.time.last().is_none_or(|last| t + shift > *last) {
            rows.push(row as u64);
            out.time.push(t + shift);
        } else {
            repairs.add(RepairKind::RepeatedStamp, None, 1, at(), || format!("{} s again", short(t)));
        }
        previous = Some(t);
    }
    out.rows = Some(rows);
    out
}

/// Gaps (more than five usual intervals) and an uneven rate, noted only; `h` is the usual interval.
pub(crate) fn describe(t: &Timeline, h: f64, line: &dyn Fn(usize) -> u64, repairs: &mut Repairs) {
    // Each step and the place behind it; those between two starts of the clock are left out.
    let within = |i: &usize| t.segments.len() == 1 || t.segments.binary_search(i).is_err();
    let steps = || (1..).zip(t.time.array_windows()).filter(|(i, _)| within(i)).map(|(i, [a, b])| (i, b - a));
    let at = |i: usize| if i < t.time.len() { line(t.row(i)) } else { 0 };
    let (mut gaps, mut off) = (0_u64, 0_u64);
    let (mut first_gap, mut first_off, mut longest) = (0, 0, 0.0);
    for (i, step) in steps() {
        if step > 5.0 * h {
            if gaps == 0 {
                first_gap = i;
            }
            gaps += 1;
            longest = if step > longest { step } else { longest };
        } else if (step - h).abs() > 0.2 * h {
            if off == 0 {
                first_off = i;
            }
            off += 1;
        }
    }
    if gaps > 0 {
        repairs.add(RepairKind::Gap, None, gaps, at(first_gap), || {
            format!("longest {} s, usually {} s between rows", short(longest), short(h))
        });
    }
    if off == 0 {
        return;
    }
    let mut sizes: Vec<f64> = steps().map(|s| s.1).collect();
    if let (Some(low), Some(high)) = (quantile(&mut sizes, 0.05), quantile(&mut sizes, 0.95))
        && high > 1.5 * low
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

/// Number of steps back and forth between the stamps that are there.
fn directions(raw: &[f64]) -> (usize, usize) {
    let (mut back, mut forth) = (0, 0);
    let mut previous = f64::NAN;
    for t in raw.iter().filter(|t| !t.is_nan()) {
        back += usize::from(*t < previous);
        forth += usize::from(*t > previous);
        previous = *t;
    }
    (back, forth)
}

/// A number with six digits, without trailing zeros.
pub(crate) fn short(x: f64) -> String {
    let rounded = fairpull_units::decimal(format!("{x:.5e}").as_bytes()).unwrap_or(x);
    format!("{rounded}")
}
