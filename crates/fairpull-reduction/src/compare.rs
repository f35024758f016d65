//! Two states of one car on one rig.

use fairpull_uncertainty::{coverage_factor, effective_dof, more_repeats, smallest_detectable, t_quantile};

use crate::bands::{Drawn, Parts};
use crate::outcome::{Bounded, ChannelOutcome, ComparisonOutcome, StateOutcome, Verdict};
use crate::reduce::Work;
use crate::remarks::{ends, span};
use crate::states::nearest;

/// A comparison without its bands, and the errors that they are drawn from.
pub(crate) fn compare(
    work: &Work<'_>,
    states: &[StateOutcome],
    a: usize,
    b: usize,
) -> (ComparisonOutcome, Parts) {
    let grid = work.bench.grid;
    let (difference, error) = work.soaked.difference(a, b);
    let dof = work.soaked.dof;
    let heat_part = (work.soaked.mean[b] - work.soaked.mean[a]) - difference;
    let mut both: Vec<usize> = (0..grid.len())
        .filter(|i| work.shapes[a][*i].is_finite() && work.shapes[b][*i].is_finite())
        .collect();
    let unknown = unknown(work, a, b, &both);
    both.retain(|i| !unknown.contains(i));
    // what is common to both states leaves only the difference of its effects
    let rig: Vec<Vec<f64>> =
        work.rig.iter().map(|(_, c)| both.iter().map(|i| c[b][*i] - c[a][*i]).collect()).collect();
    let band: Vec<usize> = (0..both.len()).filter(|j| work.family.band.contains(&both[*j])).collect();
    let rig_mean2: f64 = rig
        .iter()
        .map(|s| {
            let m = band.iter().map(|j| s[*j]).sum::<f64>() / band.len() as f64;
            m * m
        })
        .sum();
    let total = libm::sqrt(error * error + rig_mean2);
    let total_dof = effective_dof(&[(error, dof), (libm::sqrt(rig_mean2), f64::INFINITY)]);
    let half = coverage_factor(total_dof) * total;
    let mut pointwise = Vec::new();
    let mut shape_parts = Vec::new();
    let mut gains = Vec::new();
    for (j, i) in both.iter().enumerate() {
        let shape = shape(work, a, b, *i);
        let common2: f64 = rig.iter().map(|s| s[j] * s[j]).sum();
        let d = effective_dof(&[(error, dof), (shape, 4.0 * dof), (libm::sqrt(common2), f64::INFINITY)]);
        pointwise.push(coverage_factor(d) * libm::sqrt(error * error + shape * shape + common2));
        shape_parts.push(shape);
        gains.push(difference + work.shapes[b][*i] - work.shapes[a][*i]);
    }
    let curve = both
        .iter()
        .enumerate()
        .map(|(j, i)| (grid[*i], percent(gains[j], pointwise[j]), percent(gains[j], pointwise[j])))
        .collect();
    let verdict = if difference - half > 0.0 {
        Verdict::Gain
    } else if difference + half < 0.0 {
        Verdict::Loss
    } else {
        Verdict::NoDetectableChange
    };
    let mean = percent(difference, half);
    let (pa, pb) = (&states[a].peak_power, &states[b].peak_power);
    let peak_log = libm::log(pb.value.value / pa.value.value) - heat_part;
    let at = |s: &StateOutcome| {
        let x: Vec<f64> = both.iter().map(|i| grid[*i]).collect();
        nearest(&x, s.peak_power.rpm)
    };
    let (ja, jb) = (at(&states[a]), at(&states[b]));
    let peak_half = 0.5 * (pointwise[ja] + pointwise[jb]);
    // kilowatts from the curves themselves: a ratio of means would not be the mean of differences
    let over =
        |s: usize| band.iter().map(|j| power_at(&states[s], both[*j])).sum::<f64>() / band.len() as f64;
    let watts_b = over(b) * libm::exp(-heat_part);
    let more_watts = Bounded::absolute(watts_b - over(a), half * watts_b);
    let own = |s: usize| work.family.state.iter().filter(|x| **x == s).count();
    let pulls = own(a).min(own(b));
    // heat and rig stay as they are with more pulls
    let level2 = work.soaked.deviation * work.soaked.deviation * (1.0 / own(a) as f64 + 1.0 / own(b) as f64);
    let stays = libm::sqrt((total * total - level2).max(0.0));
    let more = (verdict == Verdict::NoDetectableChange)
        .then(|| more_repeats(difference, work.soaked.deviation, stays))
        .flatten()
        .and_then(|n| n.checked_sub(pulls))
        .filter(|n| *n > 0);
    let comparison = ComparisonOutcome {
        from: a,
        to: b,
        curve,
        mean,
        mean_watts: more_watts,
        peak: percent(peak_log, peak_half),
        peak_watts: scaled(&percent(peak_log, peak_half), pa.value.value),
        smallest_detectable: smallest_detectable(total, total_dof),
        verdict,
        within: libm::expm1(libm::fabs(difference) + t_quantile(0.95, total_dof.max(1.0)) * total),
        more_pulls: more,
        soak_removed: heat_part,
        if_compensated: if_compensated(work, a, b).map(|f| libm::expm1(difference - f)),
        remarks: remarks(work, a, b, heat_part, &unknown),
        channels: channels(&states[a].channels, &states[b].channels),
    };
    (comparison, Parts { grid: both, level: error, shape: shape_parts, rig, pointwise, at: 0 })
}

