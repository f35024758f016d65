//! Air flow by speed-density and from fuel; fuel flow; injector duty.

use fairpull_core::{Refusal, Temperature};

use crate::check::{
    AIR_FLOW, AIR_FUEL, CHARGE_TEMPERATURE, CONSUMPTION, DENSITY, FUEL_FLOW, HEATING, INJECTOR, INJECTORS,
    LAMBDA, POWER, RAIL_DROP, SPEED, SWEPT, VOLUMETRIC, held,
};
use crate::{AbsoluteReading, Figure, figure::propagate};

/// Specific gas constant of dry air, J/(kg·K), rounded as in the check values of the trade.
pub const AIR_CONSTANT: f64 = 287.05;

/// A temperature with its standard uncertainty, K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TemperatureReading {
    /// Temperature.
    pub temperature: Temperature,
    /// Standard uncertainty, K.
    pub uncertainty_k: f64,
}

impl TemperatureReading {
    /// From a temperature and its standard uncertainty in K.
    #[must_use]
    pub const fn new(temperature: Temperature, uncertainty_k: f64) -> Self {
        Self { temperature, uncertainty_k }
    }

    /// Kelvin, with uncertainty.
    #[must_use]
    pub fn kelvin(&self) -> Figure {
        Figure::new(self.temperature.kelvin(), self.uncertainty_k)
    }
}

/// Density of air p/(R T), kg/m³: charge density where p and T are those of the manifold.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn charge_density(
    pressure: &AbsoluteReading,
    temperature: &TemperatureReading,
) -> Result<Figure, Refusal> {
    let inputs = [pressure.pascals(), held(&CHARGE_TEMPERATURE, temperature.kelvin())?];
    Ok(propagate(inputs, |x| x[0] / (AIR_CONSTANT * x[1])))
}

/// Air mass flow by speed-density, kg/s: VE p V n/(120 R T), four-stroke. The volumetric efficiency belongs to the
/// place where p and T are measured.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn air_by_speed_density(
    volumetric_efficiency: Figure,
    pressure: &AbsoluteReading,
    temperature: &TemperatureReading,
    swept: Figure,
    speed_rpm: Figure,
) -> Result<Figure, Refusal> {
    let inputs = [
        held(&VOLUMETRIC, volumetric_efficiency)?,
        pressure.pascals(),
        held(&CHARGE_TEMPERATURE, temperature.kelvin())?,
        held(&SWEPT, swept)?,
        held(&SPEED, speed_rpm)?,
    ];
    Ok(propagate(inputs, |x| x[0] * x[1] * x[3] * x[4] / (120.0 * AIR_CONSTANT * x[2])))
}

/// Volumetric efficiency from air mass flow (kg/s): 120 m R T/(V n p), on the stated pressure and temperature.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn volumetric_efficiency(
    air: Figure,
    pressure: &AbsoluteReading,
    temperature: &TemperatureReading,
    swept: Figure,
    speed_rpm: Figure,
) -> Result<Figure, Refusal> {
    let inputs = [
        held(&AIR_FLOW, air)?,
        pressure.pascals(),
        held(&CHARGE_TEMPERATURE, temperature.kelvin())?,
        held(&SWEPT, swept)?,
        held(&SPEED, speed_rpm)?,
    ];
    Ok(propagate(inputs, |x| 120.0 * x[0] * AIR_CONSTANT * x[2] / (x[3] * x[4] * x[1])))
}

/// Air mass flow from fuel flow (kg/s) and lambda, kg/s: m_f λ AFR_st.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn air_from_fuel(fuel: Figure, lambda: Figure, stoichiometric_ratio: Figure) -> Result<Figure, Refusal> {
    let inputs = [held(&FUEL_FLOW, fuel)?, held(&LAMBDA, lambda)?, held(&AIR_FUEL, stoichiometric_ratio)?];
    Ok(propagate(inputs, |x| x[0] * x[1] * x[2]))
}

/// Fuel mass flow from brake power (W) and specific consumption (g/kWh), kg/s.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn fuel_from_power(power: Figure, consumption_g_kwh: Figure) -> Result<Figure, Refusal> {
    let inputs = [held(&POWER, power)?, held(&CONSUMPTION, consumption_g_kwh)?];
    // g/kWh = 1e-3 kg / 3.6e6 J
    Ok(propagate(inputs, |x| x[0] * x[1] / 3.6e9))
}

