//! Delay of the force (or hub-torque) channel against the speed channel, from the pulls themselves.
//!
//! While a brake takes up its ramp at full load, acceleration and braking force change against each other within a
//! fraction of a second, and their sum, the force of the engine less all drags, is a smooth function g of speed. The
//! equation of motion integrated, `v(t) = v_0 + c ∫g(v) dt' − c ∫F(t' + τ) dt'` with g a polynomial and
//! c = 1/(mass of rig and car), is linear in all but τ; the τ that leaves the least residual is the delay. A slow
//! filter in the channel acts like a delay here and is removed with it.

use core::ops::Range;

use fairpull_uncertainty::least_squares;

use crate::trace::Trace;

/// What is known of the delay when the pulls do not show it: 30 ms ± 30 ms (own judgement: a load-cell amplifier
/// filters at a few hertz to a few tens of hertz).
const PRIOR: (f64, f64) = (0.03, 0.03);
/// Relative standard deviation of the mass known beforehand.
const MASS: f64 = 0.05;
/// Share of the delay that stays unknown however well the take-up shows it: what a filter does to a fast change looks
/// shorter than what it does to the slow slope of a pull, by a tenth to a sixth on simulated channels.
const FILTER: f64 = 0.15;
/// Degree of the polynomial g.
const DEGREE: usize = 5;
/// Longest delay that is believed, s.
const LONGEST: f64 = 0.4;

/// Delay of the force channel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Delay {
    pub seconds: f64,
    pub uncertainty: f64,
    /// The pulls show it better than the prior does.
    pub measured: bool,
}

impl Delay {
    pub(crate) const NONE: Self = Self { seconds: 0.0, uncertainty: 0.0, measured: true };
}

/// Joint estimate over pulls (trace and rows at full load), with the prior. `mass` is that of rig and car together, kg.
pub(crate) fn estimate(pulls: &[(&Trace, Range<usize>)], mass: f64) -> Delay {
    let mut single: Vec<(f64, f64)> = Vec::new();
    // The pulls of a log share its sums.
    for log in pulls.chunk_by(|a, b| core::ptr::eq(a.0, b.0)) {
        let Some(cumulative) = log.first().and_then(|(t, _)| Cumulative::new(t)) else { continue };
        single.extend(log.iter().filter_map(|(t, r)| one(t, r.clone(), &cumulative, mass)));
    }
    let mut weight = 1.0 / (PRIOR.1 * PRIOR.1);
    let mut sum = PRIOR.0 * weight;
    if !single.is_empty() {
        let w: f64 = single.iter().map(|(_, u)| 1.0 / (u * u)).sum();
        let mean = single.iter().map(|(d, u)| d / (u * u)).sum::<f64>() / w;
        // pulls that scatter more than each says of itself say so for all (Birge ratio)
        let chi2: f64 = single.iter().map(|(d, u)| (d - mean) * (d - mean) / (u * u)).sum();
        let birge = (chi2 / (single.len() as f64 - 1.0).max(1.0)).max(1.0);
        weight += w / birge;
        sum += mean * w / birge;
    }
    let seconds = (sum / weight).max(0.0);
    let seen = libm::sqrt(1.0 / weight);
    Delay { seconds, uncertainty: libm::hypot(seen, FILTER * seconds), measured: seen < 0.5 * PRIOR.1 }
}

