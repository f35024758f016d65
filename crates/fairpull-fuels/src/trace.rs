//! Everything a closed cycle tells: peaks, work, wall heat, energy balance, onset of autoignition.

use fairpull_core::Refusal;

use crate::cycle::{Cycle, END, GAS_CONSTANT, Gas};
use crate::delay::{integral_at_onset, required_octane};

/// Summary of a closed cycle from intake valve closing to 130 degrees after top dead centre.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct CycleSummary {
    /// Pressure at top dead centre, Pa.
    pub pressure_at_top: f64,
    /// Highest pressure, Pa.
    pub peak_pressure: f64,
    /// Angle of the highest pressure, degrees.
    pub peak_angle: f64,
    /// Unburned temperature at the highest pressure, K.
    pub unburned_at_peak: f64,
    /// Angle at which the burn limit is reached, degrees.
    pub limit_angle: f64,
    /// Unburned temperature there, K.
    pub unburned_at_limit: f64,
    /// Induction-time integral for octane number 100 up to there.
    pub integral_100: f64,
    /// Required octane number.
    pub required_octane: f64,
    /// Work of the closed cycle over the swept volume, Pa.
    pub work_per_volume: f64,
    /// Heat lost to the walls, J.
    pub wall_heat: f64,
    /// Heat released less wall heat, work and rise of internal energy, over the heat released: 0 for a perfect sum.
    pub energy_imbalance: f64,
}

impl Cycle {
    /// Runs the closed cycle to its end.
    ///
    /// # Errors
    /// [`Refusal::NoConvergence`] when the pressure leaves the positive finite numbers.
    pub fn summary(&self) -> Result<CycleSummary, Refusal> {
        let (spark, limit) = (self.state.burn_start, self.limit_angle());
        let mut peak = (self.state.ivc_angle, self.state.ivc_pressure);
        let mut pressure_at_top = f64::NAN;
        let mut look = |angle: f64, gas: &Gas, width: f64, burning: bool| {
            if self.slope(angle, gas, burning)[0] > 0.0 {
                let part = bisect(width, |w| {
                    let there = self.step(angle, gas, w, burning);
                    self.slope(angle + w, &there, burning)[0] > 0.0
                });
                let pressure = self.step(angle, gas, part, burning)[0];
                if pressure > peak.1 {
                    peak = (angle + part, pressure);
                }
            }
            if angle <= 0.0 && 0.0 < angle + width {
                pressure_at_top = self.step(angle, gas, -angle, burning)[0];
            }
            true
        };
        let ivc = self.state.ivc_angle;
        let start = self.segment(ivc, spark, self.closing(), false, |a, g, w| look(a, g, w, false))?;
        let at_limit = self.segment(spark, limit, start, true, |a, g, w| look(a, g, w, true))?;
        let end = self.segment(limit, END, at_limit, true, |a, g, w| look(a, g, w, true))?;
        Ok(CycleSummary {
            pressure_at_top,
            peak_pressure: peak.1,
            peak_angle: peak.0,
            unburned_at_peak: self.unburned_temperature(peak.1),
            limit_angle: limit,
            unburned_at_limit: self.unburned_temperature(at_limit[0]),
            integral_100: at_limit[2],
            required_octane: required_octane(at_limit[2]),
            work_per_volume: end[3] / self.swept,
            wall_heat: end[1],
            energy_imbalance: self.imbalance(&end),
        })
    }

    /// Angle at which a fuel of this octane number autoignites, whatever is burned by then; `None` when it does not
    /// before 130 degrees.
    ///
    /// # Errors
    /// [`Refusal::NoConvergence`] when the pressure leaves the positive finite numbers.
    pub fn onset(&self, octane: f64) -> Result<Option<f64>, Refusal> {
        let target = integral_at_onset(octane);
        let start = self.compress()?;
        let mut found = None;
        // a step that starts below the target and ends above it holds the onset
        self.segment(self.state.burn_start, END, start, true, |angle, gas, width| {
            if gas[2] < target && self.step(angle, gas, width, true)[2] >= target {
                let part = bisect(width, |w| self.step(angle, gas, w, true)[2] < target);
                found = Some(angle + part);
            }
            found.is_none()
        })?;
        Ok(found)
    }

    /// Energy that the sum of the parts misses, over the heat released. The internal energy is the integral of
    /// m R/(γ(T) − 1) over the temperature, taken in closed form and not by the integration.
    fn imbalance(&self, end: &Gas) -> f64 {
        // ∫ dT/(c − b T + a T²) = 2/q · atan((2 a T − b)/q), q² = 4 a c − b²
        let (a, b, c) = (1.0e-8, 6.0e-5, 0.338);
        let q = libm::sqrt(4.0 * a * c - b * b);
        let energy = |t: f64| self.mass() * GAS_CONSTANT * 2.0 / q * libm::atan((2.0 * a * t - b) / q);
        let last = self.temperature(end[0], self.volume(END));
        let released = self.heat() * self.burned(END);
        (released - end[1] - end[3] - (energy(last) - energy(self.state.ivc_temperature))) / released
    }
}

/// Largest width up to `width` at which `still` holds, to the last bit.
fn bisect(width: f64, still: impl Fn(f64) -> bool) -> f64 {
    if still(width) {
        return width;
    }
    let (mut low, mut high) = (0.0, width);
    for _ in 0..60 {
        let mid = 0.5 * (low + high);
        if still(mid) {
            low = mid;
        } else {
            high = mid;
        }
    }
    low
}
