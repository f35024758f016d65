//! The way a textbook would do it, on the same samples: a fixed Savitzky-Golay derivative (quadratic, half a second;
//! Savitzky and Golay, Anal. Chem. 36, 1964), drag from differences of the coast-down, the mean of the pulls with
//! Student's t, Welch's comparison, no model of heat soak. It stands beside the product's figures, to show what the
//! model-based way gains. It shares no code with the reduction.

use fairpull_simulator::{RigKind, Role, Run, Table};
use fairpull_uncertainty::{coverage_factor, least_squares, mean_and_deviation, welch};

use crate::score::{Answer, Change, Estimate};

const WINDOW_S: f64 = 0.5;
const STEP_RPM: f64 = 100.0;

/// Power of one pull on the grid, W; NaN where not reached.
struct Pull {
    state: usize,
    power: Vec<f64>,
}

/// The textbook's answer; `None` when a log has no pull.
#[must_use]
pub fn answer(run: &Run) -> Option<Answer> {
    let grid: Vec<f64> = (15..=70).map(|k| f64::from(k) * STEP_RPM).collect();
    let mut pulls = Vec::new();
    for log in &run.logs {
        pulls.push(Pull { state: log.state, power: power(run, log.state, &log.table, &grid)? });
    }
    let common: Vec<usize> =
        (0..grid.len()).filter(|i| pulls.iter().all(|p| p.power[*i].is_finite())).collect();
    let (low, high) = (*common.first()?, *common.last()?);
    let rig_u = calibration(run);
    let of = |s: usize| pulls.iter().filter(move |p| p.state == s);
    let mut states = Vec::new();
    let mut peaks = Vec::new();
    for s in 0..run.truth.states.len() {
        let mut curve = Vec::new();
        for i in &common {
            let values: Vec<f64> = of(s).map(|p| p.power[*i]).collect();
            let (mean, deviation) = mean_and_deviation(&values);
            let n = values.len() as f64;
            let random = coverage_factor(n - 1.0) * deviation / libm::sqrt(n);
            let half = libm::hypot(random, 1.96 * rig_u * mean);
            let interval = (mean - half, mean + half);
            curve.push(Estimate { rpm: grid[*i], value: mean, interval, band: interval });
        }
        let best = curve.iter().max_by(|a, b| a.value.total_cmp(&b.value))?;
        peaks.push((best.value, best.interval));
        states.push(curve);
    }
    let levels = |s: usize| -> Vec<f64> {
        of(s)
            .map(|p| common.iter().map(|i| libm::log(p.power[*i])).sum::<f64>() / common.len() as f64)
            .collect()
    };
    let change = welch(&levels(0), &levels(1)).map(|w| Change {
        mean: libm::expm1(w.difference),
        interval: (libm::expm1(w.difference - w.half_width), libm::expm1(w.difference + w.half_width)),
        band: (grid[low], grid[high]),
        curve: Vec::new(),
        detectable: f64::NAN,
    });
    Some(Answer { states, peaks, change, said: Vec::new() })
}

/// Relative standard uncertainty of the declared calibration, by its shares in an ordinary pull.
fn calibration(run: &Run) -> f64 {
    let u = &run.job.declared;
    let main = match run.job.rig.kind {
        RigKind::InertiaRoller => u.roller_inertia,
        RigKind::Hub => u.force,
        RigKind::BrakedRoller => 0.7 * u.force,
    };
    let parts = [0.85 * main, 0.06 * u.engine_inertia, u.load_share, 1.2 * u.pressure_kpa / 100.0, 0.002];
    libm::sqrt(parts.iter().map(|p| p * p).sum())
}

fn column(table: &Table, role: Role) -> Option<&[f64]> {
    table.columns.iter().find(|c| c.role == Some(role)).map(|c| c.values.as_slice())
}

/// Slope of a parabola fitted over the window around each sample.
pub fn savitzky_golay_slope(t: &[f64], y: &[f64], half: usize) -> Vec<f64> {
    let n = y.len();
    let norm: f64 = 2.0 * (1..=half).map(|k| (k * k) as f64).sum::<f64>();
    (0..n)
        .map(|i| {
            if i < half || i + half >= n {
                return f64::NAN;
            }
            let step = (t[i + half] - t[i - half]) / (2 * half) as f64;
            let sum: f64 = (1..=half).map(|k| k as f64 * (y[i + k] - y[i - k])).sum();
            sum / (norm * step)
        })
        .collect()
}