/// Delay and standard uncertainty from one pull.
fn one(trace: &Trace, rows: Range<usize>, cumulative: &Cumulative<'_>, mass: f64) -> Option<(f64, f64)> {
    let t = &trace.time;
    let rows = window(trace, rows)?;
    let first = t[rows.start];
    let speeds = &trace.speed[rows.clone()];
    let slowest = speeds.iter().copied().fold(f64::INFINITY, f64::min);
    let fastest = speeds.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (middle, half) = (0.5 * (slowest + fastest), 0.5 * (fastest - slowest));
    // ∫x^k dt along the window, x the speed scaled to ±1
    let powers = |v: f64| -> [f64; DEGREE + 1] {
        let x = (v - middle) / half;
        let mut p = [1.0; DEGREE + 1];
        for k in 1..=DEGREE {
            p[k] = p[k - 1] * x;
        }
        p
    };
    let mut travelled = vec![[0.0; DEGREE + 1]];
    for k in rows.start + 1..rows.end {
        let (a, b) = (powers(trace.speed[k - 1]), powers(trace.speed[k]));
        let before = travelled[travelled.len() - 1];
        let dt = t[k] - t[k - 1];
        travelled.push(core::array::from_fn(|i| before[i] + 0.5 * dt * (a[i] + b[i])));
    }
    const MASS_AT: usize = DEGREE + 2;
    const DELAY_AT: usize = DEGREE + 3;
    let mut c = 1.0 / mass;
    let mut tau = PRIOR.0;
    let mut u = f64::NAN;
    let mut noise = 0.02 * 0.02;
    for _ in 0..8 {
        let mut design = Vec::with_capacity(rows.len() + 1);
        let mut y = Vec::with_capacity(rows.len() + 1);
        let mut weights = vec![1.0; rows.len()];
        let start = cumulative.at(first + tau);
        for (k, along) in rows.clone().zip(&travelled) {
            if t[k] + tau > cumulative.end() {
                return None;
            }
            let impulse = cumulative.at(t[k] + tau) - start;
            let mut row = Vec::with_capacity(DELAY_AT + 1);
            row.push(1.0);
            row.extend_from_slice(along);
            row.push(-c * impulse);
            row.push(-c * cumulative.force(t[k] + tau));
            design.push(row);
            y.push(trace.speed[k] + c * impulse);
        }
        let mut prior = vec![0.0; DELAY_AT + 1];
        prior[MASS_AT] = 1.0;
        design.push(prior);
        y.push((1.0 / mass) / c - 1.0);
        weights.push(noise / (MASS * MASS));
        let ls = least_squares(&design, &y, &weights).ok()?;
        let dc = ls.coefficients[MASS_AT].clamp(-0.2, 0.2);
        let dt = ls.coefficients[DELAY_AT].clamp(-0.05, 0.05);
        noise = ls.variance.max(1e-8);
        let (mut lagged, mut square, mut before) = (0.0, 1e-30, 0.0);
        for (row, y) in design.iter().zip(&y).take(rows.len()) {
            let e = y - row.iter().zip(&ls.coefficients).map(|(a, b)| a * b).sum::<f64>();
            lagged += e * before;
            square += e * e;
            before = e;
        }
        // errors that follow each other carry less information than their number says
        let rho = (lagged / square).clamp(0.0, 0.9);
        u = libm::sqrt(ls.unscaled[DELAY_AT][DELAY_AT] * ls.variance * (1.0 + rho) / (1.0 - rho));
        c *= 1.0 + dc;
        tau = (tau + dt).clamp(-0.1, LONGEST);
        if dt.abs() < 1e-5 {
            break;
        }
    }
    (u.is_finite() && u > 0.0 && tau < 0.99 * LONGEST && tau > -0.09).then_some((tau, u))
}

/// From the moment before the pull when the force is already that of full load, to two seconds into it.
fn window(trace: &Trace, rows: Range<usize>) -> Option<Range<usize>> {
    let t = &trace.time;
    let start = t[rows.start];
    let mut first = rows.start;
    while first > 0 && t[first - 1] > start - 1.6 && trace.breaks.binary_search(&first).is_err() {
        first -= 1;
    }
    let before = trace.force[first..=rows.start].iter().copied().filter(|f| f.is_finite());
    let most = before.fold(f64::NEG_INFINITY, f64::max);
    if !(most > 0.0) {
        return None;
    }
    while first < rows.start && !(trace.force[first] > 0.93 * most) {
        first += 1;
    }
    let mut end = rows.start;
    while end < rows.end && t[end] < start + 1.6 {
        end += 1;
    }
    let holes = t[first..end].windows(2).any(|w| w[1] - w[0] > 0.2);
    (end > first + 5 * DEGREE && !holes).then_some(first..end)
}

/// ∫F dt of a whole trace, read between its rows.
struct Cumulative<'a> {
    time: &'a [f64],
    force: Vec<f64>,
    sum: Vec<f64>,
}

