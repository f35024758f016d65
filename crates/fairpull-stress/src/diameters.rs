//! Two diameters side by side: what was measured and what pipe friction explains, never one made to fit the other.

use fairpull_core::{Cite, Reading, Refusal};

use crate::turbine::{octane_from_back_pressure, pumping_power, upstream_change};
use crate::{Figure, Pipe, PipeLoss, pipe_loss};

/// What the trade reports from a change of exhaust diameter.
pub const TRADE_REPORT: Cite = Cite::new(
    "common practice, no source",
    "about 0.7 bar less pre-turbine pressure at full load from a change of 3.5 to 4 inch",
    Reading::Doubtful,
);

/// Two diameters of the same run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiameterComparison {
    /// Loss with the first diameter.
    pub first: PipeLoss,
    /// Loss with the second diameter.
    pub second: PipeLoss,
    /// Second less first, Pa: what the pipe itself explains.
    pub explained: Figure,
    /// The same before the turbine, Pa, where an expansion ratio is given.
    pub explained_before_turbine: Option<Figure>,
    /// Measured change before the turbine (or of the pipe, without a turbine), Pa.
    pub measured: Option<Figure>,
    /// Measured less explained, Pa.
    pub unexplained: Option<Figure>,
    /// Both in words.
    pub words: &'static str,
}

/// Compares two inside diameters (m) of one pipe run at equal flow. The friction and loss coefficients are the same
/// kind of pipe in both, so their errors are common; a measured change stands beside, untouched.
///
/// # Errors
/// As [`pipe_loss`] and [`upstream_change`].
pub fn compare_diameters(
    pipe: &Pipe,
    first: f64,
    second: f64,
    expansion: Option<Figure>,
    measured: Option<Figure>,
) -> Result<DiameterComparison, Refusal> {
    let of = |diameter: f64| pipe_loss(&Pipe { diameter, ..*pipe });
    let (a, b) = (of(first)?, of(second)?);
    let explained = b.loss.less(&a.loss, 1.0);
    let explained_before_turbine = expansion.map(|er| upstream_change(explained, er)).transpose()?;
    let beside = explained_before_turbine.unwrap_or(explained);
    let unexplained = measured.map(|m| m.less(&beside, 0.0));
    let words = match unexplained {
        None => "no measurement given: this is what the pipe alone explains, not what a car will show",
        Some(u) if libm::fabs(u.value) > 1.96 * u.uncertainty => {
            "measured and explained differ: silencers, catalyst, wastegate, boost control or the measurement carry the \
             rest; the pipe alone does not"
        }
        Some(_) => "measured and explained agree within their uncertainties",
    };
    Ok(DiameterComparison {
        first: a,
        second: b,
        explained,
        explained_before_turbine,
        measured,
        unexplained,
        words,
    })
}

/// What a change of pre-turbine pressure is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackPressureWorth {
    /// Pumping power, W: negative is power gained.
    pub power: Figure,
    /// Octane requirement by the published guideline of 1 per 30 kPa.
    pub octane: Figure,
}

/// Power and octane numbers that a change of pre-turbine pressure (Pa) is worth at equal manifold pressure, from
/// swept volume (m³) and speed (1/min).
///
/// # Errors
/// As [`pumping_power`].
pub fn back_pressure_worth(
    change: Figure,
    swept: Figure,
    speed_rpm: Figure,
) -> Result<BackPressureWorth, Refusal> {
    Ok(BackPressureWorth {
        power: pumping_power(change, swept, speed_rpm)?,
        octane: octane_from_back_pressure(change),
    })
}
