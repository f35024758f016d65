//! Finding the pulls of a log, and the shifts inside a pull.

/// A drop of speed, m/s, that ends a pull.
const REVERSAL: f64 = 2.0;
/// Smallest gain of speed, m/s, that counts as a pull.
const GAIN: f64 = 5.0;

/// Stretches of a log with rising speed, as index ranges (end exclusive): a turning-point search with hysteresis of
/// 2 m/s, so that neither noise nor a shift ends a pull; gains below 5 m/s are left out.
pub(crate) fn pulls(v: &[f64]) -> Vec<core::ops::Range<usize>> {
    let mut out = Vec::new();
    let mut low = 0;
    let mut high = 0;
    let value = |i: usize| v.get(i).copied().unwrap_or(0.0);
    for i in 0..v.len() {
        if value(i) > value(high) {
            high = i;
        }
        if value(i) < value(high) - REVERSAL {
            close(&mut out, low, high, &value);
            low = i;
            high = i;
        } else if value(i) <= value(low) {
            // Still falling or standing: the pull begins at the last slowest sample.
            low = i;
            high = i;
        }
    }
    close(&mut out, low, high, &value);
    out
}

fn close(out: &mut Vec<core::ops::Range<usize>>, low: usize, high: usize, value: &impl Fn(usize) -> f64) {
    if high > low && value(high) - value(low) >= GAIN {
        out.push(low..high + 1);
    }
}

/// Samples between which power is interrupted: pairs (first, last) of indices.
///
/// The slope over three steps is compared with its own median over 1.5 s to either side; a shift is where it falls
/// under a third of that by more than five times its noise.
pub(crate) fn shifts(t: &[f64], v: &[f64]) -> Vec<(usize, usize)> {
    let n = v.len();
    let slope: Vec<f64> = (0..n)
        .map(|i| {
            let (a, b) = (i.saturating_sub(1), (i + 2).min(n.saturating_sub(1)));
            let (ta, tb) = (t.get(a).copied().unwrap_or(0.0), t.get(b).copied().unwrap_or(0.0));
            let rise = v.get(b).copied().unwrap_or(0.0) - v.get(a).copied().unwrap_or(0.0);
            if tb > ta { rise / (tb - ta) } else { 0.0 }
        })
        .collect();
    let noise = slope_noise(t, v);
    let mut flagged = vec![false; n];
    for i in 0..n {
        let here = t.get(i).copied().unwrap_or(0.0);
        let mut around: Vec<f64> = (0..n)
            .filter(|k| t.get(*k).is_some_and(|x| libm::fabs(x - here) <= 1.5))
            .filter_map(|k| slope.get(k).copied())
            .collect();
        let usual = median(&mut around);
        let own = slope.get(i).copied().unwrap_or(0.0);
        if let Some(f) = flagged.get_mut(i) {
            // At the ends the slope has fewer steps and more noise than was reckoned with.
            let whole = i > 0 && i + 2 < n;
            *f = whole && usual > 0.0 && own < usual / 3.0 && usual - own > 5.0 * noise;
        }
    }
    let mut out: Vec<(usize, usize)> = Vec::new();
    for (i, _) in flagged.iter().enumerate().filter(|(_, f)| **f) {
        match out.last_mut() {
            Some((_, last)) if i <= *last + 2 => *last = i,
            _ => out.push((i, i)),
        }
    }
    // The slope at a sample looks one back and two ahead: what is interrupted may begin and end that far away.
    out.iter().map(|(a, b)| (a.saturating_sub(1), (b + 2).min(n.saturating_sub(1)))).collect()
}

/// Noise of the three-step slope, from second differences of speed (median absolute deviation).
fn slope_noise(t: &[f64], v: &[f64]) -> f64 {
    let mut second: Vec<f64> = v
        .windows(3)
        .filter_map(|w| match w {
            [a, b, c] => Some(libm::fabs(a - 2.0 * b + c)),
            _ => None,
        })
        .collect();
    let mut steps: Vec<f64> = t.windows(2).filter_map(|w| Some(w.get(1)? - w.first()?)).collect();
    // 0.6745: median of |N(0,1)|; √6: a − 2b + c of unit noise; √2/3 steps: the slope.
    let sigma = median(&mut second) / 0.6745 / libm::sqrt(6.0);
    sigma * libm::sqrt(2.0) / (3.0 * median(&mut steps).max(1e-9))
}

pub(crate) fn median(values: &mut [f64]) -> f64 {
    fairpull_uncertainty::ascending(values);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}
