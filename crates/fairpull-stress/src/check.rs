//! Ranges of what an engine under test can show, each named in its refusal.

use fairpull_core::{Cite, Limit, OutOfRange, Reading};

use crate::Figure;

pub(crate) const PLACES: Cite = Cite::new("fairpull", "what an engine under test can show", Reading::Derived);
pub(crate) const MECHANICS: Cite = Cite::new("elementary thermodynamics and mechanics", "", Reading::Derived);

macro_rules! limits {
    ($($name:ident: $what:literal, $unit:literal, $low:expr, $high:expr;)+) => {
        $(pub(crate) static $name: Limit =
            Limit { what: $what, unit: $unit, low: $low, high: $high, cite: PLACES };)+
    };
}

limits! {
    POWER: "brake power", "W", 0.0, 5.0e6;
    TORQUE: "brake torque", "N·m", 0.0, 2.0e4;
    SPEED: "engine speed", "1/min", 100.0, 25_000.0;
    SWEPT: "swept volume", "m³", 2.0e-5, 0.05;
    STROKE: "stroke", "m", 0.02, 0.4;
    PISTON: "mean piston speed", "m/s", 0.0, 45.0;
    AIR_FLOW: "air mass flow", "kg/s", 1.0e-4, 10.0;
    FUEL_FLOW: "fuel mass flow", "kg/s", 1.0e-6, 1.0;
    INTAKE_TEMPERATURE: "compressor inlet temperature", "K", 220.0, 400.0;
    OUTLET_TEMPERATURE: "compressor outlet temperature", "K", 220.0, 800.0;
    CHARGE_TEMPERATURE: "charge temperature", "K", 220.0, 600.0;
    COOLANT_TEMPERATURE: "coolant inlet temperature of the charge cooler", "K", 220.0, 450.0;
    EXHAUST_TEMPERATURE: "exhaust temperature before the turbine", "K", 500.0, 1500.0;
    GAS_TEMPERATURE: "gas temperature in the pipe", "K", 220.0, 1500.0;
    RATIO: "compressor pressure ratio, total over total", "1", 1.0, 8.0;
    COMPRESSOR: "isentropic efficiency of the compressor", "1", 0.2, 1.0;
    TURBINE: "isentropic efficiency of the turbine", "1", 0.2, 1.0;
    MECHANICAL: "mechanical efficiency of the turbocharger", "1", 0.5, 1.0;
    AIR_FUEL: "air-fuel ratio", "kg/kg", 3.0, 60.0;
    LAMBDA: "relative air-fuel ratio lambda", "1", 0.4, 3.0;
    EFFECTIVENESS: "charge-cooler effectiveness", "1", 0.0, 1.0;
    VOLUMETRIC: "volumetric efficiency", "1", 0.2, 3.0;
    CONSUMPTION: "brake specific fuel consumption", "g/kWh", 150.0, 1000.0;
    HEATING: "lower heating value", "J/kg", 1.0e7, 5.0e7;
    DENSITY: "fuel density", "kg/m³", 500.0, 1200.0;
    INJECTORS: "number of injectors", "1", 1.0, 32.0;
    INJECTOR: "rated injector flow", "cm³/min", 20.0, 10_000.0;
    RAIL_DROP: "pressure drop over the injector (rail less manifold)", "kPa", 50.0, 1.0e5;
    DIAMETER: "inside diameter", "m", 0.005, 0.5;
    LENGTH: "pipe length", "m", 0.0, 30.0;
    ROUGHNESS: "wall roughness", "m", 0.0, 0.005;
    LOSS: "sum of the loss coefficients", "1", 0.0, 100.0;
    GAMMA: "ratio of specific heats", "1", 1.05, 1.67;
    EXPANSION: "turbine expansion ratio", "1", 1.0, 10.0;
    PART: "standard uncertainty", "in the unit of its figure", 0.0, 1.0e9;
}

/// Value and uncertainty of a figure, both in range.
pub(crate) fn held(limit: &'static Limit, figure: Figure) -> Result<Figure, OutOfRange> {
    limit.check(figure.value)?;
    PART.check(figure.uncertainty)?;
    Ok(figure)
}
