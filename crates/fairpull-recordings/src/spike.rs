//! Spikes: one or two samples far from neighbours that agree with each other.

use crate::timeline::quantile;

/// Rows slower than this have no spikes: a real blip of a throttle fits between two of them. s.
const SLOWEST: f64 = 0.2;
/// Rows looked at together.
const STRETCH: usize = 32;
/// Neighbours on either side that carry the base line.
const SIDE: usize = 3;
/// Samples on either side that tell how rough the signal is there.
const AROUND: usize = 30;
/// How many times the local roughness a spike must stand out.
const TIMES: f64 = 8.0;
/// The neighbours of both sides must agree within this share of the departure.
const AGREE: f64 = 0.25;

/// Rows of spikes in `values`. A spike departs by more than `smallest` *and* by more than eight times the local
/// roughness (scaled median of the second differences over ±30 rows), lasts one or two rows, and both sides around it
/// agree within a quarter of its height. A step, a ramp, a ring-down or a blip of three rows or more stays.
///
/// Median of absolute deviations times 1.4826 as the standard deviation of a normal distribution: Rousseeuw and
/// Croux, "Alternatives to the Median Absolute Deviation", J. Am. Stat. Assoc. 88 (1993), eq. 1.2 (from memory). The
/// thresholds are common practice, no source.
pub(crate) fn spikes(time: &[f64], values: &[f64], smallest: f64, interval: f64) -> Vec<usize> {
    let mut found: Vec<usize> = Vec::new();
    if !(interval > 0.0 && interval <= SLOWEST) {
        return found;
    }
    // A value that keeps near its neighbours begins no spike of one row or two; missing ones never do.
    let departs = |[before, v, after, later]: &[f64; 4]| {
        ((v - 0.5 * (before + after)).abs() > smallest) | ((v - 0.5 * (before + later)).abs() > smallest)
    };
    let mut i = SIDE;
    while i + SIDE < values.len() {
        let end = (i + STRETCH).min(values.len() - SIDE);
        // Nearly all stretches are calm; a loop without a way out goes over them quickly.
        let near = values.get(i - 1..end + 2).unwrap_or(&[]).array_windows();
        if !near.fold(false, |any, window| any | departs(window)) {
            i = end;
            continue;
        }
        while i < end {
            let near = values.get(i - 1..).and_then(|near| near.first_chunk());
            let mut widths = [1, 2].into_iter().filter(|_| near.is_some_and(departs));
            let width = widths.find(|w| is_spike(time, values, i, *w, smallest, interval));
            found.extend(i..i + width.unwrap_or(0));
            i += width.unwrap_or(1);
        }
    }
    found
}

fn is_spike(time: &[f64], values: &[f64], at: usize, width: usize, smallest: f64, interval: f64) -> bool {
    let get = |i: usize| values.get(i).copied().unwrap_or(f64::NAN);
    // Cheap question first; a missing value anywhere says no.
    let (before, after) = (get(at - 1), get(at + width));
    let rough = get(at) - 0.5 * (before + after);
    if rough.is_nan() || rough.abs() <= smallest {
        return false;
    }
    let (Some(left), Some(right)) = (values.get(at - SIDE..at), values.get(at + width..at + width + SIDE))
    else {
        return false;
    };
    let (Some(start), Some(end)) = (time.get(at - SIDE), time.get(at + width + SIDE - 1)) else {
        return false;
    };
    if end - start > 3.0 * interval * (2 * SIDE + width) as f64 {
        return false;
    }
    let (l, r) = (median3(left), median3(right));
    let base = 0.5 * (l + r);
    let height = get(at) - base;
    let all_out = values.get(at..at + width).unwrap_or(&[]).iter().all(|v| {
        let d = v - base;
        d.abs() > smallest && d.abs() > 0.5 * height.abs() && (d > 0.0) == (height > 0.0)
    });
    // NaN compares false throughout, so a missing neighbour means no spike.
    let agree = (r - l).abs() < AGREE * height.abs()
        && left.iter().chain(right).all(|v| (v - base).abs() < 0.5 * height.abs());
    all_out && agree && height.abs() > TIMES * roughness(values, at, width)
}

fn median3(v: &[f64]) -> f64 {
    match v {
        [a, b, c] if (a + b + c).is_finite() => a.max(*b).min(a.min(*b).max(*c)),
        _ => f64::NAN,
    }
}

/// Scaled median of the second differences around a place, the place itself left out.
fn roughness(values: &[f64], at: usize, width: usize) -> f64 {
    let from = at.saturating_sub(AROUND);
    let part = |a: usize, b: usize| values.get(a..b.min(values.len())).unwrap_or(&[]).windows(3);
    let mut sizes: Vec<f64> = part(from, at)
        .chain(part(at + width, at + width + AROUND))
        .filter_map(|w| if let [a, b, c] = w { Some((b - 0.5 * (a + c)).abs()) } else { None })
        .filter(|d| d.is_finite())
        .collect();
    1.4826 * quantile(&mut sizes, 0.5).unwrap_or(0.0)
}
