//! One state: its curve with intervals, peaks, other standards, budget, soak and channels.

use fairpull_uncertainty::{coverage_factor, effective_dof};

use crate::bands::{Drawn, Parts};
use crate::channels;
use crate::curve::{mean, peak};
use crate::deviation::Deviation;
use crate::gather::ReduceError;
use crate::outcome::{
    Bounded, BudgetItem, Part, Point, PullOutcome, RestatedOutcome, SoakOutcome, StateOutcome,
};
use crate::reduce::Work;
use crate::remarks;

/// Engine speed around the highest grid point that the peak is fitted over, 1/min.
const PEAK_REACH: f64 = 350.0;
/// Engine speed over which shape errors decorrelate, 1/min.
pub(crate) const DECORRELATE: f64 = 300.0;

/// A state without its bands, and the errors that they are drawn from.
pub(crate) fn state(work: &Work<'_>, s: usize) -> Result<(StateOutcome, Parts), ReduceError> {
    let grid = work.bench.grid;
    let own: Vec<usize> = (0..work.pulls.len()).filter(|k| work.family.state[*k] == s).collect();
    let k_own = own.len() as f64;
    let level = work.soaked.mean[s];
    let level_error = work.soaked.deviation / libm::sqrt(k_own);
    let keep: Vec<usize> = (0..grid.len()).filter(|i| work.shapes[s][*i].is_finite()).collect();
    let bias_at = |i: usize| mean_of(own.iter().map(|k| work.curves[*k].bias[i]));
    let noise_at = |i: usize| mean_of(own.iter().map(|k| work.curves[*k].noise[i]));
    let repeats = work.family.logs.len() > work.family.states;
    let mut curve = Vec::with_capacity(keep.len());
    let mut pointwise = Vec::new();
    let (mut shape_parts, mut at_point) = (Vec::new(), Vec::new());
    for i in &keep {
        let n = work.counts[s][*i] as f64;
        // without repeats the fit's own noise stands in for the scatter of the shape
        let shape = if repeats { work.scatter[*i] } else { noise_at(*i) } / libm::sqrt(n);
        let bias = bias_at(*i);
        let common2: f64 = work.rig.iter().map(|(_, c)| c[s][*i] * c[s][*i]).sum::<f64>() + bias * bias;
        let run = libm::hypot(level_error, shape);
        let dof = effective_dof(&[
            (level_error, work.soaked.dof),
            (shape, 4.0 * work.soaked.dof),
            (libm::sqrt(common2), f64::INFINITY),
        ]);
        let factor = coverage_factor(dof);
        let half = factor * libm::sqrt(run * run + common2);
        // at the measuring point only what acts there counts
        let wheel2: f64 = work.rig_wheel.iter().map(|c| c[s][*i] * c[s][*i]).sum::<f64>() + bias * bias;
        let wheel_half = factor * libm::sqrt(run * run + wheel2);
        pointwise.push(half);
        shape_parts.push(libm::hypot(shape, bias));
        at_point.push((shape, bias));
        let power = libm::exp(level + work.shapes[s][*i]);
        let reached = own.iter().filter(|k| work.family.logs[**k][*i].is_finite());
        let wheel = mean_of(reached.map(|k| work.curves[*k].wheel[*i]));
        curve.push(Point {
            index: *i,
            rpm: grid[*i],
            power: Bounded::relative(power, half),
            band: Bounded::relative(power, half),
            wheel: Bounded::relative(wheel, wheel_half),
            pulls: work.counts[s][*i],
            run,
            rig: libm::sqrt(common2),
        });
    }
    let x: Vec<f64> = curve.iter().map(|p| p.rpm).collect();
    let y: Vec<f64> = curve.iter().map(|p| p.power.value).collect();
    let torque: Vec<f64> =
        curve.iter().map(|p| p.power.value / (p.rpm * core::f64::consts::PI / 30.0)).collect();
    let peak_power = peak(&x, &y, &pointwise, PEAK_REACH);
    let peak_torque = peak(&x, &torque, &pointwise, PEAK_REACH);
    let top = nearest(&x, peak_power.rpm);
    let rig: Vec<Vec<f64>> = work.rig.iter().map(|(_, c)| keep.iter().map(|i| c[s][*i]).collect()).collect();
    let budget = budget(work, &curve, top, level_error, at_point[top], &rig);
    let readings: Vec<_> = own
        .iter()
        .map(|k| {
            let time = &work.pulls[*k].fit.time;
            let times: Vec<f64> =
                work.places[*k].iter().map(|p| p.as_ref().map_or(f64::NAN, |p| p.read(time))).collect();
            let r = &work.pulls[*k].readings;
            (r.as_slice(), r.iter().map(|c| (c.role, channels::on_grid(c, &times))).collect())
        })
        .collect();
    let state = StateOutcome {
        name: work.job.states[s].name.clone(),
        fuel: work.job.states[s].fuel.clone(),
        pulls: own.iter().map(|k| pull(work, *k, k_own)).collect(),
        restated: restated(work, &own, &peak_power.value, peak_power.rpm),
        monte_carlo: (y[top], y[top]),
        peak_power,
        peak_torque,
        repeatability: (work.soaked.deviation, work.soaked.dof),
        repeatability_assumed: work.assumed_scatter,
        soak: soak(work, &own),
        budget,
        channels: channels::of_state(&readings, work.family.band.clone(), curve[top].index),
        curve,
    };
    let parts = Parts { grid: keep, level: level_error, shape: shape_parts, rig, pointwise, at: top };
    Ok((state, parts))
}

