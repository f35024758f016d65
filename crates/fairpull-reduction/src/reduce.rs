//! The whole way: job and logs to an outcome.

use std::collections::BTreeSet;

use fairpull_core::Catalogue;
use fairpull_uncertainty::t_quantile;

use crate::curve::Family;
use crate::deviation::Deviation;
use crate::evaluate::{Bench, Curve, Drag};
use crate::gather::{self, Gathered, ReduceError};
use crate::job::{Job, RigKind};
use crate::outcome::{DriveOutcome, Outcome};
use crate::place::Place;
use crate::pull::PullFit;
use crate::rig;
use crate::slip::{self, Slip};
use crate::soak::{self, Level};
use crate::source::Source;
use crate::states;
use crate::{bands, common, compare, prepare, remarks, worked};

/// Everything between the fitted pulls and the outcome.
pub(crate) struct Work<'a> {
    pub job: &'a Job,
    pub bench: Bench<'a>,
    pub pulls: &'a [Gathered],
    pub drags: &'a [Drag],
    pub curves: &'a [Curve],
    /// Where each pull passes the grid.
    pub places: &'a [Vec<Option<Place>>],
    /// Lowest and highest engine speed of each pull, 1/min.
    pub reaches: &'a [(f64, f64)],
    pub family: &'a Family,
    pub levels: &'a [f64],
    pub soaked: &'a soak::Soaked,
    pub assumed_scatter: bool,
    /// Residual beyond which a pull is outlying, in standard deviations of the others; infinite where that is unknown.
    pub outlying: f64,
    /// For each rig source: its line and, for each state, the mean change of ln P on the grid.
    pub rig: &'a [(rig::RigSource, Vec<Vec<f64>>)],
    /// For each rig source and state, the mean change of the logarithm of observed wheel power.
    pub rig_wheel: &'a [Vec<Vec<f64>>],
    pub shapes: &'a [Vec<f64>],
    pub counts: &'a [Vec<usize>],
    pub scatter: &'a [f64],
}

