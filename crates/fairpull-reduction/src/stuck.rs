//! Channels that stand still while the car does not: found, taken out, and said.

use crate::trace::Trace;

/// A channel that repeats one value for this long stands still, s.
const LONG: f64 = 0.25;
/// And for at least so many rows.
const ROWS: usize = 5;

/// Rows over which `y` repeats one value for [`LONG`] or longer.
fn still(time: &[f64], y: &[f64]) -> Vec<core::ops::Range<usize>> {
    let n = time.len().min(y.len());
    // bits, not values: a repeated reading is the very same
    let same = |a: usize, b: usize| y[a].to_bits() == y[b].to_bits();
    let mut out = Vec::new();
    let mut k = 0;
    // so many rows hold a multiple of one less with its follower
    while k + 1 < n {
        if !same(k, k + 1) || !y[k].is_finite() {
            k += ROWS - 1;
            continue;
        }
        let (mut first, mut end) = (k, k + 1);
        while first > 0 && same(first - 1, k) {
            first -= 1;
        }
        while end < n && same(end, k) {
            end += 1;
        }
        if end - first >= ROWS && time[end - 1] - time[first] >= LONG {
            out.push(first..end);
        }
        k = end.next_multiple_of(ROWS - 1);
    }
    out
}

/// The finest tenth of the steps is the resolution, or below it.
fn resolution(speed: &[f64]) -> f64 {
    let mut steps: Vec<f64> =
        speed.windows(2).map(|w| libm::fabs(w[1] - w[0])).filter(|d| *d > 1e-9).collect();
    let tenth = steps.len() / 10;
    if steps.is_empty() { 0.0 } else { fairpull_uncertainty::nth(&mut steps, tenth) }
}

