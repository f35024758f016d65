//! Quartic B-splines on equally spaced knots.

/// Degree of the splines; the slope is then a cubic spline.
pub(crate) const DEGREE: usize = 4;

/// Equally spaced knots from `start`, `intervals` of `width`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Basis {
    pub(crate) start: f64,
    pub(crate) width: f64,
    pub(crate) intervals: usize,
}

impl Basis {
    /// Number of coefficients.
    pub(crate) fn len(&self) -> usize {
        self.intervals + DEGREE
    }

    /// First coefficient that acts at `t`, and the position inside the interval, 0 to 1 (beyond at the ends).
    fn locate(&self, t: f64) -> (usize, f64) {
        let x = (t - self.start) / self.width;
        let cell = libm::floor(x).clamp(0.0, (self.intervals - 1) as f64);
        (cell as usize, x - cell)
    }

    /// Values of the five splines that act at `t`.
    pub(crate) fn values(&self, t: f64) -> (usize, [f64; DEGREE + 1]) {
        let (cell, u) = self.locate(t);
        (cell, uniform::<DEGREE>(u))
    }

    /// Slopes of the five splines that act at `t`, per unit of t.
    pub(crate) fn slopes(&self, t: f64) -> (usize, [f64; DEGREE + 1]) {
        let (cell, u) = self.locate(t);
        let low = uniform::<{ DEGREE - 1 }>(u);
        let mut out = [0.0; DEGREE + 1];
        for (k, slot) in out.iter_mut().enumerate() {
            let left = if k > 0 { low[k - 1] } else { 0.0 };
            let right = if k < DEGREE { low[k] } else { 0.0 };
            *slot = (left - right) / self.width;
        }
        (cell, out)
    }
}

/// Uniform B-splines of degree D at position u in their middle cell, by the recursion of Cox and de Boor.
fn uniform<const D: usize>(u: f64) -> [f64; DEGREE + 1] {
    let mut b = [0.0; DEGREE + 1];
    b[0] = 1.0;
    for d in 1..=D {
        let df = d as f64;
        for k in (0..=d).rev() {
            // knot of spline k in units of width, relative to the cell: k − d
            let left = if k > 0 { b[k - 1] * (u + df - k as f64) / df } else { 0.0 };
            let right = if k < d { b[k] * (k as f64 + 1.0 - u) / df } else { 0.0 };
            b[k] = left + right;
        }
    }
    b
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn partition_of_unity_and_slope() {
        let b = Basis { start: 2.0, width: 0.5, intervals: 7 };
        for i in 0..=70 {
            let t = 2.0 + 0.05 * f64::from(i);
            let (_, v) = b.values(t);
            assert!((v.iter().sum::<f64>() - 1.0).abs() < 1e-14);
            let (cell, s) = b.slopes(t);
            assert!(s.iter().sum::<f64>().abs() < 1e-13);
            let h = 1e-6;
            let (c1, up) = b.values(t + h);
            let (c0, down) = b.values(t - h);
            if c0 == c1 && c0 == cell {
                for k in 0..=DEGREE {
                    assert!((s[k] - (up[k] - down[k]) / (2.0 * h)).abs() < 1e-7);
                }
            }
        }
    }
}
