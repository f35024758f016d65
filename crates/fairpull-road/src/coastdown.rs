//! Road load from coast-downs in both directions: the statistics of UN GTR 15, annex 4, 4.3 (stationary
//! anemometry). The regulation's text could not be read; formulas and limits are from memory, believed right, and
//! agree with Student's t wherever they can be checked.

use crate::car::few;
use crate::error::{RoadError, within};
use crate::interval::Interval;
use crate::linear::least_squares;
use crate::load::RoadLoad;
use fairpull_uncertainty::t_quantile;
use serde::{Deserialize, Serialize};

/// Times of all runs through one speed point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpeedPoint {
    /// Reference speed v_j, km/h.
    pub speed_kmh: f64,
    /// Half the width of the interval, km/h: timed from v_j + Δv to v_j − Δv; 5 is the regulation's.
    pub half_width_kmh: f64,
    /// Times in one direction, s, in the order of the pairs.
    pub a_s: Vec<f64>,
    /// Times in the other direction, s, in the same order.
    pub b_s: Vec<f64>,
}

/// Which factor the precision criterion uses.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Factor {
    /// Exact Student t, two-sided 95 %, n − 1 degrees of freedom.
    #[default]
    StudentT,
    /// The one-decimal table of UN GTR 15, annex 4 (from memory).
    UnGtr15Table,
}
fairpull_tree::words!(Factor { "student-t" => StudentT, "un-gtr15-table" => UnGtr15Table });

/// Coast-downs with their conditions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CoastDownRuns {
    /// The speed points.
    pub points: Vec<SpeedPoint>,
    /// Mean of the mass before and after the runs, kg.
    pub mean_mass_kg: f64,
    /// Equivalent mass of rotating parts, kg: 3 % of (mass in running order + 25 kg) where it was not measured.
    pub rotating_mass_kg: f64,
    /// Mass that the result is wanted for, kg; the mean mass when not given.
    #[serde(default)]
    pub test_mass_kg: Option<f64>,
    /// Mean air temperature, °C.
    pub temperature_c: f64,
    /// Mean air pressure, kPa.
    pub pressure_kpa: f64,
    /// Mean wind along the track over both directions, m/s.
    #[serde(default)]
    pub wind_mps: f64,
    /// Factor of the precision criterion.
    #[serde(default)]
    pub factor: Factor,
}

/// Statistics of one speed point.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct PointResult {
    /// Reference speed, km/h.
    pub speed_kmh: f64,
    /// Harmonic mean over pairs of the harmonic means of both directions, s.
    pub time_s: f64,
    /// Standard deviation of the pairs, s.
    pub deviation_s: f64,
    /// Statistical precision p_j = h·σ_j/(√n·Δt_pj).
    pub precision: f64,
    /// True when the precision meets the criterion of 0.030.
    pub precise: bool,
    /// Force F_j, N.
    pub force_n: Interval,
    /// Residual of the fitted polynomial, N.
    pub residual_n: f64,
}

/// Road load of a coast-down.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CoastDown {
    /// By speed point.
    pub points: Vec<PointResult>,
    /// f0 (N), f1 (N/(km/h)), f2 (N/(km/h)²) as measured.
    pub measured_kmh: [f64; 3],
    /// The same at 20 °C, 100 kPa, still air and test mass.
    pub corrected_kmh: [f64; 3],
    /// Standard uncertainties of the measured three from the scatter of the points about the polynomial; none when
    /// three points leave no scatter.
    pub u_kmh: Option<[f64; 3]>,
    /// The corrected road load at 1.189 kg/m³.
    pub load: RoadLoad,
    /// The corrections: K0 (1/K), K1 (N), K2 (1), w1 (N).
    pub corrections: [f64; 4],
    /// True when every speed point meets the precision criterion.
    pub precise: bool,
    /// Remarks.
    pub notices: Vec<String>,
}

