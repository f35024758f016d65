//! Wet bulb: thermodynamic, and as a ventilated psychrometer shows it; both directions.

use crate::humidity::{humidity_ratio, ratio_of, vapour_of};
use crate::solve::bisect;
use crate::{HumidError, Method};
use fairpull_core::{AbsolutePressure, Air, Cite, Limit, Reading, Temperature, VapourPressure};

/// How a wet-bulb reading becomes a vapour pressure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum Psychrometer {
    /// Thermodynamic (adiabatic saturation) wet bulb, ASHRAE handbook 2017, chapter 1, equations 33 and 35
    /// (corroborated by psychrolib); ice on the bulb below 0 °C.
    #[default]
    Thermodynamic,
    /// Ventilated psychrometer, e = es(tw) − 6.62e-4 p (t − tw) (Sprung's coefficient, from memory).
    Sprung,
    /// Ventilated psychrometer, e = es(tw) − 6.53e-4 (1 + 0.000944 tw) p (t − tw) (WMO-No. 8, annex 4.B, from memory).
    Wmo,
}

/// Wet bulbs that are evaluated, °C.
static WET: Limit = Limit {
    what: "wet-bulb temperature",
    unit: "°C",
    low: -40.0,
    high: 80.0,
    cite: Cite::new("fairpull", "range of the psychrometric formulas", Reading::Derived),
};
/// Dry bulbs that are evaluated, °C.
static DRY: Limit = Limit { what: "dry-bulb temperature", ..WET };

/// Humidity ratio from wet bulb `w` and dry bulb `t` in °C; `ice` for a frozen bulb.
fn ratio_at(w: f64, t: f64, p: f64, method: &Method, ice: bool) -> f64 {
    let kelvin = w + 273.15;
    let f = method.formulation;
    if ice {
        // ASHRAE 2017, chapter 1, equation 35.
        let saturated = ratio_of(f.ice(kelvin), p);
        ((2830.0 - 0.24 * w) * saturated - 1.006 * (t - w)) / (2830.0 + 1.86 * t - 2.1 * w)
    } else {
        // ASHRAE 2017, chapter 1, equation 33.
        let saturated = ratio_of(f.water(kelvin), p);
        ((2501.0 - 2.326 * w) * saturated - 1.006 * (t - w)) / (2501.0 + 1.86 * t - 4.186 * w)
    }
}

/// Vapour pressure from a psychrometer's coefficient, Pa.
fn vapour_at(w: f64, t: f64, p: f64, method: &Method, coefficient: f64) -> f64 {
    method.formulation.water(w + 273.15) - coefficient * p * (t - w)
}

fn coefficient(kind: Psychrometer, w: f64) -> Option<f64> {
    match kind {
        Psychrometer::Thermodynamic => None,
        Psychrometer::Sprung => Some(6.62e-4),
        Psychrometer::Wmo => Some(6.53e-4 * (1.0 + 0.000_944 * w)),
    }
}

/// Vapour pressure from dry bulb, wet bulb and station pressure.
///
/// A ventilated psychrometer is reckoned with water on the bulb also below 0 °C; the thermodynamic wet bulb with ice
/// there.
///
/// # Errors
/// [`HumidError::WetBulbAboveDryBulb`], [`HumidError::WetBulbTooLow`], or a range.
pub fn vapour_from_wet_bulb(
    station: AbsolutePressure,
    dry: Temperature,
    wet: Temperature,
    kind: Psychrometer,
    method: &Method,
) -> Result<VapourPressure, HumidError> {
    let (t, w, p) = (dry.celsius(), wet.celsius(), station.pascals());
    DRY.check(t)?;
    WET.check(w)?;
    if w > t {
        return Err(HumidError::WetBulbAboveDryBulb { wet_c: w, dry_c: t });
    }
    let ice = w < 0.0 && kind == Psychrometer::Thermodynamic;
    if ice {
        method.formulation.over_ice(wet)?
    } else {
        method.formulation.over_water(wet)?
    };
    let e = match coefficient(kind, w) {
        Some(a) => vapour_at(w, t, p, method, a),
        None => vapour_of(ratio_at(w, t, p, method, ice), p),
    };
    if e >= 0.0 && e.is_finite() {
        Ok(VapourPressure::from_pascals(e))
    } else {
        Err(HumidError::WetBulbTooLow { wet_c: w, dry_c: t })
    }
}

/// Wet bulb of a given air. Solved to the last bit of a bracket from −40 °C to the dry bulb.
///
/// Around 0 °C the thermodynamic wet bulb has two answers, water and ice; the liquid one is given where it exists.
///
/// # Errors
/// A range, or [`HumidError::NoIceFormula`] for a frozen bulb.
pub fn wet_bulb(air: &Air, kind: Psychrometer, method: &Method) -> Result<Temperature, HumidError> {
    let (t, p, e) = (air.temperature().celsius(), air.station().pascals(), air.vapour().pascals());
    DRY.check(t)?;
    let f = method.formulation;
    f.range().check(t)?;
    let lowest = WET.low.max(f.range().low);
    if kind != Psychrometer::Thermodynamic {
        let below = |w: f64| coefficient(kind, w).is_some_and(|a| vapour_at(w, t, p, method, a) < e);
        return Ok(Temperature::from_celsius(bisect(lowest, t, below)));
    }
    let ratio = humidity_ratio(air);
    if t >= 0.0 && ratio_at(0.0, t, p, method, false) <= ratio {
        let w = bisect(0.0, t, |w| ratio_at(w, t, p, method, false) < ratio);
        return Ok(Temperature::from_celsius(w));
    }
    let range = f.ice_range().ok_or(HumidError::NoIceFormula { cite: f.cite() })?;
    let top = t.min(0.0);
    let w = bisect(WET.low.max(range.low), top, |w| ratio_at(w, t, p, method, true) < ratio);
    Ok(Temperature::from_celsius(w))
}
