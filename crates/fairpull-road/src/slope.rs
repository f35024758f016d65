//! The slope of the road from a height channel.

use crate::error::{RoadError, within};
use crate::interval::Interval;
use crate::linear::least_squares;
use crate::log::SpeedLog;
use serde::{Deserialize, Serialize};

/// A slope found from height over distance.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SlopeFound {
    /// Mean slope over the pull, percent, uphill positive.
    pub slope_percent: Interval,
    /// Height gained over the pull by the fitted line, m.
    pub climb_m: f64,
    /// Standard deviation of height about the line, m: noise of the receiver and unevenness of the road.
    pub residual_m: f64,
}

/// Straight line of height over distance; none without a height channel. The interval counts only as many independent
/// heights as the correlation of the residuals leaves.
pub(crate) fn slope_from_height(
    log: &SpeedLog,
    span: core::ops::Range<usize>,
    v: &[f64],
) -> Result<Option<SlopeFound>, RoadError> {
    if log.height_m.is_empty() {
        return Ok(None);
    }
    if log.height_m.len() != log.time_s.len() {
        return Err(RoadError::Unequal {
            left: "time_s",
            left_len: log.time_s.len(),
            right: "height_m",
            right_len: log.height_m.len(),
        });
    }
    let mut x = 0.0;
    let (mut rows, mut heights) = (Vec::new(), Vec::new());
    for i in span.clone() {
        let at = |list: &[f64], k: usize| list.get(k).copied().unwrap_or(f64::NAN);
        if i > span.start {
            x += 0.5 * (at(v, i) + at(v, i - 1)) * (at(&log.time_s, i) - at(&log.time_s, i - 1));
        }
        let h = at(&log.height_m, i);
        if h.is_nan() {
            continue;
        }
        within(
            h,
            -500.0,
            9000.0,
            &format!("height, sample {}", i + 1),
            "m",
            "remove the channel or repair it",
        )?;
        rows.push([1.0, x]);
        heights.push(h);
    }
    if rows.len() < crate::smooth::FEWEST {
        return Ok(None);
    }
    let Some(fit) = least_squares(&rows, &heights, None) else { return Ok(None) };
    let n = rows.len() as f64;
    let [base, slope] = fit.coefficients;
    let residuals: Vec<f64> = rows.iter().zip(&heights).map(|(r, h)| h - base - slope * r[1]).collect();
    let square: f64 = residuals.iter().map(|r| r * r).sum();
    let lagged: f64 = residuals.windows(2).map(|w| w.iter().product::<f64>()).sum();
    let r = if square > 0.0 { (lagged / square).clamp(0.0, 0.98) } else { 0.0 };
    let variance = square / (n - 2.0).max(1.0);
    let u = libm::sqrt(variance * fit.inverse[1][1] * (1.0 + r) / (1.0 - r));
    Ok(Some(SlopeFound {
        slope_percent: Interval::normal(100.0 * slope, 100.0 * u),
        climb_m: slope * x,
        residual_m: libm::sqrt(variance),
    }))
}