/// Limit of the precision criterion.
const PRECISION: f64 = 0.030;
/// Correction of rolling resistance for temperature, 1/K (UN GTR 15, annex 4, 4.5.2; from memory, and 8.64e-3 in
/// SAE J1263 and UN R83).
const K0: f64 = 8.6e-3;
/// Air density of the reference, 20 °C and 100 kPa, kg/m³ (UN GTR 15, annex 4; from memory).
const REFERENCE_DENSITY: f64 = 1.189;
const TABLE: [f64; 28] = [
    4.3, 3.2, 2.8, 2.6, 2.5, 2.4, 2.3, 2.3, 2.2, 2.2, 2.2, 2.2, 2.2, 2.1, 2.1, 2.1, 2.1, 2.1, 2.1, 2.1, 2.1,
    2.1, 2.1, 2.1, 2.1, 2.1, 2.0, 2.0,
];

/// Factor h for n pairs: exact Student t (two-sided 95 %), or the printed table (3 to 30 pairs).
///
/// # Errors
/// [`RoadError::Field`] for fewer than 2 pairs, or outside the table.
pub fn precision_factor(pairs: usize, factor: Factor) -> Result<f64, RoadError> {
    let n = pairs as f64;
    match factor {
        Factor::StudentT => {
            within(n, 2.0, 1e6, "number of pairs", "1", "a scatter needs at least two pairs")?;
            Ok(t_quantile(0.975, n - 1.0))
        }
        Factor::UnGtr15Table => {
            within(
                n,
                3.0,
                30.0,
                "number of pairs",
                "1",
                "the table covers 3 to 30 pairs; use the exact factor",
            )?;
            Ok(TABLE.get(pairs - 3).copied().unwrap_or(f64::NAN))
        }
    }
}

fn harmonic(times: &[f64]) -> f64 {
    times.len() as f64 / times.iter().map(|t| 1.0 / t).sum::<f64>()
}

fn point(runs: &CoastDownRuns, p: &SpeedPoint) -> Result<PointResult, RoadError> {
    within(p.speed_kmh, 1.0, 300.0, "reference speed", "km/h", "20 to 130 km/h is usual")?;
    within(p.half_width_kmh, 0.1, p.speed_kmh, "half width of the interval", "km/h", "5 km/h is usual")?;
    if p.a_s.len() != p.b_s.len() {
        return Err(RoadError::Unequal {
            left: "a_s",
            left_len: p.a_s.len(),
            right: "b_s",
            right_len: p.b_s.len(),
        });
    }
    let what = format!("pairs of runs at {} km/h", p.speed_kmh);
    few(&what, p.a_s.len(), 3, "run at least three times in each direction")?;
    for (i, t) in p.a_s.iter().chain(&p.b_s).enumerate() {
        let direction = if i < p.a_s.len() { "a" } else { "b" };
        let field = format!("time {} of direction {direction} at {} km/h", i % p.a_s.len() + 1, p.speed_kmh);
        within(*t, 0.05, 1000.0, &field, "s", "give the time from above to below the reference speed")?;
    }
    let pairs: Vec<f64> = p.a_s.iter().zip(&p.b_s).map(|(a, b)| harmonic(&[*a, *b])).collect();
    let n = pairs.len() as f64;
    let time = harmonic(&pairs);
    let square: f64 = pairs.iter().map(|t| (t - time) * (t - time)).sum();
    let deviation = libm::sqrt(square / (n - 1.0));
    let precision = precision_factor(pairs.len(), runs.factor)? * deviation / (libm::sqrt(n) * time);
    let force = (runs.mean_mass_kg + runs.rotating_mass_kg) * 2.0 * p.half_width_kmh / 3.6 / time;
    let exact = precision_factor(pairs.len(), Factor::StudentT)? * deviation / (libm::sqrt(n) * time);
    Ok(PointResult {
        speed_kmh: p.speed_kmh,
        time_s: time,
        deviation_s: deviation,
        precision,
        precise: precision <= PRECISION,
        force_n: Interval::expanded(force, exact * force),
        residual_n: 0.0,
    })
}

