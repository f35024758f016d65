//! A place on a series of dense values.

/// Where a pull passes an engine speed: between two of its dense values.
pub(crate) struct Place {
    pub low: usize,
    share: f64,
}

impl Place {
    /// The place of `at` on a rising (nearly monotone) series; none outside.
    pub(crate) fn of(x: &[f64], at: f64) -> Option<Self> {
        let n = x.len();
        if n < 2 || !(at >= x[0] && at <= x[n - 1]) {
            return None;
        }
        let (mut low, mut high) = (0, n - 1);
        while high - low > 1 {
            let mid = usize::midpoint(low, high);
            if x[mid] <= at {
                low = mid;
            } else {
                high = mid;
            }
        }
        let w = x[high] - x[low];
        Some(Self { low, share: if w <= 0.0 { 0.0 } else { (at - x[low]) / w } })
    }

    pub(crate) fn read(&self, y: &[f64]) -> f64 {
        self.between(y[self.low], y[self.low + 1])
    }

    pub(crate) fn between(&self, low: f64, high: f64) -> f64 {
        low + self.share * (high - low)
    }
}
