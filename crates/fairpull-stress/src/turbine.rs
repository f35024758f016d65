//! Turbine side: pre-turbine pressure, what a change behind the turbine does before it, pumping work.

use fairpull_core::{Cite, Limit, Reading, Refusal};

use crate::check::{
    AIR_FUEL, COMPRESSOR, EXHAUST_TEMPERATURE, EXPANSION, INTAKE_TEMPERATURE, MECHANICAL, MECHANICS, RATIO,
    SPEED, SWEPT, TURBINE, held,
};
use crate::compressor::{AIR_HEAT_CAPACITY, isentropic};
use crate::{AbsoluteReading, Figure, TemperatureReading, figure::propagate};

/// Heat capacity of exhaust gas at constant pressure, J/(kg·K).
pub const EXHAUST_HEAT_CAPACITY: f64 = 1150.0;
/// Ratio of specific heats of exhaust gas.
pub const EXHAUST_GAMMA: f64 = 1.33;

/// Labels of the ratio of pre-turbine to manifold pressure: labels, not limits.
pub const RATIO_LABELS: Cite = Cite::new(
    "handbook knowledge, no citable source",
    "pre-turbine over manifold pressure",
    Reading::Doubtful,
);

/// The label of a ratio of pre-turbine to manifold pressure at rated power ([`RATIO_LABELS`]).
#[must_use]
pub fn ratio_label(ratio: f64) -> &'static str {
    if ratio < 1.0 {
        "scavenging: pre-turbine pressure below manifold pressure"
    } else if ratio <= 1.3 {
        "good at rated power"
    } else if ratio <= 1.6 {
        "common with the small turbine of a road engine"
    } else if ratio <= 2.0 {
        "high"
    } else if ratio > 2.0 {
        "restrictive: residual gas, knock and pumping work"
    } else {
        "not a number"
    }
}

/// Pre-turbine over manifold pressure, both absolute.
///
/// # Errors
/// [`Refusal::OutOfRange`] outside 0.2 to 10.
pub fn pressure_ratio(pre_turbine: &AbsoluteReading, manifold: &AbsoluteReading) -> Result<Figure, Refusal> {
    let got = propagate([pre_turbine.pascals(), manifold.pascals()], |x| x[0] / x[1]);
    Limit { what: "pre-turbine over manifold pressure", unit: "1", low: 0.2, high: 10.0, cite: MECHANICS }
        .check(got.value)?;
    Ok(got)
}

/// Expansion ratio over the turbine, inlet over outlet.
///
/// # Errors
/// [`Refusal::OutOfRange`] below 1 or above 10.
pub fn expansion_ratio(before: &AbsoluteReading, after: &AbsoluteReading) -> Result<Figure, Refusal> {
    Ok(held(&EXPANSION, propagate([before.pascals(), after.pascals()], |x| x[0] / x[1]))?)
}

/// A turbocharger in balance: turbine power times mechanical efficiency drives the compressor, no wastegate flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Compressor pressure ratio, total over total.
    pub pressure_ratio: Figure,
    /// Compressor inlet temperature.
    pub inlet: TemperatureReading,
    /// Isentropic efficiency of the compressor.
    pub compressor_efficiency: Figure,
    /// Gas temperature before the turbine.
    pub exhaust: TemperatureReading,
    /// Isentropic efficiency of the turbine.
    pub turbine_efficiency: Figure,
    /// Mechanical efficiency.
    pub mechanical_efficiency: Figure,
    /// Air-fuel ratio by mass.
    pub air_fuel_ratio: Figure,
}

/// Expansion ratio that the balance needs: (1 + 1/AFR) cp_e η_m η_t T3 (1 − ER^(−(γe−1)/γe)) = cp_a T1
/// (PR^((γa−1)/γa) − 1)/η_c. A lower bound: wastegate flow and choking only raise it.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity; [`Refusal::NotApplicable`] when the exhaust cannot give the power.
pub fn expansion_from_balance(b: &Balance) -> Result<Figure, Refusal> {
    let inputs = [
        held(&RATIO, b.pressure_ratio)?,
        held(&INTAKE_TEMPERATURE, b.inlet.kelvin())?,
        held(&COMPRESSOR, b.compressor_efficiency)?,
        held(&EXHAUST_TEMPERATURE, b.exhaust.kelvin())?,
        held(&TURBINE, b.turbine_efficiency)?,
        held(&MECHANICAL, b.mechanical_efficiency)?,
        held(&AIR_FUEL, b.air_fuel_ratio)?,
    ];
    let got = propagate(inputs, |x| {
        let taken = AIR_HEAT_CAPACITY * x[1] * (isentropic(x[0]) - 1.0) / x[2];
        let offered = (1.0 + 1.0 / x[6]) * EXHAUST_HEAT_CAPACITY * x[5] * x[4] * x[3];
        libm::pow(1.0 - taken / offered, -EXHAUST_GAMMA / (EXHAUST_GAMMA - 1.0))
    });
    if !got.value.is_finite() {
        return Err(Refusal::NotApplicable {
            why: "the exhaust cannot drive this compressor: check pressure ratio, efficiencies and temperature",
            cite: MECHANICS,
        });
    }
    Ok(held(&EXPANSION, got)?)
}

/// Change before the turbine that a change behind it causes, Pa: at constant expansion ratio Δp3 = ER Δp4. The
/// turbine still has to give the same power, so the restriction behind it is multiplied.
///
/// # Errors
/// [`Refusal::OutOfRange`] for an expansion ratio below 1.
pub fn upstream_change(downstream_change: Figure, expansion: Figure) -> Result<Figure, Refusal> {
    Ok(propagate([downstream_change, held(&EXPANSION, expansion)?], |x| x[0] * x[1]))
}

/// Pumping mean effective pressure as a loss, Pa: exhaust less intake pressure, mean over the strokes.
#[must_use]
pub fn pumping_pressure(exhaust: &AbsoluteReading, intake: &AbsoluteReading) -> Figure {
    exhaust.pascals().less(&intake.pascals(), 0.0)
}

/// Power that a mean effective pressure (Pa) is worth, W: p V n/120, four-stroke.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn pumping_power(pressure: Figure, swept: Figure, speed_rpm: Figure) -> Result<Figure, Refusal> {
    Limit { what: "pumping mean effective pressure", unit: "Pa", low: -1.0e6, high: 2.0e6, cite: MECHANICS }
        .check(pressure.value)?;
    let inputs = [pressure, held(&SWEPT, swept)?, held(&SPEED, speed_rpm)?];
    Ok(propagate(inputs, |x| x[0] * x[1] * x[2] / 120.0))
}

/// Octane numbers that a change of exhaust back pressure (Pa) is worth by the published guideline of 1 per 30 kPa
/// (Russ, SAE 960497, abstract), 30 % uncertain.
#[must_use]
pub fn octane_from_back_pressure(change: Figure) -> Figure {
    propagate([change, Figure::new(1.0, 0.3)], |x| x[1] * x[0] / 30.0e3)
}