/// Road load from coast-downs in both directions.
///
/// The polynomial is fitted to the times, not to forces at mid-interval: M·2Δv/Δt is a harmonic-type mean over the
/// interval, so the fit iterates until ∫M dv/F equals each time in the least-squares sense (relative residuals).
///
/// # Errors
/// [`RoadError`]: fewer than three points or pairs, unequal directions, a time or mass no vehicle has.
pub fn coast_down(runs: &CoastDownRuns) -> Result<CoastDown, RoadError> {
    within(runs.mean_mass_kg, 30.0, 100_000.0, "mean mass", "kg", "weigh the vehicle before and after")?;
    within(runs.rotating_mass_kg, 0.0, runs.mean_mass_kg, "rotating mass", "kg", "3 % of the mass is usual")?;
    within(runs.temperature_c, -30.0, 50.0, "air temperature", "°C", "give the mean during the runs")?;
    within(
        runs.pressure_kpa,
        50.0,
        110.0,
        "air pressure",
        "kPa",
        "give station pressure, not sea-level pressure",
    )?;
    within(runs.wind_mps, -10.0, 10.0, "wind", "m/s", "above 10 m/s no coast-down is of use")?;
    few("speed points", runs.points.len(), 3, "a polynomial of three coefficients needs three speeds")?;
    let mut points = runs.points.iter().map(|p| point(runs, p)).collect::<Result<Vec<_>, _>>()?;
    let (fit, u) = polynomial(runs, &points)?;
    for (p, given) in points.iter_mut().zip(&runs.points) {
        p.residual_n = p.force_n.value - mean_force(&fit, given)?;
    }
    let test_mass = runs.test_mass_kg.unwrap_or(runs.mean_mass_kg);
    within(test_mass, 30.0, 100_000.0, "test mass", "kg", "give the mass the result is wanted for")?;
    let (corrected, corrections) = correct(fit, runs, test_mass);
    let mut notices = vec![
        "statistics and corrections after UN GTR 15, annex 4, written from memory: not a type-approval result".to_owned(),
    ];
    if libm::fabs(runs.wind_mps) > 5.0 {
        notices.push("mean wind above 5 m/s: outside the limit of the procedure".to_owned());
    }
    if !(5.0..=40.0).contains(&runs.temperature_c) {
        notices.push("air outside 5 to 40 °C: outside the limit of the procedure".to_owned());
    }
    let precise = points.iter().all(|p| p.precise);
    if !precise {
        notices
            .push("the precision criterion of 3 % is not met at every speed: add pairs of runs".to_owned());
    }
    let load = RoadLoad::from_kmh(corrected[0], corrected[1], corrected[2], REFERENCE_DENSITY);
    Ok(CoastDown {
        points,
        measured_kmh: fit,
        corrected_kmh: corrected,
        u_kmh: u,
        load,
        corrections,
        precise,
        notices,
    })
}

/// 2Δv/∫dv/F over an interval: the force that M·2Δv/Δt measures, N.
fn mean_force(kmh: &[f64; 3], p: &SpeedPoint) -> Result<f64, RoadError> {
    let load = RoadLoad::from_kmh(kmh[0], kmh[1], kmh[2], REFERENCE_DENSITY);
    let (high, low) = ((p.speed_kmh + p.half_width_kmh) / 3.6, (p.speed_kmh - p.half_width_kmh) / 3.6);
    let mass = 1000.0;
    Ok(mass * (high - low) / load.coast_time(mass, high, low)?)
}

