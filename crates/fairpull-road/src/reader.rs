//! Reading times, power and the peak off a smoothed pull.

use crate::curve::Instant;
use crate::error::RoadError;
use crate::interval::Interval;
use crate::load::G;
use crate::log::{LogSetup, LoggedTime, Peak, PowerAt};
use crate::measure::{Measure, ROLLOUT_M};
use crate::slope::SlopeFound;
use crate::smooth::Smooth;

/// A smoothed pull with what is known of car and road.
pub(crate) struct Reader<'a> {
    pub(crate) curve: &'a Smooth,
    pub(crate) setup: LogSetup,
    pub(crate) v: &'a [f64],
    pub(crate) found: &'a [(usize, usize)],
    pub(crate) notices: Vec<String>,
}

impl Reader<'_> {
    pub(crate) fn take_slope(&mut self, found: &SlopeFound) {
        let stated = self.setup.conditions.slope_percent;
        let u = found.slope_percent.standard_uncertainty();
        let gap = libm::fabs(found.slope_percent.value - stated);
        if gap > 2.0 * libm::hypot(u, self.setup.slope_u_percent)
            && (stated != 0.0 || self.setup.slope_u_percent > 0.0)
        {
            self.notices.push(format!(
                "the height channel shows a slope of {:.2} %, the setup states {stated:.2} %; the height was used",
                found.slope_percent.value
            ));
        }
        self.setup.conditions.slope_percent = found.slope_percent.value;
        self.setup.slope_u_percent = u;
    }

    fn never(&self, speed: f64) -> RoadError {
        let low = self.v.iter().copied().fold(f64::INFINITY, f64::min);
        let high = self.v.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        RoadError::NeverCrossed { speed_kmh: speed * 3.6, low_kmh: low * 3.6, high_kmh: high * 3.6 }
    }

    pub(crate) fn time(&self, measure: Measure) -> Result<LoggedTime, RoadError> {
        measure.check()?;
        let (from, rollout) = match measure {
            Measure::Speeds { from_kmh, rollout, .. } | Measure::Distance { from_kmh, rollout, .. } => {
                (from_kmh / 3.6, rollout)
            }
        };
        let scale = self.setup.speed_scale_u_relative;
        let (t0, u0, x0, lag0) = if from == 0.0 {
            let (t, u, a) = self.standing_start()?;
            let r = if rollout { libm::sqrt(2.0 * ROLLOUT_M / a) } else { 0.0 };
            (t + r, u, if rollout { ROLLOUT_M } else { 0.0 }, 0.0)
        } else {
            let c = self.curve.crossing(from, true, f64::NEG_INFINITY).ok_or_else(|| self.never(from))?;
            (c.t, c.time_uncertainty(), self.distance(c.t), scale * from * from / c.mean[1])
        };
        let x0 = if from == 0.0 { x0 + self.distance_offset() } else { x0 };
        let (end, x1) = match measure {
            Measure::Speeds { to_kmh, .. } => {
                let to = to_kmh / 3.6;
                let c = self.curve.crossing(to, true, t0).ok_or_else(|| self.never(to))?;
                (c, self.distance(c.t))
            }
            Measure::Distance { distance_m, .. } => {
                let last = self.curve.t.last().copied().unwrap_or(0.0);
                let goal = x0 + distance_m;
                if self.distance(last) < goal {
                    return Err(RoadError::NotReached {
                        target: format!("the distance {distance_m} m"),
                        stalled_kmh: self.v.last().copied().unwrap_or(0.0) * 3.6,
                    });
                }
                let t = crate::march::changeover(|t| self.distance(t) < goal, t0, last);
                let c = self.curve.at(t).ok_or_else(|| self.never(0.0))?;
                (c, goal)
            }
        };
        let (end_u, lag1) = match measure {
            Measure::Speeds { to_kmh, .. } => {
                let to = to_kmh / 3.6;
                (end.time_uncertainty(), scale * to * to / end.mean[1])
            }
            // Distance is the integral of speed: its noise averages out, its scale does not.
            Measure::Distance { distance_m, .. } => {
                let noise = self.curve.noise
                    * libm::sqrt((end.t - t0) * self.step() * inflation(self.curve.correlation));
                (noise / end.speed(), scale * distance_m / end.speed())
            }
        };
        let value = end.t - t0;
        let run = libm::hypot(u0, end_u);
        let rig = libm::fabs(lag1 - lag0);
        Ok(LoggedTime {
            measure,
            name: measure.name(),
            time_s: Interval::normal(value, libm::hypot(run, rig)),
            run_u_s: run,
            rig_u_s: rig,
            distance_m: x1 - x0,
            end_speed_kmh: end.speed() * 3.6,
        })
    }

    fn step(&self) -> f64 {
        let t = &self.curve.t;
        (t.last().copied().unwrap_or(0.0) - t.first().copied().unwrap_or(0.0)) / (t.len() - 1).max(1) as f64
    }

    /// Time at which speed was 0, its standard uncertainty, and the acceleration of the launch: a straight line
    /// through speed between 1 and 6 m/s (at least four samples), carried back to 0.
    fn standing_start(&self) -> Result<(f64, f64, f64), RoadError> {
        let first = self.v.first().copied().unwrap_or(f64::INFINITY);
        if first > 5.0 {
            return Err(self.never(0.0));
        }
        let n = self.v.iter().take_while(|x| **x < 6.0).count().max(4);
        let origin = self.curve.t.first().copied().unwrap_or(0.0);
        let rows: Vec<[f64; 2]> = self.curve.t.iter().take(n).map(|t| [1.0, t - origin]).collect();
        let y: Vec<f64> = self.v.iter().take(n).copied().collect();
        let fit = crate::linear::least_squares(&rows, &y, None).filter(|f| f.coefficients[1] > 0.1).ok_or(
            RoadError::NoAnswer {
                what: "no start from rest in the log".to_owned(),
                mend: "log from before the car moves",
            },
        )?;
        let [b, a] = fit.coefficients;
        let s = self.curve.noise * libm::sqrt(inflation(self.curve.correlation));
        let t = -b / a;
        let var = fit.inverse[0][0] + 2.0 * t * fit.inverse[0][1] + t * t * fit.inverse[1][1];
        Ok((origin + t, s * libm::sqrt(var) / a, a))
    }

    /// Distance, m, from the first sample of the pull: trapezoids of smoothed speed.
    fn distance(&self, t: f64) -> f64 {
        let speed = |e: f64| libm::sqrt((2.0 * e).max(0.0));
        let mut x = 0.0;
        for (times, pair) in self.curve.t.windows(2).zip(self.curve.mean.windows(2)) {
            let ([ta, tb], [a, b]) = (times, pair) else { continue };
            if *ta >= t {
                break;
            }
            let (va, vb) = (speed(a[0]), speed(b[0]));
            let part = ((t - ta) / (tb - ta)).min(1.0);
            let vt = va + (vb - va) * part;
            x += 0.5 * (va + vt) * part * (tb - ta);
        }
        x
    }

    /// Position of the standing start on the scale of [`Reader::distance`]: before its origin.
    fn distance_offset(&self) -> f64 {
        let v = self.v.first().copied().unwrap_or(0.0);
        self.standing_start().map_or(0.0, |(_, _, a)| -0.5 * v * v / a)
    }

    /// Mass factor of the gear that is engaged at an instant.
    fn factor(&self, t: f64) -> f64 {
        let ends = |i: usize| self.curve.t.get(i).copied().unwrap_or(f64::INFINITY);
        let gear = self.found.iter().filter(|(_, b)| t >= ends(*b)).count();
        let all = &self.setup.mass_factors;
        all.get(gear).or(all.last()).copied().unwrap_or(1.0)
    }

    fn in_shift(&self, t: f64) -> bool {
        let at = |i: usize| self.curve.t.get(i).copied().unwrap_or(f64::INFINITY);
        self.found.iter().any(|(a, b)| t > at(*a) && t < at(*b))
    }

    fn power(&self, at: &Instant) -> PowerAt {
        let s = &self.setup;
        let v = at.speed();
        let on = &s.conditions;
        let factor = self.factor(at.t);
        let inertia = s.mass_kg * factor * at.mean[1];
        let load = s.load.force(v, on.headwind_mps, on.density_kg_per_m3);
        let grade = s.mass_kg * G * on.slope_sine();
        let watts = inertia + (load + grade) * v;
        let drag = s.load.f2_n_per_mps2 * on.density_kg_per_m3 / s.load.density_kg_per_m3;
        let wind = v + on.headwind_mps;
        let parts = [
            (factor * at.mean[1] + G * on.slope_sine() * v) * s.mass_u_kg,
            s.mass_kg * at.mean[1] * s.mass_factor_u,
            v * s.f0_u_n,
            drag * wind * wind * v * s.drag_u_relative,
            s.mass_kg * G * v * 0.01 * s.slope_u_percent,
            2.0 * drag * wind * v * s.headwind_u_mps,
            (2.0 * inertia + (load + grade) * v + (s.load.f1_n_per_mps + 2.0 * drag * wind) * v * v)
                * s.speed_scale_u_relative,
        ];
        let rig = libm::sqrt(parts.iter().map(|p| p * p).sum::<f64>());
        let run = s.mass_kg * factor * at.power_uncertainty();
        PowerAt {
            speed_kmh: v * 3.6,
            wheel_power_kw: Interval::normal(watts / 1000.0, libm::hypot(run, rig) / 1000.0),
            run_u_kw: run / 1000.0,
            rig_u_kw: rig / 1000.0,
            acceleration_mps2: at.mean[1] / v,
        }
    }

    pub(crate) fn power_curve(&self) -> Result<Vec<PowerAt>, RoadError> {
        let step = self.setup.curve_step_kmh;
        let speed =
            |i: usize| self.curve.mean.get(i).map_or(0.0, |m| libm::sqrt((2.0 * m[0]).max(0.0)) * 3.6);
        // At the very edge noise decides whether a speed was crossed at all: stay three deviations inside.
        let edge = 3.0 * self.curve.noise * 3.6;
        let (low, high) = (speed(0) + edge, speed(self.curve.mean.len().saturating_sub(1)) - edge);
        let mut out = Vec::new();
        let first = libm::ceil(low / step - 1e-9).max(1.0);
        let last = libm::floor(high / step + 1e-9);
        if last - first > 100_000.0 {
            return Err(RoadError::Field {
                field: "step of the power curve".to_owned(),
                value: step,
                unit: "km/h",
                expected: "a step that gives at most 100000 points".to_owned(),
                mend: "5 km/h is usual",
            });
        }
        let mut k = first;
        while k <= last {
            if let Some(at) = self.curve.crossing(k * step / 3.6, true, f64::NEG_INFINITY)
                && !self.in_shift(at.t)
            {
                out.push(self.power(&at));
            }
            k += 1.0;
        }
        Ok(out)
    }

    /// The maximum of the smoothed curve, freed of the lift that searching a maximum gives it.
    pub(crate) fn peak(&self) -> Option<Peak> {
        let n = self.curve.t.len();
        // below 1 m/s energy says nothing of power, and power over speed has no value at a standstill
        let moves = |i: usize| self.curve.mean.get(i).is_some_and(|m| m[0] > 0.5);
        let usable: Vec<usize> = (1..n.saturating_sub(1))
            .filter(|i| moves(*i) && self.curve.t.get(*i).is_some_and(|t| !self.in_shift(*t)))
            .collect();
        let at = |i: usize| self.curve.at(*self.curve.t.get(i)?);
        let watts =
            |i: usize| at(i).map_or(f64::NEG_INFINITY, |s| self.power(&s).wheel_power_kw.value * 1000.0);
        let mut top = *usable.first()?;
        for i in &usable {
            if watts(*i) > watts(top) {
                top = *i;
            }
        }
        let state = at(top)?;
        let mut found = self.power(&state);
        // Near the top P = P0 − ½c·(t − t0)²; noise of slope variance s² lifts the maximum by s²/(2c).
        let width = self.reach(top, &watts, found.wheel_power_kw.value * 1000.0);
        let interior = width.is_some();
        if let Some((left, right, drop)) = width {
            let half = 0.5 * (right - left);
            let bend = 2.0 * drop / (half * half);
            let scale = self.setup.mass_kg * self.factor(state.t);
            let slope_var = scale * scale * state.cov[2][2].max(0.0);
            // Never more than the noise itself: on a flat top the parabola has no bend to divide by.
            let lift = (0.5 * slope_var / bend).min(found.run_u_kw * 1000.0) / 1000.0;
            found.run_u_kw = libm::hypot(found.run_u_kw, 0.5 * lift);
            let u = libm::hypot(found.run_u_kw, found.rig_u_kw);
            found.wheel_power_kw = Interval::normal(found.wheel_power_kw.value - lift, u);
        }
        Some(Peak { at: found, interior })
    }

    /// Times to either side at which power has fallen by 2 %, and the mean fall; none at the edge of the log.
    fn reach(&self, top: usize, watts: &impl Fn(usize) -> f64, peak: f64) -> Option<(f64, f64, f64)> {
        let low = 0.98 * peak;
        let left = (0..top).rev().find(|i| watts(*i) < low)?;
        let right = (top + 1..self.curve.t.len()).find(|i| watts(*i) < low)?;
        let drop = peak - 0.5 * (watts(left) + watts(right));
        Some((*self.curve.t.get(left)?, *self.curve.t.get(right)?, drop))
    }
}

/// Variance of a mean of correlated noise over that of white noise.
fn inflation(correlation: f64) -> f64 {
    (1.0 + correlation) / (1.0 - correlation).max(0.05)
}
