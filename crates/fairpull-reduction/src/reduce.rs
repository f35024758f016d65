//! The whole way: job and logs to an outcome.

use fairpull_core::{Catalogue, LossModel};

use crate::coast::CoastFit;
use crate::curve::Family;
use crate::delay::{self, Delay};
use crate::evaluate::{self, Bench, Curve, Deviation, Drag};
use crate::gather::{self, Gathered, Logged, ReduceError};
use crate::job::{Job, RigKind};
use crate::outcome::{DriveOutcome, Outcome};
use crate::pull::{PullFit, interpolate};
use crate::rig;
use crate::slip::{self, Slip};
use crate::soak::{self, Level};
use crate::states;
use crate::{compare, worked};

/// Everything between the fitted pulls and the outcome.
pub(crate) struct Work<'a> {
    pub job: &'a Job,
    pub bench: Bench<'a>,
    pub pulls: &'a [Gathered],
    pub drags: &'a [Drag],
    pub curves: &'a [Curve],
    pub family: &'a Family,
    pub levels: &'a [f64],
    pub soaked: &'a soak::Soaked,
    pub assumed_scatter: bool,
    /// For each rig source: its line and, for each state, the mean change of ln P on the grid.
    pub rig: &'a [(rig::RigSource, Vec<Vec<f64>>)],
    pub shapes: &'a [Vec<f64>],
    pub counts: &'a [Vec<usize>],
    pub scatter: &'a [f64],
}

