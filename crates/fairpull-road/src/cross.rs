//! Dynamometer against road: do they agree, and if not, what would explain the difference.

use crate::error::{RoadError, within};
use crate::interval::Interval;
use crate::load::G;
use crate::log::{LogSetup, PowerAt};
use serde::{Deserialize, Serialize};

/// Power of the rig at a road speed, restated to the air of the road run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RigPower {
    /// Road (roller surface) speed, km/h.
    pub speed_kmh: f64,
    /// Power at the wheels, kW, on the same convention for the power of rotating parts as the road curve.
    pub wheel_power_kw: f64,
    /// Its standard uncertainty, kW.
    pub u_kw: f64,
    /// Power at the crankshaft at the same point, kW, if the rig states one: gives the share lost on the road.
    #[serde(default)]
    pub crank_power_kw: Option<f64>,
}

/// Difference at one speed, and what alone would explain it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Difference {
    /// Road speed, km/h.
    pub speed_kmh: f64,
    /// Rig less road, kW.
    pub difference_kw: Interval,
    /// Rig less road, percent of the road's power.
    pub difference_percent: f64,
    /// Error of the vehicle's mass in the road calculation that would explain it, percent of the mass.
    pub mass_percent: f64,
    /// Error of the drag area that would explain it, percent.
    pub drag_percent: f64,
    /// Unnoticed slope that would explain it, percent.
    pub slope_percent: f64,
    /// Share of crank power that would have to be lost for the road's figure, percent; none without a crank figure.
    pub loss_percent: Option<f64>,
}

/// Outcome of the comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Agreement {
    /// The interval of the mean difference holds 0.
    Agree,
    /// It does not.
    Differ,
}

/// Dynamometer against road.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrossCheck {
    /// By speed.
    pub points: Vec<Difference>,
    /// Mean of rig less road, percent of the road's power, over the speeds that both hold.
    pub mean_percent: Interval,
    /// Whether they agree.
    pub agreement: Agreement,
    /// The finding in words.
    pub finding: String,
}

/// Compares a rig's power with the road's at the same air, speed by speed. The rig curve is interpolated linearly to
/// the speeds of the road curve that it covers. Uncertainties of rig and road are independent of each other, but each
/// is taken as shared between its own speeds, so that a mean over speeds does not shrink it.
///
/// # Errors
/// [`RoadError`] when the curves share no speed or hold values no rig shows.
pub fn cross_check(rig: &[RigPower], road: &[PowerAt], setup: &LogSetup) -> Result<CrossCheck, RoadError> {
    for p in rig {
        within(p.wheel_power_kw, 0.1, 10_000.0, "wheel power of the rig", "kW", "check the unit")?;
        within(p.u_kw, 0.0, 10_000.0, "uncertainty of the rig", "kW", "give a standard uncertainty")?;
    }
    let speeds: Vec<f64> = rig.iter().map(|p| p.speed_kmh).collect();
    crate::error::rising(&speeds, "road speed of the rig curve", "km/h")?;
    let (low, high) = (speeds.first().copied().unwrap_or(0.0), speeds.last().copied().unwrap_or(0.0));
    let factor = setup.mass_factors.last().copied().unwrap_or(1.0);
    let mut points = Vec::new();
    let (mut sum, mut u_sum) = (0.0, 0.0);
    for r in road.iter().filter(|r| r.speed_kmh >= low && r.speed_kmh <= high && r.wheel_power_kw.value > 0.0)
    {
        let read = |f: fn(&RigPower) -> f64| {
            crate::motion::table(rig.iter().map(|p| (p.speed_kmh, f(p))), r.speed_kmh)
        };
        let (power, u_rig) = (read(|p| p.wheel_power_kw), read(|p| p.u_kw));
        let u_road = r.wheel_power_kw.standard_uncertainty();
        let gap = power - r.wheel_power_kw.value;
        let u = libm::hypot(u_rig, u_road);
        let v = r.speed_kmh / 3.6;
        let watts = 1000.0 * gap;
        let on = &setup.conditions;
        let per_mass = (factor * r.acceleration_mps2 + G * on.slope_sine()) * v;
        let wind = v + on.headwind_mps;
        let drag =
            setup.load.f2_n_per_mps2 * on.density_kg_per_m3 / setup.load.density_kg_per_m3 * wind * wind * v;
        let has_crank = rig.iter().all(|p| p.crank_power_kw.is_some());
        let crank = read(|p| p.crank_power_kw.unwrap_or(f64::NAN));
        points.push(Difference {
            speed_kmh: r.speed_kmh,
            difference_kw: Interval::normal(gap, u),
            difference_percent: 100.0 * gap / r.wheel_power_kw.value,
            mass_percent: 100.0 * watts / (per_mass * setup.mass_kg),
            drag_percent: 100.0 * watts / drag,
            slope_percent: 100.0 * watts / (setup.mass_kg * G * v),
            loss_percent: has_crank.then(|| 100.0 * (1.0 - r.wheel_power_kw.value / crank)),
        });
        sum += gap / r.wheel_power_kw.value;
        u_sum += u / r.wheel_power_kw.value;
    }
    if points.is_empty() {
        return Err(RoadError::NoAnswer {
            what: format!("rig ({low} to {high} km/h) and road share no speed"),
            mend: "give the rig curve by road speed over the range of the road run",
        });
    }
    let n = points.len() as f64;
    let mean_percent = Interval::normal(100.0 * sum / n, 100.0 * u_sum / n);
    let agreement = if mean_percent.contains(0.0) { Agreement::Agree } else { Agreement::Differ };
    let mean = |f: fn(&Difference) -> f64| points.iter().map(f).sum::<f64>() / n;
    let finding = match agreement {
        Agreement::Agree => format!(
            "rig and road agree within their uncertainties: rig less road is {:.1} % ({:.1} to {:.1} %)",
            mean_percent.value, mean_percent.lo95, mean_percent.hi95
        ),
        Agreement::Differ => format!(
            "rig and road differ: rig less road is {:.1} % ({:.1} to {:.1} %); alone it would take a mass wrong by {:.1} %, or a drag area wrong by {:.0} %, or an unnoticed slope of {:.2} %",
            mean_percent.value,
            mean_percent.lo95,
            mean_percent.hi95,
            mean(|p| p.mass_percent),
            mean(|p| p.drag_percent),
            mean(|p| p.slope_percent)
        ),
    };
    Ok(CrossCheck { points, mean_percent, agreement, finding })
}