/// Running mean over the window, the Savitzky-Golay filter of order 1.
fn running_mean(y: &[f64], half: usize) -> Vec<f64> {
    let n = y.len();
    (0..n)
        .map(|i| {
            let h = half.min(i).min(n - 1 - i);
            y[i - h..=i + h].iter().sum::<f64>() / (2 * h + 1) as f64
        })
        .collect()
}

fn power(run: &Run, state: usize, table: &Table, grid: &[f64]) -> Option<Vec<f64>> {
    let job = &run.job;
    let (car, rig) = (&job.vehicle, &job.rig);
    let t = column(table, Role::Time)?;
    let hub = rig.kind == RigKind::Hub;
    let v: Vec<f64> = if hub {
        let by = core::f64::consts::TAU / 60.0 * car.tyre_radius_m;
        column(table, Role::HubRotation)?.iter().map(|n| n * by).collect()
    } else {
        column(table, Role::RollerSpeed)?.iter().map(|v| v / 3.6).collect()
    };
    let force: Vec<f64> = match rig.kind {
        RigKind::InertiaRoller => vec![0.0; t.len()],
        RigKind::BrakedRoller => column(table, Role::BrakeForce)?.to_vec(),
        RigKind::Hub => column(table, Role::HubTorque)?.iter().map(|x| x / car.tyre_radius_m).collect(),
    };
    let n = v.len();
    let rate = (n - 1) as f64 / (t[n - 1] - t[0]);
    let half = ((0.5 * WINDOW_S * rate) as usize).max(2);
    let a = savitzky_golay_slope(t, &v, half);
    let smooth = running_mean(&v, half);
    let force = running_mean(&force, half);
    let engine = running_mean(column(table, Role::EngineSpeed)?, half);
    let top = (0..n).max_by(|i, j| v[*i].total_cmp(&v[*j]))?;
    // coast-down by differences over half a second, forces at mid-speed
    let settle = (1.0 * rate) as usize;
    let open = car.rotating_mass(false);
    let mass = if hub { 0.0 } else { rig.inertia / (rig.radius_m * rig.radius_m) };
    let (mut rows, mut drag) = (Vec::new(), Vec::new());
    let mut i = top + settle;
    let leap = (0.5 * rate) as usize;
    while i + leap < n {
        let middle = 0.5 * (v[i] + v[i + leap]);
        let slow = (v[i] - v[i + leap]) / (t[i + leap] - t[i]);
        let held = if hub { force[i + leap / 2] } else { rig.drag(middle) };
        rows.push(vec![1.0, middle, middle * middle]);
        drag.push((mass + open) * slow - held);
        i += leap;
    }
    let fit = least_squares(&rows, &drag, &vec![1.0; drag.len()]).ok()?.coefficients;
    let turning = car.rotating_mass(true);
    let air = &job.states[state].air;
    let held = car.response == fairpull_simulator::Response::Held;
    let factor = if held { 1.0 } else { air.spark_factor() };
    let start = (0..top).rev().find(|i| !(a[*i] > 0.3))? + (0.4 * rate) as usize;
    let end = top.saturating_sub((0.25 * rate) as usize);
    let mut points: Vec<(f64, f64)> = Vec::new();
    for i in start..end {
        let contact = if hub { force[i] } else { mass * a[i] + force[i] + rig.drag(smooth[i]) };
        // the tyre slips: the rim runs as fast as the engine says
        let rim = engine[i] * core::f64::consts::TAU / 60.0 / car.ratio * car.tyre_radius_m;
        let rim = if hub { smooth[i] } else { rim };
        let loss = fit[0] + smooth[i] * (fit[1] + smooth[i] * fit[2]);
        let crank = (contact + loss + turning * a[i]) * rim / (1.0 - car.load_share) * factor;
        points.push((engine[i], crank));
    }
    Some(
        grid.iter()
            .map(|g| {
                let near: Vec<f64> =
                    points.iter().filter(|(n, _)| (n - g).abs() <= 0.5 * STEP_RPM).map(|(_, p)| *p).collect();
                if near.is_empty() { f64::NAN } else { near.iter().sum::<f64>() / near.len() as f64 }
            })
            .collect(),
    )
}
