//! The calls of the product as a user writes them, kept apart so that instructions can be counted.

use fairpull_core::{
    AbsolutePressure, Air, Charging, Corrected, CorrectedSlice, CorrectionStandard, CrankTorque, Engine,
    EngineSpeed, Factor, Ignition, PowerAtCrank, Refusal, Room, Temperature, VapourPressure,
};
use fairpull_humid::{HumidError, Method, Moisture};
use fairpull_iso_1585::Iso1585;
use fairpull_units::Unit;

/// Id used for corrected figures.
pub const STANDARD: &str = "iso-1585";

/// Checked air, kPa and °C.
///
/// # Errors
/// [`Refusal`] for impossible air.
#[inline]
pub fn air(station_kpa: f64, celsius: f64, vapour_kpa: f64) -> Result<Air, Refusal> {
    Air::new(
        AbsolutePressure::from_kilopascals(station_kpa),
        Temperature::from_celsius(celsius),
        VapourPressure::from_kilopascals(vapour_kpa),
    )
}

/// Checked air to a factor.
///
/// # Errors
/// [`Refusal`] for impossible air.
#[inline(never)]
pub fn factor(station_kpa: f64, celsius: f64, vapour_kpa: f64) -> Result<Factor, Refusal> {
    let air = air(station_kpa, celsius, vapour_kpa)?;
    Iso1585.factor(&air, &Engine::new(Ignition::Spark, Charging::None))
}

/// A humidity reading to checked air.
///
/// # Errors
/// [`HumidError`] for impossible air.
#[inline(never)]
pub fn moist_air(station_kpa: f64, celsius: f64, humidity: f64) -> Result<Air, HumidError> {
    fairpull_humid::air(
        AbsolutePressure::from_kilopascals(station_kpa),
        Temperature::from_celsius(celsius),
        Moisture::RelativeHumidity(humidity),
        &Method::default(),
    )
}

/// One corrected figure, W.
#[inline(never)]
#[must_use]
pub fn corrected(watts: f64, factor: &Factor) -> f64 {
    Corrected::new(PowerAtCrank::from_watts(watts), STANDARD, factor).figure().watts()
}

/// Torque and engine speed to power, W.
#[inline(never)]
#[must_use]
pub fn power(newton_metres: f64, radians_per_second: f64) -> f64 {
    let speed = EngineSpeed::from_radians_per_second(radians_per_second);
    CrankTorque::from_newton_metres(newton_metres).power_at(speed).watts()
}

/// A value from one unit to another.
#[inline(never)]
#[must_use]
pub fn converted(value: f64, from: &Unit, to: &Unit) -> f64 {
    to.from_si(from.to_si(value))
}

/// A slice of figures corrected; answers how many.
#[inline(never)]
pub fn scale(from: &[f64], into: &mut [Room<PowerAtCrank>], factor: &Factor) -> usize {
    let observed = from.iter().map(|w| PowerAtCrank::from_watts(*w));
    CorrectedSlice::new(observed, into, STANDARD, factor).map_or(0, |all| all.len())
}
