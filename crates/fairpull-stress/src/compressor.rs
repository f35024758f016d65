//! Compressor: outlet temperature, efficiency, power.

use fairpull_core::{Limit, Refusal};

use crate::check::{AIR_FLOW, COMPRESSOR, INTAKE_TEMPERATURE, MECHANICS, OUTLET_TEMPERATURE, RATIO, held};
use crate::{AbsoluteReading, Figure, TemperatureReading, figure::propagate};

/// Ratio of specific heats of air; constant, which is at most 1.4 K wrong up to a pressure ratio of 3.
pub const AIR_GAMMA: f64 = 1.4;
/// Heat capacity of air at constant pressure, J/(kg·K).
pub const AIR_HEAT_CAPACITY: f64 = 1005.0;

pub(crate) fn isentropic(ratio: f64) -> f64 {
    libm::pow(ratio, (AIR_GAMMA - 1.0) / AIR_GAMMA)
}

/// Pressure ratio outlet over inlet, total over total.
///
/// # Errors
/// [`Refusal::OutOfRange`] below 1 or above 8.
pub fn pressure_ratio(inlet: &AbsoluteReading, outlet: &AbsoluteReading) -> Result<Figure, Refusal> {
    let ratio = propagate([inlet.pascals(), outlet.pascals()], |x| x[1] / x[0]);
    Ok(held(&RATIO, ratio)?)
}

/// Outlet temperature, K: T1 + T1 (PR^((γ−1)/γ) − 1)/η.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity: a ratio below 1 or an efficiency above 1 is refused.
pub fn outlet_temperature(
    inlet: &TemperatureReading,
    ratio: Figure,
    efficiency: Figure,
) -> Result<Figure, Refusal> {
    let inputs =
        [held(&INTAKE_TEMPERATURE, inlet.kelvin())?, held(&RATIO, ratio)?, held(&COMPRESSOR, efficiency)?];
    Ok(propagate(inputs, |x| x[0] + x[0] * (isentropic(x[1]) - 1.0) / x[2]))
}

/// Isentropic efficiency from measured temperatures: T1 (PR^((γ−1)/γ) − 1)/(T2 − T1).
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity; an outlet cooler than isentropic compression allows gives an
/// efficiency above 1 and is refused.
pub fn efficiency(
    inlet: &TemperatureReading,
    outlet: &TemperatureReading,
    ratio: Figure,
) -> Result<Figure, Refusal> {
    let t1 = held(&INTAKE_TEMPERATURE, inlet.kelvin())?;
    let t2 = held(&OUTLET_TEMPERATURE, outlet.kelvin())?;
    Limit {
        what: "compressor outlet temperature",
        unit: "K",
        low: t1.value + 1.0,
        high: OUTLET_TEMPERATURE.high,
        cite: MECHANICS,
    }
    .check(t2.value)?;
    let got = propagate([t1, t2, held(&RATIO, ratio)?], |x| x[0] * (isentropic(x[2]) - 1.0) / (x[1] - x[0]));
    Ok(held(&COMPRESSOR, got)?)
}

/// Power taken by the compressor, W: m cp (T2 − T1).
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn power(
    air: Figure,
    inlet: &TemperatureReading,
    outlet: &TemperatureReading,
) -> Result<Figure, Refusal> {
    let inputs = [
        held(&AIR_FLOW, air)?,
        held(&INTAKE_TEMPERATURE, inlet.kelvin())?,
        held(&OUTLET_TEMPERATURE, outlet.kelvin())?,
    ];
    Ok(propagate(inputs, |x| x[0] * AIR_HEAT_CAPACITY * (x[2] - x[1])))
}
