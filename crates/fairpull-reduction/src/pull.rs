//! One pull with its coast-down: smooth speed, acceleration and contact force.

use core::ops::Range;

use fairpull_smoothing::{Penalised, SmoothingError};
use fairpull_uncertainty::NormalEquations;

use crate::coast::{self, CoastFit};
use crate::job::{Job, RigKind};
use crate::segment::Found;
use crate::trace::Trace;

/// Finest knots of the speed curve, s, when the job asks for nothing else.
const FINEST: f64 = 0.1;
/// Step of the dense series that figures are read from, s.
const DENSE: f64 = 0.02;

/// What one pull gives before any calibration enters.
#[derive(Clone, Debug)]
pub(crate) struct PullFit {
    pub state: usize,
    pub name: String,
    pub rows: Range<usize>,
    pub start: f64,
    pub seconds: f64,
    pub samples: usize,
    /// Dense series.
    pub time: Vec<f64>,
    pub v: Vec<f64>,
    pub a: Vec<f64>,
    /// Standard deviation of a from noise alone, and with smoothing bias.
    pub a_noise: Vec<f64>,
    pub a_total: Vec<f64>,
    /// Brake force (or hub torque over radius), N; empty on an inertia rig.
    pub force: Vec<f64>,
    /// Standard deviation of the contact force from the force reading, N.
    pub force_noise: Vec<f64>,
    pub coast: Option<CoastFit>,
    /// Hub rig: measured force in the coast-down as a polynomial of speed, N.
    pub coast_force: Option<[f64; 3]>,
    pub coast_note: &'static str,
    pub flags: Vec<String>,
    /// (v, engine rad/s, dense index position) of rows with both, for ratio and slip.
    pub pairs: Vec<(f64, f64, f64)>,
    /// (v, engine, force reading) while the speed is steady before the pull.
    pub idle_pairs: Vec<(f64, f64, f64)>,
    /// Lag correlation of the speed noise that was found.
    pub correlation: f64,
}

impl PullFit {
    pub(crate) fn new(
        trace: &Trace,
        found: &Found,
        job: &Job,
        state: usize,
        name: String,
    ) -> Result<Self, SmoothingError> {
        let rows = found.pull.clone();
        let t = &trace.time[rows.clone()];
        let v = &trace.speed[rows.clone()];
        let finest = job.grid.smoothing.map_or(FINEST, |rpm| finest_time(rpm, t, v, job));
        let braked = job.rig.kind == RigKind::BrakedRoller;
        let mass = job.rig.inertia.value / (job.rig.radius.value * job.rig.radius.value);
        let impulse = impulse(trace, rows.clone());
        // with a brake, momentum plus braking impulse is the smooth thing: its slope is the contact force
        let speed_fit;
        let force_fit;
        if braked {
            let total: Vec<f64> = v.iter().zip(&impulse).map(|(v, i)| v + i / mass).collect();
            speed_fit = Penalised::fit(t, &total, finest)?;
            force_fit = Some(Penalised::fit(t, &impulse, finest)?);
        } else {
            speed_fit = Penalised::fit(t, v, finest)?;
            force_fit = match job.rig.kind {
                RigKind::Hub => Some(Penalised::fit(t, &impulse, finest)?),
                _ => None,
            };
        }
        let plain = if braked { Some(Penalised::fit(t, v, finest)?) } else { None };
        let (first, last) = (t[0], t[t.len() - 1]);
        let count = ((last - first) / DENSE).max(20.0) as usize;
        let mut fit = Self {
            state,
            name,
            rows: rows.clone(),
            start: first,
            seconds: last - first,
            samples: t.len(),
            time: Vec::with_capacity(count + 1),
            v: Vec::with_capacity(count + 1),
            a: Vec::with_capacity(count + 1),
            a_noise: Vec::with_capacity(count + 1),
            a_total: Vec::with_capacity(count + 1),
            force: Vec::new(),
            force_noise: Vec::new(),
            coast: None,
            coast_force: None,
            coast_note: found.coast_note,
            flags: Vec::new(),
            pairs: Vec::with_capacity(rows.len()),
            idle_pairs: Vec::new(),
            correlation: speed_fit.correlation(),
        };
        for i in 0..=count {
            let at = first + (last - first) * i as f64 / count as f64;
            fit.time.push(at);
            let smooth = plain.as_ref().unwrap_or(&speed_fit);
            fit.v.push(smooth.value(at));
            let (noise, total) = speed_fit.slope_deviations(at);
            fit.a_noise.push(noise);
            fit.a_total.push(total);
            match &force_fit {
                Some(f) => {
                    let force = f.slope(at);
                    fit.force.push(force);
                    fit.force_noise.push(if braked { 0.0 } else { f.slope_noise(at) });
                    // what the total leaves for inertia once the brake has its part
                    fit.a.push(if braked { speed_fit.slope(at) - force / mass } else { speed_fit.slope(at) });
                }
                None => fit.a.push(speed_fit.slope(at)),
            }
        }
        fit.pair_speeds(trace, found);
        fit.fit_coast(trace, found, job);
        Ok(fit)
    }

