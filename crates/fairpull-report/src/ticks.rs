//! Round numbers for an axis.

/// Where an axis begins, ends and carries marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Ticks {
    /// First mark, at or below the data.
    pub low: f64,
    /// Last mark, at or above the data.
    pub high: f64,
    /// Decimals the labels need.
    pub decimals: i32,
    /// Every mark.
    pub at: Vec<f64>,
}

/// Marks at multiples of 1, 2 or 5 times a power of ten, about `want` of them, covering `low..=high`.
/// An empty, reversed or non-finite range is widened to something that can be drawn.
#[must_use]
pub fn nice(low: f64, high: f64, want: usize) -> Ticks {
    let (low, high) = drawable(low, high);
    let rough = (high - low) / want.max(1) as f64;
    let exponent = libm::floor(libm::log10(rough)).clamp(-290.0, 290.0) as i32;
    let lead = rough / libm::pow(10.0, f64::from(exponent));
    let (lead, exponent) = match lead {
        l if l <= 1.5 => (1.0, exponent),
        l if l <= 3.5 => (2.0, exponent),
        l if l <= 7.0 => (5.0, exponent),
        _ => (1.0, exponent + 1),
    };
    let scale = libm::pow(10.0, f64::from(exponent.abs()));
    // Multiply and divide by whole numbers only, so that 0.3 is 0.3 and not 0.30000000000000004.
    let mark = |n: f64| if exponent < 0 { n * lead / scale } else { n * lead * scale };
    let step = mark(1.0);
    let first = libm::floor(low / step + 1e-9);
    let last = libm::ceil(high / step - 1e-9);
    let count = (last - first).clamp(1.0, 100.0) as usize;
    let at: Vec<f64> = (0..=count).map(|i| mark(first + i as f64)).collect();
    Ticks { low: mark(first), high: mark(first + count as f64), decimals: (-exponent).max(0), at }
}

impl Ticks {
    /// The same marks on an axis that ends `low..=high` beyond the data instead of at the next mark.
    #[must_use]
    pub fn trimmed(mut self, low: f64, high: f64) -> Self {
        let (low, high) = (self.low.max(low), self.high.min(high));
        let slack = (high - low) * 1e-9;
        let inside: Vec<f64> =
            self.at.iter().copied().filter(|v| *v >= low - slack && *v <= high + slack).collect();
        if high > low && inside.len() >= 2 {
            self = Self { low, high, decimals: self.decimals, at: inside };
        }
        self
    }
}

fn drawable(low: f64, high: f64) -> (f64, f64) {
    match (low.is_finite(), high.is_finite()) {
        (true, true) if high > low && (high - low).is_finite() => {
            // A range too thin for its own magnitude cannot be told apart in floating point.
            let least = 1e-9 * high.abs().max(low.abs()).max(1e-300);
            if high - low > least { (low, high) } else { (low - least, high + least) }
        }
        (true, true) if high == low => {
            let half = if low == 0.0 { 1.0 } else { low.abs() * 0.1 };
            (low - half, low + half)
        }
        (true, false) => (low, low + 1.0),
        (false, true) => (high - 1.0, high),
        _ => (0.0, 1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_round_and_cover_the_data() {
        let t = nice(2480.0, 6730.0, 6);
        assert_eq!((t.low, t.high, t.decimals), (2000.0, 7000.0, 0));
        assert_eq!(t.at, [2000.0, 3000.0, 4000.0, 5000.0, 6000.0, 7000.0]);
        let t = nice(-0.13, 0.31, 4);
        assert_eq!(t.at, [-0.2, -0.1, 0.0, 0.1, 0.2, 0.3, 0.4]);
        assert_eq!(t.decimals, 1);
    }

    #[test]
    fn an_odd_range_still_gives_an_axis() {
        for (low, high) in [
            (5.0, 5.0),
            (0.0, 0.0),
            (3.0, 2.0),
            (f64::NAN, 1.0),
            (f64::NEG_INFINITY, f64::INFINITY),
            (1e300, 1.000_000_001e300),
            (-f64::MAX, f64::MAX),
        ] {
            let t = nice(low, high, 5);
            assert!(t.high > t.low && t.at.len() >= 2 && t.at.len() <= 101, "{low} {high}: {t:?}");
        }
    }
}