/// Reduces a job. `read` gives a log by the name the job uses: an open file (it is read in pieces and never held as
/// a whole), or its bytes. `progress` is told how many of how many logs are done and answers whether to go on.
///
/// # Errors
/// [`ReduceError`] for the first log, plug-in or declaration that cannot be used.
pub fn reduce<S: Into<Source>>(
    job: &Job,
    catalogue: &Catalogue<'_>,
    read: &mut dyn FnMut(&str) -> Result<S, String>,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Outcome, ReduceError> {
    reduce_sources(job, catalogue, &mut |log| read(log).map(Into::into), progress)
}

fn reduce_sources(
    job: &Job,
    catalogue: &Catalogue<'_>,
    read: &mut dyn FnMut(&str) -> Result<Source, String>,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Outcome, ReduceError> {
    let standard = prepare::find_standard(job, catalogue, &job.standard)?;
    for id in &job.also {
        prepare::find_standard(job, catalogue, id)?;
    }
    let mut notices = job.assumed.clone();
    // without a force channel nothing has to wait for the last log
    let alone = job.rig.kind == RigKind::InertiaRoller;
    let (mut pulls, mut waiting) = (Vec::new(), Vec::new());
    prepare::read_all(job, read, progress, &mut notices, &mut |logged| {
        if alone {
            pulls.extend(gather::fit(job, logged, 0.0)?);
        } else {
            waiting.push(logged);
        }
        Ok(())
    })?;
    let late = common::force_delay(job, &waiting);
    if !late.measured {
        notices.push(format!(
            "the delay of the force channel does not show in the pulls: {:.0} ms ± {:.0} ms is assumed (common practice, no source). Hold the car at full load for a second before the ramp, and it shows.",
            1e3 * late.seconds,
            1e3 * late.uncertainty
        ));
    }
    for l in waiting {
        pulls.extend(gather::fit(job, l, late.seconds)?);
    }
    intake_notices(&pulls, &mut notices);
    let (loss, drags) = prepare::choose_loss(job, catalogue, &pulls, &mut notices)?;
    let mut bench = Bench {
        job,
        catalogue,
        standard,
        loss,
        slip: Slip { rolling: 1.0, per_newton: 0.0, per_newton_u: 0.0, delay: 0.0, measured: false },
        grid: &[],
    };
    let fits: Vec<&PullFit> = pulls.iter().map(|p| &p.fit).collect();
    let forces: Vec<Vec<f64>> = fits.iter().map(|f| bench.contact(f, &Deviation::default())).collect();
    bench.slip = slip::estimate(job, &fits, &forces);
    if !bench.slip.measured && job.rig.kind != RigKind::Hub {
        notices.push(
            "engine speed is not recorded: it follows from roller speed, the job's ratio and tyre radius, and a slip assumed from common practice".into(),
        );
    }
    common::check_units(job, &pulls, &bench.slip, &mut notices)?;
    let speeds: Vec<Vec<f64>> =
        fits.iter().zip(&forces).map(|(fit, force)| bench.speed(fit, force)).collect();
    let reaches: Vec<(f64, f64)> = speeds.iter().map(|s| (s[0], s[s.len() - 1])).collect();
    let grid = common::make_grid(job, &reaches)?;
    let band = common::common_band(&grid, &reaches, &pulls)?;
    bench.grid = &grid;
    let places: Vec<_> = speeds.iter().map(|s| bench.places(s)).collect();
    let refused = |k: usize| {
        let (pulls, drags) = (&pulls, &drags);
        move |refusal| {
            remarks::refused(format!("{standard}, {}", loss.card().id), &pulls[k], &drags[k], refusal)
        }
    };
    let mut curves = Vec::with_capacity(fits.len());
    for (k, f) in fits.iter().enumerate() {
        curves.push(bench.curve(f, &drags[k], &pulls[k].log.air, &places[k]).map_err(refused(k))?);
    }
    let family = Family {
        logs: curves.iter().map(powered).collect(),
        state: fits.iter().map(|f| f.state).collect(),
        states: job.states.len(),
        band: band.clone(),
    };
    let names: Vec<&str> = fits.iter().map(|f| f.name.as_str()).collect();
    remarks::unpowered(&names, &grid, &curves, &mut notices);
    let levels = family.levels();
    if let Some(name) = levels.iter().zip(&names).find(|(l, _)| !l.is_finite()).map(|(_, name)| *name) {
        return Err(remarks::without_power(name, &grid[band]));
    }
    let (mut rig_lines, mut rig_wheel) = (Vec::new(), Vec::new());
    for source in rig::sources(job, &bench.slip, &late, loss.card().id) {
        let mut change = vec![vec![0.0; grid.len()]; job.states.len()];
        let (mut wheel, mut count) = (change.clone(), change.clone());
        for (k, f) in fits.iter().enumerate() {
            let air = &pulls[k].log.air;
            let moved =
                bench.moved(f, &drags[k], air, &places[k], &curves[k], &source.up).map_err(refused(k))?;
            for (i, (at_wheel, at_crank)) in moved.into_iter().enumerate() {
                if at_crank.is_finite() {
                    change[f.state][i] += at_crank * source.times;
                    wheel[f.state][i] += at_wheel * source.times;
                    count[f.state][i] += 1.0;
                }
            }
        }
        for (c, n) in change.iter_mut().chain(&mut wheel).zip(count.iter().chain(&count)) {
            averaged(c, n);
        }
        rig_lines.push((source, change));
        rig_wheel.push(wheel);
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
    // two-sided 5 % for the largest of all (Bonferroni)
    let outlying = if assumed_scatter || !(soaked.dof > 2.0) {
        f64::INFINITY
    } else {
        t_quantile(1.0 - 0.025 / pulls.len() as f64, soaked.dof - 1.0)
    };
    let slip = bench.slip;
    let work = Work {
        job,
        bench,
        pulls: &pulls,
        drags: &drags,
        curves: &curves,
        places: &places,
        reaches: &reaches,
        family: &family,
        levels: &levels,
        soaked: &soaked,
        assumed_scatter,
        outlying,
        rig: &rig_lines,
        rig_wheel: &rig_wheel,
        shapes: &shapes,
        counts: &counts,
        scatter: &scatter,
    };
    let mut parts = Vec::new();
    let mut done = Vec::new();
    for s in 0..job.states.len() {
        let (state, errors) = states::state(&work, s)?;
        done.push(state);
        parts.push(errors);
    }
    let mut comparisons = Vec::new();
    for b in 1..done.len() {
        let (comparison, errors) = compare::compare(&work, &done, 0, b);
        comparisons.push(comparison);
        parts.push(errors);
    }
    let correlation = states::DECORRELATE / job.grid.step;
    let mut drawn = bands::drawn(&parts, grid.len(), correlation, soaked.dof, job.grid.seed).into_iter();
    for (state, drawn) in done.iter_mut().zip(&mut drawn) {
        states::banded(state, &drawn);
    }
    for (comparison, drawn) in comparisons.iter_mut().zip(drawn) {
        compare::banded(comparison, &drawn);
    }
    let worked = worked::worked(&work, &done);
    let said = curves.iter().map(|c| c.factor.notices().each().chain(c.notices.each()));
    notices.extend(remarks::merged(&names, said.enumerate()));
    let mut seen = BTreeSet::new();
    notices.retain(|n| seen.insert(n.clone()));
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

/// Sums over their counts. Where engine speed moves with the calibration, no moved pull may pass the ends of the curve:
/// what the outermost point passed has holds there too.
fn averaged(sums: &mut [f64], counts: &[f64]) {
    for (x, n) in sums.iter_mut().zip(counts) {
        *x /= n.max(1.0);
    }
    let passed = |n: &f64| *n > 0.0;
    if let (Some(first), Some(last)) = (counts.iter().position(passed), counts.iter().rposition(passed)) {
        let (low, high) = (sums[first], sums[last]);
        sums[..first].fill(low);
        sums[last + 1..].fill(high);
    }
}

/// ln of a pull's corrected power; NaN, as where it does not reach, where the roller takes no power in: full load is over
/// there, and what the loss model adds to nothing is no power of the engine.
fn powered(c: &Curve) -> Vec<f64> {
    let both = c.wheel.iter().zip(&c.corrected);
    both.map(|(wheel, power)| if *wheel > 0.0 { libm::log(*power) } else { f64::NAN }).collect()
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

/// The factor uses the air of the job; a recorded intake temperature that differs is said, not used silently.
fn intake_notices(pulls: &[Gathered], notices: &mut Vec<String>) {
    let apart = |p: &Gathered| {
        let r = p.readings.iter().find(|r| r.role == fairpull_recordings::Role::IntakeTemperature)?;
        let mean = r.value.iter().sum::<f64>() / r.value.len() as f64;
        let apart = mean - p.log.air.temperature.kelvin();
        (apart.abs() > 2.0).then_some(apart)
    };
    let found: Vec<(usize, f64)> =
        pulls.iter().enumerate().filter_map(|(k, p)| apart(p).map(|a| (k, a))).collect();
    let Some((least, most)) = remarks::ends(found.iter().map(|f| f.1)) else { return };
    let names: Vec<&str> = pulls.iter().map(|p| p.fit.name.as_str()).collect();
    let which: Vec<usize> = found.iter().map(|f| f.0).collect();
    notices.push(format!(
        "{}the recorded intake temperature is {} K from the air temperature of the job, which the factor uses; the standards mean the air that enters the intake system",
        remarks::of_pulls(&names, &which),
        remarks::span(&format!("{least:+.1}"), &format!("{most:+.1}"))
    ));
}