/// Puts the bands on a comparison.
pub(crate) fn banded(comparison: &mut ComparisonOutcome, drawn: &Drawn) {
    for ((_, gain, band), half) in comparison.curve.iter_mut().zip(&drawn.whole) {
        *band = percent(libm::log1p(gain.value), *half);
    }
}

/// exp(d ± half) − 1.
fn percent(d: f64, half: f64) -> Bounded {
    let g = |x: f64| libm::expm1(x);
    Bounded { value: g(d), low: g(d - half), high: g(d + half) }
}

fn scaled(b: &Bounded, by: f64) -> Bounded {
    Bounded { value: b.value * by, low: b.low * by, high: b.high * by }
}

fn power_at(s: &StateOutcome, index: usize) -> f64 {
    s.curve.iter().find(|p| p.index == index).map_or(f64::NAN, |p| p.power.value)
}

/// Standard uncertainty of the shape of the ratio at a point, as a logarithm: from the scatter of the pulls where there are
/// repeats, else from the noise of one.
fn shape(work: &Work<'_>, a: usize, b: usize, i: usize) -> f64 {
    let (na, nb) = (work.counts[a][i] as f64, work.counts[b][i] as f64);
    let one = if work.family.logs.len() > work.family.states {
        work.scatter[i]
    } else {
        work.curves.iter().map(|c| c.noise[i]).filter(|x| x.is_finite()).fold(0.0, f64::max)
    };
    one * libm::sqrt(1.0 / na + 1.0 / nb)
}

/// Standard uncertainty beyond which a ratio says nothing, as a logarithm: twentyfold. Own judgement, no source.
const UNKNOWN: f64 = 3.0;

/// Points of the grid where noise or what the rig may be off by leaves nothing of the ratio; none where no other point of
/// the band is left.
fn unknown(work: &Work<'_>, a: usize, b: usize, both: &[usize]) -> Vec<usize> {
    let off = |i: usize| {
        let shape = shape(work, a, b, i);
        let rig: f64 = work.rig.iter().map(|(_, c)| (c[b][i] - c[a][i]) * (c[b][i] - c[a][i])).sum();
        libm::sqrt(shape * shape + rig)
    };
    let (known, unknown): (Vec<usize>, Vec<usize>) = both.iter().copied().partition(|i| off(*i) <= UNKNOWN);
    if known.iter().any(|i| work.family.band.contains(i)) { unknown } else { Vec::new() }
}

