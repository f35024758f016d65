//! Finding full-load pulls, and the coast-downs after them, in a trace.

use core::ops::Range;

use crate::trace::Trace;

/// Half width of the local slope used for finding, s; never for a figure.
const HALF: f64 = 0.25;
/// Shortest pull, s.
const SHORTEST: f64 = 1.2;
/// Time cut from the end of a pull for lifting off and clutching, s.
const LIFT: f64 = 0.2;
/// Time cut from the start of a pull for opening the throttle, s.
const OPENING: f64 = 0.35;
/// The same where a brake takes up its ramp: acceleration and braking force change against each other for longer.
const OPENING_BRAKED: f64 = 0.7;
/// Longest stretch without a rise, or without rows, inside a pull, s.
const BRIDGE: f64 = 0.9;
/// Time left out after the highest speed before the coast-down counts, s.
const SETTLE: f64 = 0.4;

/// A pull and the coast-down that follows it, as ranges of trace rows.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Found {
    pub pull: Range<usize>,
    pub lead: Range<usize>,
    pub coast: Option<Range<usize>>,
    pub coast_note: &'static str,
}

/// Rows after which sums that slide along start anew, as they do after a gap, so that rounding does not grow.
const ANEW: usize = 64;

/// Slope of `y` over ±`half` seconds around each row by least squares; NaN with fewer than three rows.
pub(crate) fn local_slope(t: &[f64], y: &[f64], half: f64) -> Vec<f64> {
    let n = t.len();
    let (mut low, mut high) = (0, 0);
    let mut out = Vec::with_capacity(n);
    // sums over the rows inside, times and values from those of a row nearby
    let (mut st, mut sy, mut stt, mut sty) = (0.0, 0.0, 0.0, 0.0);
    let mut origin = 0;
    for i in 0..n {
        if i % ANEW == 0 || t[i] - t[i - 1] > half {
            while t[low] < t[i] - half {
                low += 1;
            }
            (origin, high) = (i, low);
            (st, sy, stt, sty) = (0.0, 0.0, 0.0, 0.0);
        }
        let from = |k: usize| (t[k] - t[origin], y[k] - y[origin]);
        while high < n && t[high] <= t[i] + half {
            let (dt, dy) = from(high);
            (st, sy, stt, sty) = (st + dt, sy + dy, stt + dt * dt, sty + dt * dy);
            high += 1;
        }
        while t[low] < t[i] - half {
            let (dt, dy) = from(low);
            (st, sy, stt, sty) = (st - dt, sy - dy, stt - dt * dt, sty - dt * dy);
            low += 1;
        }
        let m = (high - low) as f64;
        let spread = m * stt - st * st;
        out.push(if m >= 3.0 && spread > 0.0 { (m * sty - st * sy) / spread } else { f64::NAN });
    }
    out
}

fn quantile(values: &mut [f64], q: f64) -> f64 {
    let at = (q * (values.len().max(1) - 1) as f64) as usize;
    fairpull_uncertainty::nth(values, at)
}

/// Every pull of a trace, in order.
pub(crate) fn find(trace: &Trace) -> Vec<Found> {
    let n = trace.time.len();
    let slope = local_slope(&trace.time, &trace.speed, HALF);
    let mut rising: Vec<f64> = slope.iter().copied().filter(|a| *a > 0.15).collect();
    if rising.is_empty() {
        return Vec::new();
    }
    let usual = quantile(&mut rising, 0.75);
    drop(rising);
    let threshold = (0.25 * usual).max(0.12);
    let fastest = trace.speed.iter().copied().fold(0.0, f64::max);
    let mut found: Vec<Found> = Vec::new();
    let mut i = 0;
    while i < n {
        if slope[i].is_nan() || slope[i] < threshold {
            i += 1;
            continue;
        }
        let start = i;
        let mut last = i;
        while i < n
            && trace.time[i] - trace.time[last] <= BRIDGE
            && !(i > start && trace.breaks.binary_search(&i).is_ok())
        {
            if slope[i] >= threshold {
                last = i;
            }
            i += 1;
        }
        let (t0, t1) = (trace.time[start], trace.time[last]);
        let gained = trace.speed[last] - trace.speed[start];
        if t1 - t0 < SHORTEST
            || gained < 0.2 * fastest
            || trace.speed[last] < 1.25 * trace.speed[start].max(0.5)
        {
            continue;
        }
        if let Some(pull) = trim(trace, start, last) {
            let from = found.last().map_or(0, |f| f.coast.as_ref().map_or(f.pull.end, |c| c.end));
            let lead = lead(trace, &slope, from, start);
            found.push(Found { pull, lead, coast: None, coast_note: "none follows the pull" });
        }
        i = last + 1;
    }
    for k in 0..found.len() {
        let end = found.get(k + 1).map_or(n, |f| f.pull.start);
        let (coast, note) = coast(trace, &slope, found[k].pull.end, end);
        found[k].coast = coast;
        found[k].coast_note = note;
    }
    found
}

