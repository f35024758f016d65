//! Bisection: always the same steps, always ends.

/// Root of an increasing function in `low..=high`, to the last bit of the bracket. NaN counts as "too high".
pub(crate) fn bisect(mut low: f64, mut high: f64, below: impl Fn(f64) -> bool) -> f64 {
    // 200 halvings of any bracket used here end at neighbouring floats.
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if below(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