impl<'a> Cumulative<'a> {
    fn new(trace: &'a Trace) -> Option<Self> {
        if trace.force.is_empty() {
            return None;
        }
        let mut force = Vec::with_capacity(trace.force.len());
        let mut sum = Vec::with_capacity(trace.force.len());
        let (mut total, mut before) = (0.0, 0.0);
        for (k, f) in trace.force.iter().enumerate() {
            let f = if f.is_finite() { *f } else { before };
            if k > 0 {
                total += 0.5 * (f + before) * (trace.time[k] - trace.time[k - 1]);
            }
            force.push(f);
            sum.push(total);
            before = f;
        }
        Some(Self { time: &trace.time, force, sum })
    }

    fn end(&self) -> f64 {
        self.time.last().copied().unwrap_or(f64::NEG_INFINITY)
    }

    fn place(&self, t: f64) -> (usize, f64) {
        let k = self.time.partition_point(|x| *x <= t).clamp(1, self.time.len().max(2) - 1);
        let width = self.time[k] - self.time[k - 1];
        (k, if width > 0.0 { (t - self.time[k - 1]) / width } else { 0.0 })
    }

    fn force(&self, t: f64) -> f64 {
        let (k, x) = self.place(t);
        self.force[k - 1] + x * (self.force[k] - self.force[k - 1])
    }

    fn at(&self, t: f64) -> f64 {
        let (k, x) = self.place(t);
        let width = self.time[k] - self.time[k - 1];
        let (a, b) = (self.force[k - 1], self.force[k]);
        self.sum[k - 1] + width * x * (a + 0.5 * x * (b - a))
    }
}

/// Takes the delay out of the force of a trace: each row gets what the channel said `delay` later.
pub(crate) fn remove(trace: &mut Trace, delay: f64) {
    if trace.force.is_empty() || delay == 0.0 {
        return;
    }
    let n = trace.time.len();
    let mut k = 0;
    let mut out = Vec::with_capacity(n);
    for i in 0..n {
        let at = trace.time[i] + delay;
        while k + 1 < n && trace.time[k + 1] <= at {
            k += 1;
        }
        let here = trace.force[k];
        out.push(match (trace.time.get(k + 1), trace.force.get(k + 1)) {
            (Some(t), Some(f)) if f.is_finite() && *t > trace.time[k] => {
                here + (at - trace.time[k]) / (t - trace.time[k]) * (f - here)
            }
            _ => here,
        });
    }
    trace.force = out;
}

#[cfg(test)]
#[path = "delay_edges.rs"]
mod edges;

#[cfg(test)]
mod tests {
    use super::*;

    /// A brake takes up a ramp of 3 m/s² within a third of a second; the force channel is late by `late`.
    fn ramp(late: f64) -> Trace {
        let mass = 1000.0;
        let (mut time, mut speed, mut force) = (Vec::new(), Vec::new(), Vec::new());
        let step = |x: f64| 1.0 / (1.0 + libm::exp(-x / 0.08));
        let speed_at = |t: f64| 10.0 + 3.0 * 0.08 * libm::log1p(libm::exp((t - 1.0) / 0.08));
        let drive = |t: f64| 4000.0 + 100.0 * (speed_at(t) - 10.0);
        let brake = |t: f64| drive(t) - mass * 3.0 * step(t - 1.0);
        let mut v = 10.0;
        for k in 0..300 {
            let t = 0.02 * f64::from(k);
            for j in 0..20 {
                v += 0.001 * 3.0 * step(t + 0.001 * f64::from(j) - 1.0);
            }
            time.push(t + 0.02);
            speed.push(v + 0.01 * libm::sin(37.0 * t * t));
            force.push(brake(t + 0.02 - late));
        }
        let n = time.len();
        Trace {
            engine: vec![f64::NAN; n],
            throttle: Vec::new(),
            breaks: Vec::new(),
            row: None,
            time,
            speed,
            force,
        }
    }

    #[test]
    fn a_late_channel_is_found() {
        for late in [0.0, 0.03, 0.12] {
            let trace = ramp(late);
            let d = estimate(&[(&trace, 55..290)], 1000.0);
            assert!((d.seconds - late).abs() < 0.004, "{late}: {d:?}");
            assert!(d.measured);
        }
    }

    #[test]
    fn removing_a_delay_shifts_the_force() {
        let mut trace = ramp(0.1);
        let clean = ramp(0.0);
        remove(&mut trace, 0.1);
        for k in 20..280 {
            assert!((trace.force[k] - clean.force[k]).abs() < 15.0, "{k}");
        }
    }
}