/// The part of a rising stretch at full load: opening and lifting off cut away.
fn trim(trace: &Trace, start: usize, last: usize) -> Option<Range<usize>> {
    let t = &trace.time;
    let mut top = last;
    for k in last.saturating_sub(1)..trace.speed.len() {
        let restarts = k > last && trace.breaks.binary_search(&k).is_ok();
        if t[k] > t[last] + 0.6 || restarts {
            break;
        }
        if trace.speed[k] > trace.speed[top] {
            top = k;
        }
    }
    let mut first = start;
    let opening = if trace.force.is_empty() { OPENING } else { OPENING_BRAKED };
    while first < top && t[first] < t[start] + opening {
        first += 1;
    }
    let mut end = top;
    while end > first && t[end] > t[top] - LIFT {
        end -= 1;
    }
    if !trace.throttle.is_empty() {
        // a recorded throttle says exactly where full load begins and ends
        let widest =
            trace.throttle[start..=top].iter().copied().filter(|x| x.is_finite()).fold(0.0, f64::max);
        let open = |k: usize| !(trace.throttle[k] < 0.95 * widest);
        while first < end && !open(first) {
            first += 1;
        }
        while end > first && !open(end) {
            end -= 1;
        }
    }
    (end > first + 12 && t[end] - t[first] >= 1.0).then_some(first..end + 1)
}

/// Steady driving before the pull, up to two seconds: there the tyre carries next to no force.
fn lead(trace: &Trace, slope: &[f64], from: usize, start: usize) -> Range<usize> {
    let mut end = start;
    while end > from && !(slope[end].abs() < 0.1) {
        end -= 1;
    }
    let mut first = end;
    while first > from && slope[first].abs() < 0.1 && trace.time[end] - trace.time[first] < 2.0 {
        first -= 1;
    }
    first..end
}

/// Slopes of a coast-down so far. What is usual in it is the median of the last 160 of them (of all while they are fewer),
/// taken anew with every sixteenth from the second on.
#[derive(Default)]
struct Usual {
    slopes: Vec<f64>,
    /// Highest of each sixteen.
    highest: Vec<f64>,
    /// Nothing in the window is higher; and its median, once it has been asked for.
    bound: Option<f64>,
    median: Option<f64>,
}

impl Usual {
    const EACH: usize = 16;
    const WINDOW: usize = 10;

    fn push(&mut self, a: f64) {
        self.slopes.push(a);
        let n = self.slopes.len();
        if n.is_multiple_of(Self::EACH) {
            self.highest
                .push(self.slopes[n - Self::EACH..].iter().copied().fold(f64::NEG_INFINITY, f64::max));
            let last = &self.highest[self.highest.len().saturating_sub(Self::WINDOW)..];
            if last.len() > 1 {
                self.bound = Some(last.iter().copied().fold(f64::NEG_INFINITY, f64::max));
                self.median = None;
            }
        }
    }

    /// Whether the car slows down by clearly more than usual.
    fn braked(&mut self, a: f64) -> bool {
        let beyond = |usual: f64| a < 1.7 * usual - 0.15;
        // the median is looked for only where the highest of all does not settle the matter
        if !self.bound.is_some_and(beyond) {
            return false;
        }
        let median = *self.median.get_or_insert_with(|| {
            let whole = self.slopes.len() / Self::EACH * Self::EACH;
            let mut window = self.slopes[whole.saturating_sub(Self::EACH * Self::WINDOW)..whole].to_vec();
            quantile(&mut window, 0.5)
        });
        beyond(median)
    }
}

