//! What all pulls share: the delay of the force channel, agreement of the speeds, grid and band.

use crate::delay::{self, Delay};
use crate::evaluate;
use crate::gather::{Gathered, Logged, ReduceError};
use crate::job::{Job, RigKind};
use crate::slip::Slip;

pub(crate) fn force_delay(job: &Job, logged: &[Logged]) -> Delay {
    if job.rig.kind == RigKind::InertiaRoller {
        return Delay::NONE;
    }
    let pulls: Vec<_> =
        logged.iter().flat_map(|l| l.found.iter().map(|f| (&l.trace, f.pull.clone()))).collect();
    delay::estimate(&pulls, evaluate::moving_mass(job))
}

/// Engine speed and roller speed must agree with the job's ratio and tyre radius: a wrong unit or a wrong gear shows
/// here. Beyond 15 % a pull is refused, beyond 1 % in the mean it is said.
pub(crate) fn check_units(
    job: &Job,
    pulls: &[Gathered],
    slip: &Slip,
    notices: &mut Vec<String>,
) -> Result<(), ReduceError> {
    let declared = job.vehicle.tyre_radius.value / job.vehicle.ratio;
    for p in pulls {
        let travels = || p.fit.pairs.iter().map(|(v, n, _)| v / n).filter(|x| x.is_finite());
        let (mut below, mut inside, mut all) = (0, 0, 0);
        for x in travels() {
            let by = x / declared - 1.0;
            below += usize::from(by < -0.15);
            inside += usize::from(libm::fabs(by) <= 0.15);
            all += 1;
        }
        let middle = all / 2;
        // that counting settles it nearly always spares the search for the median
        if all < 10 || (below..below + inside).contains(&middle) {
            continue;
        }
        let mut travel: Vec<f64> = travels().collect();
        let found = fairpull_uncertainty::nth(&mut travel, middle) / declared;
        if libm::fabs(found - 1.0) > 0.15 {
            return Err(ReduceError::Log {
                file: p.fit.name.clone(),
                problem: format!(
                    "roller speed over engine speed is {found:.3} times what tyre radius and ratio of the job give{}",
                    unit_guess(found)
                ),
                mend: "check the units of both speed columns, the gear driven, vehicle.ratio and vehicle.tyre_radius".into(),
            });
        }
    }
    let all = slip.rolling / declared;
    if slip.measured && libm::fabs(all - 1.0) > 0.01 {
        notices.push(format!(
            "roller and engine speed say {:+.1} % against tyre radius and ratio of the job; the recordings are believed",
            100.0 * (all - 1.0)
        ));
    }
    Ok(())
}

/// The mistake of unit that would explain a factor, in words.
pub(crate) fn unit_guess(found: f64) -> &'static str {
    let near = |x: f64| libm::fabs(found / x - 1.0) < 0.05;
    if near(1.0 / 1.609_344) {
        "; a speed in mph read as km/h would do that"
    } else if near(1.609_344) {
        "; a speed in km/h read as mph would do that"
    } else if near(3.6) || near(1.0 / 3.6) {
        "; m/s taken for km/h or the reverse would do that"
    } else if near(2.0) || near(0.5) {
        "; an ignition pick-up that counts half or twice the sparks would do that"
    } else {
        ""
    }
}

pub(crate) fn make_grid(job: &Job, reaches: &[(f64, f64)]) -> Result<Vec<f64>, ReduceError> {
    let low = reaches.iter().map(|r| r.0).fold(f64::INFINITY, f64::min);
    let high = reaches.iter().map(|r| r.1).fold(f64::NEG_INFINITY, f64::max);
    let step = job.grid.step;
    let low = job.grid.from.map_or(low, |f| f.max(low));
    let high = job.grid.to.map_or(high, |t| t.min(high));
    let first = libm::ceil(low / step - 1e-9);
    let last = libm::floor(high / step + 1e-9);
    if !(last - first >= 2.0 && last - first < 5000.0) {
        let reach = |f: fn(f64, f64) -> f64, start: f64, of: fn(&(f64, f64)) -> f64| {
            reaches.iter().map(of).fold(start, f)
        };
        return Err(ReduceError::Log {
            file: job.file.clone(),
            problem: format!(
                "no grid of engine speed is left: the pulls run from {:.0} to {:.0} 1/min, grid.from and grid.to leave {low:.0} to {high:.0} in steps of {step}",
                reach(f64::min, f64::INFINITY, |r| r.0),
                reach(f64::max, f64::NEG_INFINITY, |r| r.1)
            ),
            mend: "correct grid.from and grid.to, or leave them out".into(),
        });
    }
    Ok((0..=(last - first) as usize).map(|i| (first + i as f64) * step).collect())
}

pub(crate) fn common_band(
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