/// Polynomial whose interval means match the measured forces, and its standard uncertainties.
fn polynomial(
    runs: &CoastDownRuns,
    points: &[PointResult],
) -> Result<([f64; 3], Option<[f64; 3]>), RoadError> {
    let rows: Vec<[f64; 3]> = points.iter().map(|p| [1.0, p.speed_kmh, p.speed_kmh * p.speed_kmh]).collect();
    let singular = || RoadError::NoAnswer {
        what: "the speed points do not determine three coefficients".to_owned(),
        mend: "give at least three different reference speeds, well apart",
    };
    let mut target: Vec<f64> = points.iter().map(|p| p.force_n.value).collect();
    let mut fit = least_squares(&rows, &target, None).ok_or_else(singular)?;
    // F(v_mid) exceeds the harmonic-type mean by a curvature term that changes little with the fit: iterate on it.
    for _ in 0..60 {
        let before = fit.coefficients;
        for ((t, p), given) in target.iter_mut().zip(points).zip(&runs.points) {
            let c = fit.coefficients;
            let mid = c[0] + c[1] * p.speed_kmh + c[2] * p.speed_kmh * p.speed_kmh;
            *t = p.force_n.value + mid - mean_force(&c, given)?;
        }
        fit = least_squares(&rows, &target, None).ok_or_else(singular)?;
        let moved =
            libm::fabs(fit.coefficients[0] - before[0]) + 1e4 * libm::fabs(fit.coefficients[2] - before[2]);
        if moved < 1e-10 {
            break;
        }
    }
    let free = points.len() as f64 - 3.0;
    let u = (free > 0.0).then(|| {
        let s2 = fit.rss / free;
        [0, 1, 2].map(|i: usize| libm::sqrt(s2 * fit.inverse[i][i]))
    });
    Ok((fit.coefficients, u))
}

/// ((f0 − w1 − K1) + f1·v)·(1 + K0·(T − 20)) + K2·f2·v² (UN GTR 15, annex 4, 4.5.5; from memory).
fn correct(f: [f64; 3], runs: &CoastDownRuns, test_mass: f64) -> ([f64; 3], [f64; 4]) {
    let k2 = (runs.temperature_c + 273.0) / 293.0 * (100.0 / runs.pressure_kpa);
    let k1 = f[0] * (1.0 - test_mass / runs.mean_mass_kg);
    let w1 = 3.6 * 3.6 * f[2] * runs.wind_mps * runs.wind_mps;
    let warm = 1.0 + K0 * (runs.temperature_c - 20.0);
    ([(f[0] - w1 - k1) * warm, f[1] * warm, k2 * f[2]], [K0, k1, k2, w1])
}

/// Applies the corrections to a road load that is already known, coefficients for km/h.
#[must_use]
pub fn corrected_kmh(measured_kmh: [f64; 3], runs: &CoastDownRuns) -> [f64; 3] {
    correct(measured_kmh, runs, runs.test_mass_kg.unwrap_or(runs.mean_mass_kg)).0
}

/// Times through the intervals around reference speeds from a log of one coast-down, s, by the smoothed crossing of
/// both ends.
///
/// # Errors
/// [`RoadError`] for a log too short, a time that does not rise, or a speed that is never crossed downward.
pub fn interval_times(
    log: &crate::log::SpeedLog,
    speeds_kmh: &[f64],
    half_width_kmh: f64,
) -> Result<Vec<Interval>, RoadError> {
    let v: Vec<f64> = log.speed_kmh.iter().map(|x| x / 3.6).collect();
    let curve = crate::smooth::smooth(&log.time_s, &v, &vec![false; v.len()])?;
    let low = log.speed_kmh.iter().copied().fold(f64::INFINITY, f64::min);
    let high = log.speed_kmh.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let cross = |kmh: f64| {
        curve.crossing(kmh / 3.6, false, f64::NEG_INFINITY).ok_or(RoadError::NeverCrossed {
            speed_kmh: kmh,
            low_kmh: low,
            high_kmh: high,
        })
    };
    let mut out = Vec::new();
    for s in speeds_kmh {
        let (a, b) = (cross(s + half_width_kmh)?, cross(s - half_width_kmh)?);
        out.push(Interval::normal(b.t - a.t, libm::hypot(a.time_uncertainty(), b.time_uncertainty())));
    }
    Ok(out)
}