/// The coast-down after a pull: from settling after the highest speed until something else slows or drives the car.
fn coast(trace: &Trace, slope: &[f64], pull_end: usize, end: usize) -> (Option<Range<usize>>, &'static str) {
    let t = &trace.time;
    let Some(mut top) = (pull_end < end).then_some(pull_end) else { return (None, "none follows the pull") };
    while top + 1 < end && trace.speed[top + 1] >= trace.speed[top] - 0.02 && t[top] < t[pull_end] + 1.5 {
        top += 1;
    }
    let mut first = top;
    while first < end && t[first] < t[top] + SETTLE {
        first += 1;
    }
    if first >= end {
        return (None, "the recording ends with the pull");
    }
    // the clutch is open when the engine leaves the ratio of the pull
    let ratio_at = |k: usize| trace.engine[k] / trace.speed[k];
    let mut ratios: Vec<f64> =
        (pull_end.saturating_sub(40)..pull_end).map(ratio_at).filter(|r| r.is_finite()).collect();
    let engaged = quantile(&mut ratios, 0.5);
    let opened = |k: usize| {
        engaged.is_nan() || !(trace.engine[k] / trace.speed[k] - engaged).abs().lt(&(0.04 * engaged))
    };
    let mut waited = first;
    while waited < end && !opened(waited) && t[waited] < t[first] + 3.0 {
        waited += 1;
    }
    if waited >= end || !opened(waited) {
        return (None, "the clutch stays closed, so the engine's own drag would be in it");
    }
    if waited > first {
        first = waited;
        while first < end && t[first] < t[waited] + 0.2 {
            first += 1;
        }
    }
    let mut last = first;
    let mut k = first;
    let mut usual = Usual::default();
    while k < end {
        let a = slope[k];
        if a > -0.01 && t[k] > t[first] + 0.5 {
            break;
        }
        if a.is_finite() {
            usual.push(a);
        }
        if usual.braked(a) {
            // brakes: go back before the slope could feel them
            while last > first && t[last] > t[k] - 0.8 {
                last -= 1;
            }
            break;
        }
        last = k;
        k += 1;
    }
    // the slope near the end is taken over what follows
    if last + 1 < end {
        let stop = t[last] - HALF;
        while last > first && t[last] > stop {
            last -= 1;
        }
    }
    if last <= first + 8 || t[last] - t[first] < 0.8 {
        return (None, "it is shorter than a second");
    }
    (Some(first..last + 1), "")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Steady, `pulls` times up and (clutch open) down, at `rate` samples a second, engine speed recorded.
    fn trace(rate: f64, pulls: usize, coasting: f64) -> Trace {
        let (mut time, mut speed, mut engine) = (Vec::new(), Vec::new(), Vec::new());
        let mut t = 0.0;
        let mut v = 10.0;
        let mut put = |t: &mut f64, v: f64, n: f64| {
            time.push(*t);
            speed.push(v);
            engine.push(n);
            *t += 1.0 / rate;
        };
        for _ in 0..pulls {
            let start = t;
            while t < start + 1.5 {
                put(&mut t, v, 17.0 * v);
            }
            while v < 35.0 {
                v += 3.0 / rate;
                put(&mut t, v, 17.0 * v);
            }
            let top = t;
            while t < top + coasting && v > 12.0 {
                v -= 0.5 / rate;
                put(&mut t, v, 90.0);
            }
            while v > 10.0 && coasting > 0.0 {
                v -= 4.0 / rate;
                put(&mut t, v, 90.0);
            }
        }
        Trace { time, speed, engine, force: Vec::new(), throttle: Vec::new(), breaks: Vec::new(), row: None }
    }

    #[test]
    fn one_pull_with_its_coast_down() {
        for rate in [20.0, 50.0, 200.0] {
            let t = trace(rate, 1, 60.0);
            let found = find(&t);
            assert_eq!(found.len(), 1, "{rate}");
            let pull = &found[0].pull;
            assert!(t.speed[pull.start] < 12.0 && t.speed[pull.end - 1] > 34.0, "{rate}");
            let coast = found[0].coast.clone().unwrap();
            assert!(t.speed[coast.start] > 33.0 && t.speed[coast.end - 1] < 13.5, "{rate}");
            // the brakes at the end are not part of it
            assert!(t.speed[coast.end - 1] > 11.5, "{rate}");
        }
    }

    #[test]
    fn every_pull_of_a_recording() {
        assert_eq!(find(&trace(50.0, 3, 20.0)).len(), 3);
    }

    #[test]
    fn no_coast_down_is_said() {
        let found = find(&trace(50.0, 1, 0.0));
        assert_eq!(found.len(), 1);
        assert!(found[0].coast.is_none());
        assert!(!found[0].coast_note.is_empty());
    }

    /// Sums that slide along against sums of each window alone, over a gap and an uneven step.
    #[test]
    fn sliding_slope() {
        let mut t: Vec<f64> =
            (0..400).map(|i| 0.02 * f64::from(i) + 0.004 * libm::sin(f64::from(i))).collect();
        t.iter_mut().skip(210).for_each(|t| *t += 900.0);
        let y: Vec<f64> = t.iter().map(|t| 30.0 + libm::sin(0.9 * t)).collect();
        for (i, got) in local_slope(&t, &y, 0.25).into_iter().enumerate() {
            let near: Vec<usize> = (0..400).filter(|k| (t[*k] - t[i]).abs() <= 0.25).collect();
            let mean = |x: &[f64]| near.iter().map(|k| x[*k]).sum::<f64>() / near.len() as f64;
            let (mt, my) = (mean(&t), mean(&y));
            let sum = |f: &dyn Fn(usize) -> f64| near.iter().map(|k| f(*k)).sum::<f64>();
            let slope = sum(&|k| (t[k] - mt) * (y[k] - my)) / sum(&|k| (t[k] - mt) * (t[k] - mt));
            assert!((got - slope).abs() < 1e-9, "{i}: {got} {slope}");
        }
    }

    #[test]
    fn slope_of_a_line() {
        let t: Vec<f64> = (0..50).map(|i| 0.05 * f64::from(i)).collect();
        let y: Vec<f64> = t.iter().map(|t| 3.0 + 2.5 * t).collect();
        for s in &local_slope(&t, &y, 0.25)[1..49] {
            assert!((s - 2.5).abs() < 1e-9);
        }
    }
}
