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
        // the conversion stops at 0 by itself
        let cell = (x as usize).min(self.intervals - 1);
        (cell, x - cell as f64)
    }

    /// The parabola through three samples: exactly what a penalty on third differences leaves alone.
    pub(crate) fn parabola(&self, t: [f64; 3], y: [f64; 3]) -> Parabola {
        let x = t.map(|t| (t - self.start) / self.width);
        let rise = |i: usize| (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
        let bend = (rise(1) - rise(0)) / (x[2] - x[0]);
        let slope = rise(0) - bend * (x[0] + x[1]);
        Parabola { basis: *self, terms: [y[0] - x[0] * (slope + bend * x[0]), slope, bend] }
    }

    /// Values of the five splines that act at `t`.
    pub(crate) fn values(&self, t: f64) -> (usize, [f64; DEGREE + 1]) {
        let (cell, u) = self.locate(t);
        (cell, raise(&cubic(u), u))
    }

    /// Slopes of the five splines that act at `t`, per unit of t.
    pub(crate) fn slopes(&self, t: f64) -> (usize, [f64; DEGREE + 1]) {
        let (cell, u) = self.locate(t);
        let low = cubic(u);
        let mut out = [0.0; DEGREE + 1];
        for (k, slot) in out.iter_mut().enumerate() {
            let left = if k > 0 { low[k - 1] } else { 0.0 };
            *slot = (left - low[k]) / self.width;
        }
        (cell, out)
    }
}

/// A parabola on the scale of the knots.
pub(crate) struct Parabola {
    basis: Basis,
    terms: [f64; 3],
}

impl Parabola {
    pub(crate) fn value(&self, t: f64) -> f64 {
        let x = (t - self.basis.start) / self.basis.width;
        self.terms[0] + x * (self.terms[1] + x * self.terms[2])
    }

    /// Its coefficient at spline `j`: the polar form at the four knots inside (de Boor, A Practical Guide to Splines, 1978;
    /// from memory), which are j − 3/2 ± 1/2 and ± 3/2.
    pub(crate) fn coefficient(&self, j: usize) -> f64 {
        let m = j as f64 - 1.5;
        self.terms[0] + self.terms[1] * m + self.terms[2] * (m * m - 5.0 / 12.0)
    }
}

/// The four cubic B-splines at position u in their cell, and a nothing behind them.
fn cubic(u: f64) -> [f64; DEGREE + 1] {
    let (v, u2) = (1.0 - u, u * u);
    let (v3, u3) = (v * v * v / 6.0, u2 * u / 6.0);
    // the two in the middle are what is left of 1 and of the first moment
    let second = 2.0 / 3.0 - u2 + 0.5 * u2 * u;
    [v3, second, 1.0 - v3 - second - u3, u3, 0.0]
}

/// One degree higher, by the recursion of Cox and de Boor.
fn raise(b: &[f64; DEGREE + 1], u: f64) -> [f64; DEGREE + 1] {
    let mut out = [0.0; DEGREE + 1];
    for (k, slot) in out.iter_mut().enumerate() {
        // knot of spline k in units of width, relative to the cell: k − degree
        let left = if k > 0 { b[k - 1] * (u + (DEGREE - k) as f64) } else { 0.0 };
        *slot = 0.25 * (left + b[k] * ((k + 1) as f64 - u));
    }
    out
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

    #[test]
    fn a_parabola_in_splines() {
        let b = Basis { start: 2.0, width: 0.5, intervals: 7 };
        let f = |t: f64| 1.0 - 3.0 * t + 0.7 * t * t;
        for through in [[2.0, 3.1, 5.5], [2.4, 3.1, 5.0]] {
            let p = b.parabola(through, through.map(f));
            for t in [2.0, 2.2, 4.0, 5.5] {
                assert!((p.value(t) - f(t)).abs() < 1e-13);
                let (first, v) = b.values(t);
                let sum: f64 = v.iter().enumerate().map(|(k, x)| x * p.coefficient(first + k)).sum();
                assert!((sum - f(t)).abs() < 1e-13);
            }
        }
    }

    /// Quartic and cubic cardinal splines at a knot and half way (printed in any table: 1, 11, 11, 1 over 24; 1, 4, 1
    /// over 6; from memory).
    #[test]
    fn printed_values() {
        let b = Basis { start: 0.0, width: 1.0, intervals: 5 };
        let (first, v) = b.values(2.0);
        assert_eq!(first, 2);
        for (got, printed) in v.into_iter().zip([1.0, 11.0, 11.0, 1.0, 0.0]) {
            assert!((got - printed / 24.0).abs() < 1e-16);
        }
        for (got, printed) in b.slopes(2.0).1.into_iter().zip([-1.0, -3.0, 3.0, 1.0, 0.0]) {
            assert!((got - printed / 6.0).abs() < 1e-15);
        }
    }
}