/// Puts the bands on a state.
pub(crate) fn banded(state: &mut StateOutcome, drawn: &Drawn) {
    for (p, half) in state.curve.iter_mut().zip(&drawn.whole) {
        p.band = Bounded::relative(p.power.value, *half);
    }
    let (low, high) = drawn.interval;
    state.monte_carlo = (state.monte_carlo.0 * (1.0 + low), state.monte_carlo.1 * (1.0 + high));
}

fn mean_of(values: impl Iterator<Item = f64>) -> f64 {
    mean(&values.collect::<Vec<f64>>())
}

/// Index of the value nearest to `at`.
pub(crate) fn nearest(x: &[f64], at: f64) -> usize {
    let mut best = 0;
    for (i, v) in x.iter().enumerate() {
        if (v - at).abs() < (x[best] - at).abs() {
            best = i;
        }
    }
    best
}

fn budget(
    work: &Work<'_>,
    curve: &[Point],
    top: usize,
    level: f64,
    (shape, bias): (f64, f64),
    rig: &[Vec<f64>],
) -> Vec<BudgetItem> {
    let pulls = curve[top].pulls;
    let mut out = vec![
        BudgetItem {
            source: "pull-to-pull level",
            part: Part::Run,
            input: format!(
                "{:.2} % a pull, {pulls} pulls, {:.1} degrees of freedom{}",
                100.0 * work.soaked.deviation,
                work.soaked.dof,
                if work.assumed_scatter { ", assumed" } else { "" }
            ),
            relative: level,
            remedy: "drive more pulls under like conditions",
        },
        BudgetItem {
            source: "noise of the curve's shape",
            part: Part::Run,
            input: format!("{:.2} % a pull", 100.0 * shape * libm::sqrt(pulls as f64)),
            relative: shape,
            remedy: "log faster, drive longer pulls or more of them",
        },
        BudgetItem {
            source: "smoothing of the curve",
            part: Part::Method,
            input: "posterior bias of the spline".into(),
            relative: bias,
            remedy: "log faster or drive longer pulls",
        },
    ];
    for ((source, _), c) in work.rig.iter().zip(rig) {
        out.push(BudgetItem {
            source: source.name,
            part: Part::Rig,
            input: source.input.clone(),
            relative: c[top].abs(),
            remedy: source.remedy,
        });
    }
    out
}

