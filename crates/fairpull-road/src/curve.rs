//! Reading a smoothed log: when a speed is crossed, and the state in between samples.

use crate::smooth::Smooth;

/// State at an instant between samples.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Instant {
    pub(crate) t: f64,
    /// Energy per unit mass and its first two derivatives, SI.
    pub(crate) mean: [f64; 3],
    /// Their covariance.
    pub(crate) cov: [[f64; 3]; 3],
}

impl Instant {
    pub(crate) fn speed(&self) -> f64 {
        libm::sqrt((2.0 * self.mean[0]).max(0.0))
    }

    /// Standard uncertainty of the time at which this energy is reached.
    pub(crate) fn time_uncertainty(&self) -> f64 {
        libm::sqrt(self.cov[0][0].max(0.0)) / libm::fabs(self.mean[1])
    }

    /// Standard uncertainty of the derivative of energy **at this speed**: the doubt about the time of the crossing
    /// moves the point along the curve.
    pub(crate) fn power_uncertainty(&self) -> f64 {
        let lean = self.mean[2] / self.mean[1];
        let var = self.cov[1][1] - 2.0 * lean * self.cov[0][1] + lean * lean * self.cov[0][0];
        libm::sqrt(var.max(0.0))
    }
}

impl Smooth {
    /// The state at a time: quintic through values and two derivatives of both neighbours is not needed at the
    /// stiffness of these splines; a cubic through values and slopes is within a thousandth of the interval.
    pub(crate) fn at(&self, t: f64) -> Option<Instant> {
        let after = self.t.partition_point(|x| *x < t).clamp(1, self.t.len().saturating_sub(1));
        let (i, j) = (after - 1, after);
        let (ta, tb) = (*self.t.get(i)?, *self.t.get(j)?);
        let (a, b) = (self.mean.get(i)?, self.mean.get(j)?);
        let (ca, cb) = (self.cov.get(i)?, self.cov.get(j)?);
        let h = tb - ta;
        let s = (t - ta) / h;
        let mut mean = [0.0; 3];
        for k in 0..2 {
            let p = s * s * (3.0 - 2.0 * s);
            mean[k] = a[k] + (b[k] - a[k]) * p + h * s * (1.0 - s) * ((1.0 - s) * a[k + 1] - s * b[k + 1]);
        }
        mean[2] = a[2] + s * (b[2] - a[2]);
        let mut cov = [[0.0; 3]; 3];
        for r in 0..3 {
            for c in 0..3 {
                cov[r][c] = ca[r][c] + s * (cb[r][c] - ca[r][c]);
            }
        }
        Some(Instant { t, mean, cov })
    }

    /// First crossing of a speed (m/s), upward (`rising`) or downward, at or after a time.
    pub(crate) fn crossing(&self, speed: f64, rising: bool, after: f64) -> Option<Instant> {
        let target = 0.5 * speed * speed;
        let sign = if rising { 1.0 } else { -1.0 };
        let below = |e: f64| sign * (e - target) < 0.0;
        for (pair, times) in self.mean.windows(2).zip(self.t.windows(2)) {
            let ([a, b], [ta, tb]) = (pair, times) else { continue };
            if *tb <= after || !below(a[0]) || below(b[0]) {
                continue;
            }
            let inside = |t: f64| self.at(t).is_some_and(|i| below(i.mean[0]));
            return self.at(crate::march::changeover(inside, ta.max(after), *tb));
        }
        None
    }
}