/// Takes standing stretches out of speed, engine speed and force. A stretch counts when the channel jumps by more than
/// it could have resolved at its end (speed), or while the car's speed changes by more than 3 % (the others).
pub(crate) fn remove(trace: &mut Trace) -> Vec<String> {
    let mut notes = Vec::new();
    let standing = still(&trace.time, &trace.speed);
    let fine = if standing.is_empty() { 0.0 } else { resolution(&trace.speed) };
    let mut lost = vec![false; if standing.is_empty() { 0 } else { trace.time.len() }];
    for r in standing {
        let after = trace.speed.get(r.end).copied().unwrap_or(f64::NAN);
        let jump = libm::fabs(after - trace.speed[r.start]);
        if jump > (4.0 * fine).max(0.15) {
            notes.push(format!(
                "the speed stands still from {:.2} s to {:.2} s and then jumps by {:.1} km/h: those readings are left out",
                trace.time[r.start],
                trace.time[r.end - 1],
                3.6 * jump
            ));
            // its first reading was still alive
            for k in r.start + 1..r.end {
                lost[k] = true;
            }
        }
    }
    let moves = |speed: &[f64], r: &core::ops::Range<usize>| {
        let part = &speed[r.clone()];
        let low = part.iter().copied().fold(f64::INFINITY, f64::min);
        let high = part.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        high > 1.03 * low + 0.1
    };
    for (what, series) in [("engine speed", &mut trace.engine), ("force or torque", &mut trace.force)] {
        if series.is_empty() {
            continue;
        }
        let found: Vec<_> = still(&trace.time, series)
            .into_iter()
            .filter(|r| series[r.start] != 0.0 && moves(&trace.speed, r))
            .collect();
        for r in found {
            notes.push(format!(
                "the {what} stands still from {:.2} s to {:.2} s while the car's speed changes: those readings are left out",
                trace.time[r.start],
                trace.time[r.end - 1]
            ));
            for k in r.start + 1..r.end {
                series[k] = f64::NAN;
            }
        }
    }
    if lost.contains(&true) {
        trace.keep(|k| !lost[k]);
    }
    notes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn trace(step: f64) -> Trace {
        let time: Vec<f64> = (0..200).map(|i| 0.02 * f64::from(i)).collect();
        let speed = time.iter().map(|t| libm::round((10.0 + 3.0 * t) / step) * step).collect();
        let engine = time.iter().map(|t| 200.0 + 60.0 * t).collect();
        Trace { engine, force: Vec::new(), throttle: Vec::new(), breaks: vec![150], row: None, time, speed }
    }

    /// Stretches of every length at every place, against a walk from row to row.
    #[test]
    fn stretches_are_found_wherever_they_stand() {
        let time: Vec<f64> = (0..40).map(|i| 0.1 * f64::from(i)).collect();
        for first in 0..20 {
            for long in 1..14 {
                let mut y: Vec<f64> = time.clone();
                let held = y[first];
                y[first..first + long].fill(held);
                y[36..].fill(7.0);
                let wanted = (long >= ROWS).then_some(first..first + long);
                assert_eq!(still(&time, &y), Vec::from_iter(wanted), "{first} {long}");
            }
        }
        assert_eq!(still(&time, &[1.0; 40]), Vec::from_iter(Some(0..40)));
        assert_eq!(still(&time, &[f64::NAN; 40]), []);
    }

    #[test]
    fn a_standing_speed_is_left_out() {
        let mut t = trace(0.001);
        let held = t.speed[60];
        t.speed[60..100].fill(held);
        let notes = remove(&mut t);
        assert_eq!(notes.len(), 1, "{notes:?}");
        assert_eq!(t.time.len(), 161);
        assert_eq!(t.breaks, [111]);
    }

    #[test]
    fn a_standing_engine_speed_is_left_out() {
        let mut t = trace(0.001);
        let held = t.engine[60];
        t.engine[60..].fill(held);
        assert_eq!(remove(&mut t).len(), 1);
        assert!(t.engine[61..].iter().all(|n| n.is_nan()));
    }

    /// A stretch counts from five rows and a quarter of a second, and by its jump: more than 0.15 m/s and four steps.
    #[test]
    fn how_long_and_how_far() {
        let held = |rate: f64, rows: usize, jump: f64| {
            let mut t = trace(0.001);
            t.time.iter_mut().for_each(|x| *x *= 0.02f64.recip() / rate);
            let at = t.speed[60];
            t.speed[60..60 + rows].fill(at);
            let by = at + jump - t.speed[60 + rows];
            t.speed[60 + rows..].iter_mut().for_each(|v| *v += by);
            remove(&mut t).len()
        };
        // 14 rows at 50 Hz are 0.26 s, 13 are 0.24 s
        assert_eq!((held(50.0, 14, 0.5), held(50.0, 13, 0.5)), (1, 0));
        // five rows at 10 Hz are 0.4 s, four are too few
        assert_eq!((held(10.0, 5, 0.5), held(10.0, 4, 0.5)), (1, 0));
        // steps of 0.06 m/s resolve a jump of 0.24
        assert_eq!((held(50.0, 20, 0.26), held(50.0, 20, 0.22)), (1, 0));
        let mut coarse = trace(0.01);
        let at = coarse.speed[60];
        coarse.speed[60..80].fill(at);
        let by = at + 0.17 - coarse.speed[80];
        coarse.speed[80..].iter_mut().for_each(|v| *v += by);
        assert_eq!(remove(&mut coarse).len(), 0);
    }

    /// Engine speed and force may stand while the car's speed does, within 3 % and 0.1 m/s; a force of nothing stands.
    #[test]
    fn what_may_stand() {
        let mut t = trace(0.001);
        t.force = (0..200).map(|i| 100.0 + f64::from(i)).collect();
        // the speed at row 60 is 13.6 m/s and rises by 0.06 a row: 8 rows are 3.5 %, and 0.1 m/s more than that are 9
        for (rows, said) in [(14, 1), (200 - 60, 1)] {
            let mut here = trace(0.001);
            here.force = t.force.clone();
            let held = here.force[60];
            here.force[60..60 + rows].fill(held);
            let notes = remove(&mut here);
            assert_eq!(notes.len(), said, "{rows}");
            assert!(notes[0].starts_with("the force or torque stands still from 1.20 s to "), "{notes:?}");
            assert!(!here.force[60].is_nan() && here.force[61..60 + rows].iter().all(|f| f.is_nan()));
        }
        // from 10 m/s on 3 % and 0.1 m/s are 0.4 m/s
        for (rise, said) in [(0.395, 0), (0.405, 1)] {
            let mut near = trace(0.001);
            near.force = t.force.clone();
            near.speed.iter_mut().enumerate().for_each(|(i, v)| *v = 10.0 + rise * i as f64 / 199.0);
            near.force.fill(70.0);
            near.force[0] = 71.0;
            near.speed[0] = 9.0;
            near.speed[1] = 10.0;
            assert_eq!(remove(&mut near).len(), said, "{rise}");
        }
        let mut released = trace(0.001);
        released.force = vec![0.0; 200];
        assert!(remove(&mut released).is_empty());
        let mut steady = trace(0.001);
        steady.speed[60..].iter_mut().enumerate().for_each(|(i, v)| *v = 13.6 + 1e-3 * i as f64);
        let held = steady.engine[60];
        steady.engine[60..].fill(held);
        assert!(remove(&mut steady).is_empty());
    }

    #[test]
    fn coarse_steps_are_not_standing() {
        for step in [0.03, 0.3, 1.0] {
            let mut t = trace(step);
            assert!(remove(&mut t).is_empty(), "{step}");
        }
    }
}