fn remarks(work: &Work<'_>, a: usize, b: usize, heat_part: f64, unknown: &[usize]) -> Vec<String> {
    let mut out = Vec::new();
    if let Some((low, high)) = ends(unknown.iter().map(|i| work.bench.grid[*i])) {
        out.push(format!(
            "the gain at {} 1/min is left out: next to no power was measured there, and it is not known to within a factor of twenty",
            span(&format!("{low:.0}"), &format!("{high:.0}"))
        ));
    }
    let times = |s: usize| -> Vec<f64> {
        work.pulls.iter().filter(|p| p.fit.state == s).filter_map(|p| p.log.start_minute).collect()
    };
    let (ta, tb) = (times(a), times(b));
    let last = |x: &[f64]| x.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let first = |x: &[f64]| x.iter().copied().fold(f64::INFINITY, f64::min);
    if !ta.is_empty() && !tb.is_empty() && (last(&ta) < first(&tb) || last(&tb) < first(&ta)) {
        out.push(
            "the states were driven one after the other; alternating them (A B B A) keeps heat soak and weather from passing for a change".into(),
        );
    }
    if heat_part.abs() > 5e-4 {
        out.push(format!(
            "heat soak differs between the states by {:+.2} % in power; it is taken out of the comparison",
            100.0 * heat_part
        ));
    }
    if let Some(f) = if_compensated(work, a, b) {
        let (shown, difference) = (work.soaked.difference(a, b).0, work.soaked.difference(a, b).0 - f);
        out.push(format!(
            "the engine is pressure-charged and the job does not say whether its control compensates for the ambient: with the factor it gains {:+.1} %, with factor 1 in both states {:+.1} %. Set ambient_compensated = true where it does",
            100.0 * libm::expm1(shown),
            100.0 * libm::expm1(difference)
        ));
    }
    let air = |s: usize| work.pulls.iter().find(|p| p.fit.state == s).map(|p| p.log.air);
    if let (Some(x), Some(y)) = (air(a), air(b)) {
        let dt = y.temperature.kelvin() - x.temperature.kelvin();
        let dp = (y.station.pascals() - x.station.pascals()) / 100.0;
        if dt.abs() > 5.0 || dp.abs() > 10.0 {
            out.push(format!(
                "the air differs between the states by {dt:+.1} K and {dp:+.1} hPa; the comparison leans on the correction factor"
            ));
        }
    }
    out
}

fn channels(
    from: &[ChannelOutcome],
    to: &[ChannelOutcome],
) -> Vec<(fairpull_recordings::Role, f64, f64, Bounded)> {
    let mut out = Vec::new();
    for x in from {
        let Some(y) = to.iter().find(|c| c.role == x.role) else { continue };
        let change = match fairpull_uncertainty::welch(&x.per_pull, &y.per_pull) {
            Some(w) => Bounded::absolute(w.difference, w.half_width),
            None => Bounded { value: y.mean.value - x.mean.value, low: f64::NAN, high: f64::NAN },
        };
        out.push((x.role, x.mean.value, y.mean.value, change));
    }
    out
}

/// Mean logarithm of the factor in state `b` less that in `a`, where a charged engine might not need it at all.
fn if_compensated(work: &Work<'_>, a: usize, b: usize) -> Option<f64> {
    let engine = &work.job.vehicle.engine;
    if engine.charging == fairpull_core::Charging::None || engine.ambient_compensated {
        return None;
    }
    let mean = |s: usize| {
        let own: Vec<f64> = (0..work.curves.len())
            .filter(|k| work.family.state[*k] == s)
            .map(|k| libm::log(work.curves[k].factor.value()))
            .collect();
        own.iter().sum::<f64>() / own.len().max(1) as f64
    };
    let f = mean(b) - mean(a);
    (f.is_finite() && f.abs() > 0.003).then_some(f)
}
