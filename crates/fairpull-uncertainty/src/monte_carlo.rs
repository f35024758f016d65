//! Coverage intervals of a sample (JCGM 101:2008, 7.7 and 5.3.4).

/// A coverage interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coverage {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// The probabilistically symmetric interval: equal tails on both sides. `None` for an empty sample.
/// `draws` change their places; NaN counts as the highest.
pub fn probabilistically_symmetric(draws: &mut [f64], probability: f64) -> Option<Coverage> {
    let last = draws.len().checked_sub(1)?;
    let q = (probability * draws.len() as f64 + 0.5) as usize;
    let r = draws.len().saturating_sub(q) / 2;
    let high = nth(draws, (r + q).min(last));
    // the lower end stands before the upper one
    let low = nth(draws.get_mut(..=(r + q).min(last))?, r.min(last));
    Some(Coverage { low, high })
}

/// The shortest interval that holds the given probability. `None` for an empty sample.
pub fn shortest(draws: &mut [f64], probability: f64) -> Option<Coverage> {
    ascending(draws);
    let n = draws.len();
    let q = ((probability * n as f64 + 0.5) as usize).min(n.saturating_sub(1));
    let mut best: Option<Coverage> = None;
    for (low, high) in draws.iter().zip(draws.iter().skip(q)) {
        if best.is_none_or(|b| high - low < b.high - b.low) {
            best = Some(Coverage { low: *low, high: *high });
        }
    }
    best
}

/// Sorts in the total order of numbers, NaN last. One function for all, since each use of the generic one is compiled
/// anew.
#[inline(never)]
pub fn ascending(values: &mut [f64]) {
    values.sort_unstable_by(f64::total_cmp);
}

/// The value that stands at `n` in ascending order, NaN where there is none; the values change their places.
#[inline(never)]
pub fn nth(values: &mut [f64], n: usize) -> f64 {
    if n < values.len() { *values.select_nth_unstable_by(n, f64::total_cmp).1 } else { f64::NAN }
}