/// Reduces a job. `read` gives the bytes of a log by the name the job uses; `progress` is told how many of how many
/// logs are done and answers whether to go on.
///
/// # Errors
/// [`ReduceError`] for the first log, plug-in or declaration that cannot be used.
pub fn reduce(
    job: &Job,
    catalogue: &Catalogue<'_>,
    read: &mut dyn FnMut(&str) -> Result<Vec<u8>, String>,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Outcome, ReduceError> {
    let standard = find_standard(job, catalogue, &job.standard)?;
    for id in &job.also {
        find_standard(job, catalogue, id)?;
    }
    let mut notices = job.assumed.clone();
    let logged = read_all(job, read, progress, &mut notices)?;
    let late = force_delay(job, &logged);
    if !late.measured {
        notices.push(format!(
            "the delay of the force channel does not show in the pulls: {:.0} ms ± {:.0} ms is assumed (common practice, no source). Hold the car at full load for a second before the ramp, and it shows.",
            1e3 * late.seconds,
            1e3 * late.uncertainty
        ));
    }
    let mut pulls = Vec::new();
    for l in logged {
        pulls.extend(gather::fit(job, l, late.seconds)?);
    }
    let (loss, drags) = choose_loss(job, catalogue, &pulls, &mut notices)?;
    let mut bench = Bench {
        job,
        catalogue,
        standard,
        loss,
        slip: Slip { rolling: 1.0, per_newton: 0.0, per_newton_u: 0.0, delay: 0.0, measured: false },
        grid: &[],
    };
    let fits: Vec<PullFit> = pulls.iter().map(|p| p.fit.clone()).collect();
    let forces: Vec<Vec<f64>> = fits
        .iter()
        .map(|f| (0..f.time.len()).map(|i| bench.contact(f, i, &Deviation::default())).collect())
        .collect();
    bench.slip = slip::estimate(job, &fits, |p, at| {
        fits.iter().position(|f| f.name == p.name).map_or(0.0, |k| interpolate(&forces[k], at))
    });
    if !bench.slip.measured && job.rig.kind != RigKind::Hub {
        notices.push(
            "engine speed is not recorded: it follows from roller speed, the job's ratio and tyre radius, and a slip assumed from common practice".into(),
        );
    }
    let reaches: Vec<(f64, f64)> = fits.iter().map(|f| bench.reach(f)).collect();
    let grid = make_grid(job, &reaches)?;
    let band = common_band(&grid, &reaches, &pulls)?;
    bench.grid = &grid;
    let refused = |refusal| ReduceError::Refused { what: format!("{standard}, {}", loss.card().id), refusal };
    let mut curves = Vec::with_capacity(fits.len());
    for (k, f) in fits.iter().enumerate() {
        curves.push(bench.curve(f, &drags[k], &pulls[k].log.air, &Deviation::default()).map_err(refused)?);
    }
    let family = Family {
        logs: curves.iter().map(|c| c.corrected.iter().map(|p| libm::log(*p)).collect()).collect(),
        state: fits.iter().map(|f| f.state).collect(),
        states: job.states.len(),
        band: band.clone(),
    };
    let levels = family.levels();
    let measured_loss = loss.card().id == "coast-down";
    let mut rig_lines = Vec::new();
    for source in rig::sources(job, &bench.slip, &late, measured_loss) {
        let mut change = vec![vec![0.0; grid.len()]; job.states.len()];
        let mut count = vec![vec![0.0; grid.len()]; job.states.len()];
        for (k, f) in fits.iter().enumerate() {
            let moved = bench.curve(f, &drags[k], &pulls[k].log.air, &source.up).map_err(refused)?;
            for i in 0..grid.len() {
                let d = libm::log(moved.corrected[i]) - family.logs[k][i];
                if d.is_finite() {
                    change[f.state][i] += d;
                    count[f.state][i] += 1.0;
                }
            }
        }
        for (c, n) in change.iter_mut().zip(&count) {
            for (x, n) in c.iter_mut().zip(n) {
                if *n > 0.0 {
                    *x /= n;
                }
            }
        }
        rig_lines.push((source, change));
    }
    let (soaked, assumed_scatter) = levels_model(&pulls, &levels, job, &mut notices);
    let mut shapes = Vec::new();
    let mut counts = Vec::new();
    for s in 0..job.states.len() {
        let (shape, count) = family.shape(s, &levels);
        shapes.push(shape);
        counts.push(count);
    }
    let wide = (300.0 / job.grid.step).max(1.0) as usize;
    let scatter = family.shape_scatter(&levels, &shapes, wide);
    let slip = bench.slip;
    let work = Work {
        job,
        bench,
        pulls: &pulls,
        drags: &drags,
        curves: &curves,
        family: &family,
        levels: &levels,
        soaked: &soaked,
        assumed_scatter,
        rig: &rig_lines,
        shapes: &shapes,
        counts: &counts,
        scatter: &scatter,
    };
    let mut done = Vec::new();
    for s in 0..job.states.len() {
        done.push(states::state(&work, s)?);
    }
    let comparisons = (1..done.len()).map(|b| compare::compare(&work, &done, 0, b)).collect();
    let worked = worked::worked(&work, &done);
    let mut remarks = factor_notices(&curves);
    notices.append(&mut remarks);
    let mut seen: Vec<String> = Vec::new();
    notices.retain(|n| {
        let new = !seen.contains(n);
        if new {
            seen.push(n.clone());
        }
        new
    });
    Ok(Outcome {
        band: (grid[band.start], grid[band.end - 1]),
        loss_model: loss.card().id,
        drive: DriveOutcome {
            travel_per_turn: slip.rolling * 2.0 * core::f64::consts::PI,
            slip_per_kilonewton: slip.per_newton * 1000.0,
            delay: slip.delay,
            measured: slip.measured,
        },
        states: done,
        comparisons,
        notices,
        worked,
        seed: job.grid.seed,
        grid,
    })
}

fn find_standard(job: &Job, catalogue: &Catalogue<'_>, id: &str) -> Result<&'static str, ReduceError> {
    let unknown = || {
        let all: Vec<&str> = catalogue.standards().iter().map(|s| s.card().id).collect();
        ReduceError::Unknown { what: "standard", id: id.into(), nearest: nearest(id, &all) }
    };
    let s = catalogue.standard(id).ok_or_else(unknown)?;
    let rating = s.card().rating;
    if rating != fairpull_core::Rating::Either && rating != job.rating && id == job.standard {
        return Err(ReduceError::Refused {
            what: id.into(),
            refusal: fairpull_core::Refusal::RatingDiffers { from: job.rating, to: rating },
        });
    }
    Ok(s.card().id)
}

/// The three ids that share the most beginning letters and letters with what was written.
fn nearest(id: &str, all: &[&str]) -> String {
    let score = |c: &str| {
        let prefix = c.bytes().zip(id.bytes()).take_while(|(a, b)| a == b).count();
        let shared = id.bytes().filter(|b| c.as_bytes().contains(b)).count();
        (3 * prefix + shared) as i64 - (c.len() as i64 - id.len() as i64).abs()
    };
    let mut ranked: Vec<&str> = all.to_vec();
    ranked.sort_by_key(|c| -score(c));
    ranked.truncate(3);
    ranked.join(", ")
}

fn force_delay(job: &Job, logged: &[Logged]) -> Delay {
    if job.rig.kind == RigKind::InertiaRoller {
        return Delay::NONE;
    }
    let pulls: Vec<_> =
        logged.iter().flat_map(|l| l.found.iter().map(|f| (&l.trace, f.pull.clone()))).collect();
    delay::estimate(&pulls, evaluate::moving_mass(job))
}

fn read_all(
    job: &Job,
    read: &mut dyn FnMut(&str) -> Result<Vec<u8>, String>,
    progress: &mut dyn FnMut(usize, usize) -> bool,
    notices: &mut Vec<String>,
) -> Result<Vec<Logged>, ReduceError> {
    let total: usize = job.states.iter().map(|s| s.logs.len()).sum();
    let mut done = 0;
    let mut all: Vec<Logged> = Vec::new();
    for (s, state) in job.states.iter().enumerate() {
        let before = all.len();
        for (l, log) in state.logs.iter().enumerate() {
            if let Some(why) = &log.skip {
                notices.push(format!("{} is left out by the job: {why}", log.file));
            } else {
                let bytes = read(&log.file)
                    .map_err(|problem| ReduceError::File { file: log.file.clone(), problem })?;
                all.push(gather::read(job, s, l, log, &bytes)?);
            }
            done += 1;
            if !progress(done, total) {
                return Err(ReduceError::Cancelled);
            }
        }
        if all.len() == before {
            return Err(ReduceError::Log {
                file: job.file.clone(),
                problem: format!("every log of state {:?} is left out", state.name),
                mend: "keep at least one, or remove the state".into(),
            });
        }
    }
    Ok(all)
}

/// The loss model of the job with the drag of each pull; a missing coast-down is replaced by the mean of the others,
/// and when there is none at all the measured model gives way to the prior band.
fn choose_loss<'a>(
    job: &Job,
    catalogue: &Catalogue<'a>,
    pulls: &[Gathered],
    notices: &mut Vec<String>,
) -> Result<(&'a dyn LossModel, Vec<Drag>), ReduceError> {
    let wanted = catalogue.loss(&job.loss.model).ok_or_else(|| {
        let all: Vec<&str> = catalogue.losses().iter().map(|s| s.card().id).collect();
        ReduceError::Unknown {
            what: "loss model",
            id: job.loss.model.clone(),
            nearest: nearest(&job.loss.model, &all),
        }
    })?;
    let own: Vec<&CoastFit> = pulls.iter().filter_map(|p| p.fit.coast.as_ref()).collect();
    let mut model = wanted;
    if job.loss.model == "coast-down" && own.is_empty() {
        model = catalogue.loss("prior-band").ok_or_else(|| ReduceError::Log {
            file: job.file.clone(),
            problem: "no log holds a coast-down, and the catalogue has no prior band to fall back on".into(),
            mend: "record the coast-down after each pull with the clutch open".into(),
        })?;
        notices.push(
            "no log holds a usable coast-down: the loss is taken from a prior band, and the crank figures carry its wide interval. Record the coast-down after each pull with the clutch open.".into(),
        );
    }
    let mean = mean_coast(&own);
    let forces: Vec<[f64; 3]> = pulls.iter().filter_map(|p| p.fit.coast_force).collect();
    let mean_force = (!forces.is_empty()).then(|| {
        let n = forces.len() as f64;
        core::array::from_fn(|i| forces.iter().map(|f| f[i]).sum::<f64>() / n)
    });
    let drags = pulls
        .iter()
        .map(|p| {
            if p.fit.coast.is_some() {
                Drag { coast: p.fit.coast.clone(), force: p.fit.coast_force }
            } else {
                Drag { coast: mean.clone(), force: mean_force }
            }
        })
        .collect();
    for p in pulls {
        if p.fit.coast.is_none() && mean.is_some() && model.card().id == "coast-down" {
            notices.push(format!(
                "{}: no coast-down of its own ({}); the mean drag of the other pulls is used",
                p.fit.name, p.fit.coast_note
            ));
        }
    }
    Ok((model, drags))
}

fn mean_coast(all: &[&CoastFit]) -> Option<CoastFit> {
    let first = all.first()?;
    let n = all.len() as f64;
    let mut out = (*first).clone();
    out.k = core::array::from_fn(|i| all.iter().map(|c| c.k[i]).sum::<f64>() / n);
    // one pull's drag differs from the mean by what the others scatter
    let mut covariance = [[0.0; 3]; 3];
    for c in all {
        for i in 0..3 {
            for j in 0..3 {
                covariance[i][j] += ((c.k[i] - out.k[i]) * (c.k[j] - out.k[j]) + c.covariance[i][j]) / n;
            }
        }
    }
    out.covariance = covariance;
    Some(out)
}

fn make_grid(job: &Job, reaches: &[(f64, f64)]) -> Result<Vec<f64>, ReduceError> {
    let low = reaches.iter().map(|r| r.0).fold(f64::INFINITY, f64::min);
    let high = reaches.iter().map(|r| r.1).fold(f64::NEG_INFINITY, f64::max);
    let step = job.grid.step;
    let low = job.grid.from.map_or(low, |f| f.max(low));
    let high = job.grid.to.map_or(high, |t| t.min(high));
    let first = libm::ceil(low / step - 1e-9);
    let last = libm::floor(high / step + 1e-9);
    if !(last - first >= 2.0 && last - first < 5000.0) {
        return Err(ReduceError::NoOverlap(format!("{low:.0} to {high:.0} 1/min in steps of {step}")));
    }
    Ok((0..=(last - first) as usize).map(|i| (first + i as f64) * step).collect())
}

fn common_band(
    grid: &[f64],
    reaches: &[(f64, f64)],
    pulls: &[Gathered],
) -> Result<core::ops::Range<usize>, ReduceError> {
    let low = reaches.iter().map(|r| r.0).fold(f64::NEG_INFINITY, f64::max);
    let high = reaches.iter().map(|r| r.1).fold(f64::INFINITY, f64::min);
    let start = grid.partition_point(|g| *g < low);
    let end = grid.partition_point(|g| *g <= high);
    if end < start + 3 {
        let list: Vec<String> = pulls
            .iter()
            .zip(reaches)
            .map(|(p, r)| format!("{} {:.0} to {:.0} 1/min", p.fit.name, r.0, r.1))
            .collect();
        return Err(ReduceError::NoOverlap(list.join(", ")));
    }
    Ok(start..end)
}

/// Levels with heat soak taken out; without any repeat a scatter of 1 % on 5 degrees of freedom is assumed.
fn levels_model(
    pulls: &[Gathered],
    levels: &[f64],
    job: &Job,
    notices: &mut Vec<String>,
) -> (soak::Soaked, bool) {
    let timed = pulls.iter().all(|p| p.log.start_minute.is_some());
    if !timed {
        notices.push(
            "start times are missing: the pulls are taken as driven in the order listed, 7 min apart, each state on its own day".into(),
        );
    }
    let mut order = 0.0;
    let mut list: Vec<Level> = Vec::new();
    for (p, level) in pulls.iter().zip(levels) {
        order += 7.0;
        let minute = match (timed, p.log.start_minute) {
            (true, Some(m)) => m + p.fit.start / 60.0,
            _ => p.fit.state as f64 * 1440.0 + order,
        };
        let charge = p
            .readings
            .iter()
            .find(|r| r.role == fairpull_recordings::Role::ChargeTemperature)
            .map(|r| r.value.iter().sum::<f64>() / r.value.len() as f64 - p.log.air.temperature.kelvin());
        list.push(Level { state: p.fit.state, minute, charge_rise: charge, level: *level });
    }
    match soak::solve(&list, job.states.len()) {
        Some(s) => (s, false),
        None => {
            notices.push(
                "no state has a repeat: a pull-to-pull standard deviation of 1 % is assumed (common practice, no source). Three or more pulls a state let the tool measure it.".into(),
            );
            (soak::assumed(&list, job.states.len(), 0.01, 5.0), true)
        }
    }
}

fn factor_notices(curves: &[Curve]) -> Vec<String> {
    curves
        .iter()
        .flat_map(|c| {
            c.factor.notices().iter().chain(c.notices.iter()).map(ToString::to_string).collect::<Vec<_>>()
        })
        .collect()
}