/// A pull among the `own` of its state.
fn pull(work: &Work<'_>, k: usize, own: f64) -> PullOutcome {
    let p = &work.pulls[k];
    let c = &work.curves[k];
    let grid = work.bench.grid;
    let half = vec![0.0; grid.len()];
    let top = peak(grid, &c.corrected, &half, PEAK_REACH);
    let at = nearest(grid, top.rpm);
    let mut flags = p.fit.flags.clone();
    let free = work.soaked.dof;
    // externally studentised residual: the pull is measured by the scatter of the others
    let left = 1.0 - 1.0 / own;
    let e = work.soaked.residual[k];
    let others = (work.soaked.deviation * work.soaked.deviation * free - e * e / left) / (free - 1.0);
    let size = e / libm::sqrt(left * others.max(1e-12));
    if left > 0.0 && size.abs() > work.outlying {
        flags.push(format!(
            "outlying: {:+.2} % from its state after soak, {:.1} times the scatter of the others; it is kept. Look for slip, a lifted throttle, another gear, or leave it out with skip = \"reason\"",
            100.0 * work.soaked.residual[k],
            size.abs()
        ));
    }
    if p.fit.correlation > 0.0 {
        flags.push(format!(
            "speed noise is correlated from sample to sample (about {:.1}); the interval allows for it",
            p.fit.correlation
        ));
    }
    let coast = match &p.fit.coast {
        Some(f) => format!(
            "{:.0} to {:.0} km/h in {:.1} s, {} samples, residual {:.3} km/h",
            f.from * 3.6,
            f.to * 3.6,
            f.seconds,
            f.samples,
            f.residual * 3.6
        ),
        None => format!("none: {}", p.fit.coast_note),
    };
    PullOutcome {
        name: p.fit.name.clone(),
        file: p.file.clone(),
        start: p.fit.start,
        seconds: p.fit.seconds,
        samples: p.fit.samples,
        reach: work.reaches[k],
        air: p.log.air,
        factor: c.factor.value(),
        blind: c.factor.blind(),
        factor_notes: c.factor.notices().iter().map(ToString::to_string).collect(),
        peak: (top.value.value, top.rpm),
        level: work.levels[k] - work.soaked.mean[p.fit.state],
        loss: c.loss[at],
        coast,
        repairs: if p.first_of_log { p.repairs.clone() } else { Vec::new() },
        flags,
        curve: c.corrected.clone(),
    }
}

/// The peak on every other standard of the job, from the same observed crank power.
fn restated(work: &Work<'_>, own: &[usize], value: &Bounded, _rpm: f64) -> Vec<RestatedOutcome> {
    let mut out = Vec::new();
    for id in &work.job.also {
        let mut ratio = 0.0;
        let mut sum = 0.0;
        let mut factors = Vec::new();
        let mut outside = false;
        let mut refused = None;
        for k in own {
            match work.bench.factor(&work.pulls[*k].log.air, id, &Deviation::default()) {
                Ok(f) => {
                    ratio += f.value() / work.curves[*k].factor.value();
                    sum += f.value();
                    outside |= f.outside_range();
                    factors.push(f);
                }
                Err(e) => refused = Some(e.to_string()),
            }
        }
        let names: Vec<&str> = own.iter().map(|k| work.pulls[*k].fit.name.as_str()).collect();
        let notes = remarks::merged(&names, factors.iter().map(|f| f.notices().each()).enumerate());
        let n = own.len() as f64;
        let by = ratio / n;
        let figure = match refused {
            Some(why) => Err(why),
            None => {
                Ok((sum / n, Bounded { value: value.value * by, low: value.low * by, high: value.high * by }))
            }
        };
        out.push(RestatedOutcome { standard: id.clone(), figure, notes, outside });
    }
    out
}

fn soak(work: &Work<'_>, own: &[usize]) -> Option<SoakOutcome> {
    if own.len() < 3 || work.assumed_scatter {
        return None;
    }
    // plain regression of level on order, the figure a workshop looks for
    let n = own.len() as f64;
    let rows: Vec<Vec<f64>> = (0..own.len()).map(|i| vec![1.0, i as f64]).collect();
    let y: Vec<f64> = own.iter().map(|k| work.levels[*k]).collect();
    let ls = fairpull_uncertainty::least_squares(&rows, &y, &vec![1.0; own.len()]).ok()?;
    let error = libm::sqrt((ls.unscaled[1][1] * ls.variance).max(0.0));
    let heat: Vec<f64> = own.iter().map(|k| work.soaked.heat[*k]).collect();
    let change = work.soaked.slope * (heat[own.len() - 1] - heat[0]);
    Some(SoakOutcome {
        per_pull: Bounded::absolute(ls.coefficients[1], coverage_factor(n - 2.0) * error),
        first_to_last: change,
        heat: heat[own.len() - 1],
        in_kelvin: work.soaked.in_kelvin,
    })
}