/// Brake efficiency 3.6e9/(bsfc LHV), bsfc in g/kWh, LHV in J/kg.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn brake_efficiency(consumption_g_kwh: Figure, heating_value: Figure) -> Result<Figure, Refusal> {
    let inputs = [held(&CONSUMPTION, consumption_g_kwh)?, held(&HEATING, heating_value)?];
    Ok(propagate(inputs, |x| 3.6e9 / (x[0] * x[1])))
}

/// A set of injectors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Injectors {
    /// How many.
    pub count: f64,
    /// Rated flow of one, cm³/min.
    pub rated_cm3_min: Figure,
    /// Pressure drop of the rating, kPa.
    pub rated_drop_kpa: f64,
    /// Density of the test fluid of the rating, kg/m³ (n-heptane about 684), when the rating is to be converted by
    /// density; without it the volume flow is taken as that of the fuel.
    pub rated_density: Option<f64>,
}

/// Flow and opening of a set of injectors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InjectorLoad {
    /// Volume flow of one injector at this pressure, cm³/min.
    pub flow_cm3_min: Figure,
    /// Share of the time it is open, 1 = always.
    pub duty: Figure,
    /// Opening time with one injection a cycle, s.
    pub pulse: Figure,
}

/// Duty above which injectors are commonly called at their limit (common practice, no source).
pub const DUTY_LIMIT: [f64; 2] = [0.8, 0.9];

/// Injector duty: flow q = q_ref √(Δp/Δp_ref) with Δp = rail less manifold, duty = m_f/(N q ρ), pulse = duty·120/n.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity; a rail pressure not above the manifold is refused as a drop.
pub fn injector_load(
    injectors: &Injectors,
    fuel: Figure,
    density: Figure,
    rail: &AbsoluteReading,
    manifold: &AbsoluteReading,
    speed_rpm: Figure,
) -> Result<InjectorLoad, Refusal> {
    let count = INJECTORS.check(injectors.count)?;
    let reference = RAIL_DROP.check(injectors.rated_drop_kpa)? * 1e3;
    let rated_density = injectors.rated_density.map(|d| DENSITY.check(d)).transpose()?;
    let drop = rail.kilopascals().less(&manifold.kilopascals(), 0.0);
    let inputs = [
        held(&INJECTOR, injectors.rated_cm3_min)?,
        held(&RAIL_DROP, drop)?.scaled(1e3),
        held(&FUEL_FLOW, fuel)?,
        held(&DENSITY, density)?,
        held(&SPEED, speed_rpm)?,
    ];
    // cm³/min
    let flow = |x: &[f64; 5]| {
        let by_density = rated_density.map_or(1.0, |d| libm::sqrt(d / x[3]));
        x[0] * libm::sqrt(x[1] / reference) * by_density
    };
    let duty = |x: &[f64; 5]| x[2] / (count * flow(x) / 6.0e7 * x[3]);
    Ok(InjectorLoad {
        flow_cm3_min: propagate(inputs, flow),
        duty: propagate(inputs, duty),
        pulse: propagate(inputs, |x| duty(x) * 120.0 / x[4]),
    })
}

/// Corrected mass flow W √(T/T_ref)/(p/p_ref), in the unit of `flow`. A compressor map's own reference state must be
/// used: sources differ and move the point by up to 8 %.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn corrected_flow(
    flow: Figure,
    pressure: &AbsoluteReading,
    temperature: &TemperatureReading,
    reference_pressure: &AbsoluteReading,
    reference_temperature: Temperature,
) -> Result<Figure, Refusal> {
    let (pr, tr) = (reference_pressure.pascals().value, reference_temperature.kelvin());
    CHARGE_TEMPERATURE.check(tr)?;
    let inputs =
        [held(&AIR_FLOW, flow)?, pressure.pascals(), held(&CHARGE_TEMPERATURE, temperature.kelvin())?];
    Ok(propagate(inputs, |x| x[0] * libm::sqrt(x[2] / tr) / (x[1] / pr)))
}