    /// Rate of the force at a dense index, N/s.
    pub(crate) fn force_rate(&self, i: usize) -> f64 {
        let (j, k) = (i.saturating_sub(1), (i + 1).min(self.force.len().saturating_sub(1)));
        match (self.force.get(j), self.force.get(k)) {
            (Some(a), Some(b)) if k > j => (b - a) / (self.time[k] - self.time[j]),
            _ => 0.0,
        }
    }

    fn pair_speeds(&mut self, trace: &Trace, found: &Found) {
        let (first, last) = (self.start, self.start + self.seconds);
        let scale = (self.time.len() - 1) as f64 / (last - first);
        for k in self.rows.clone() {
            if trace.engine[k].is_finite() {
                let at = (trace.time[k] - first) * scale;
                self.pairs.push((interpolate(&self.v, at), trace.engine[k], at));
            }
        }
        for k in found.lead.clone() {
            if trace.engine[k].is_finite() && trace.speed[k] > 1.0 {
                // a brake may hold the car at full load there
                let force = trace.force.get(k).copied().filter(|f| f.is_finite()).unwrap_or(0.0);
                self.idle_pairs.push((trace.speed[k], trace.engine[k], force));
            }
        }
    }

    fn fit_coast(&mut self, trace: &Trace, found: &Found, job: &Job) {
        let Some(rows) = found.coast.clone() else { return };
        let top = self.v.iter().copied().fold(0.0, f64::max).max(trace.speed[rows.start]);
        let t = &trace.time[rows.clone()];
        let v = &trace.speed[rows.clone()];
        match coast::fit(t, v, top) {
            Some(f) => {
                if f.seconds < 5.0 {
                    self.flags.push(format!(
                        "the coast-down lasts only {:.1} s ({:.0} to {:.0} km/h): the loss below that speed is extrapolated and its interval wider",
                        f.seconds,
                        f.from * 3.6,
                        f.to * 3.6
                    ));
                }
                self.coast = Some(f);
            }
            None => self.coast_note = "its samples do not determine a drag",
        }
        if job.rig.kind == RigKind::Hub {
            let mut drag = NormalEquations::new();
            for k in rows.filter(|k| trace.force[*k].is_finite()) {
                let v = trace.speed[k];
                drag.push(&[1.0, v, v * v], trace.force[k]);
            }
            self.coast_force = drag.solve().map(|found| found.coefficients);
            if self.coast_force.is_none() {
                self.coast = None;
                self.coast_note = "its torque readings do not determine a drag";
            }
        }
    }
}

/// Value of a dense series at a fractional index.
pub(crate) fn interpolate(series: &[f64], at: f64) -> f64 {
    let end = series.len().saturating_sub(1);
    let x = at.clamp(0.0, end as f64);
    let i = (x as usize).min(end.saturating_sub(1));
    let (a, b) = (series.get(i).copied().unwrap_or(f64::NAN), series.get(i + 1).copied());
    match b {
        Some(b) => a + (x - i as f64) * (b - a),
        None => a,
    }
}

/// ∫ force dt over the rows, N·s; missing readings are bridged by the ones before.
fn impulse(trace: &Trace, rows: Range<usize>) -> Vec<f64> {
    let mut out = Vec::with_capacity(rows.len());
    if trace.force.is_empty() {
        return out;
    }
    let (mut sum, mut before, mut last) = (0.0, f64::NAN, f64::NAN);
    for k in rows {
        let f = if trace.force[k].is_finite() { trace.force[k] } else { before };
        if last.is_finite() && f.is_finite() && before.is_finite() {
            sum += 0.5 * (f + before) * (trace.time[k] - last);
        }
        out.push(sum);
        before = f;
        last = trace.time[k];
    }
    out
}

fn finest_time(rpm: f64, t: &[f64], v: &[f64], job: &Job) -> f64 {
    let per_second = (v[v.len() - 1] - v[0]) / (t[t.len() - 1] - t[0]) / job.vehicle.tyre_radius.value
        * job.vehicle.ratio
        * 30.0
        / core::f64::consts::PI;
    (rpm / per_second.max(1.0)).clamp(0.02, 2.0)
}
