//! The choices of the end-gas model, and the ranges of the engines it is for.

use fairpull_core::{Cite, CycleState, Limit, Reading, Refusal};

/// The choices of the model. They move the absolute level by several octane numbers, which is why it is anchored.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Choices {
    /// Lower heating value, J/kg, that belongs to the air-fuel ratio of the cycle. Equal air carries nearly equal
    /// heat with petrol and alcohols (0.9 %), so one value serves every fuel.
    pub lower_heating_value: f64,
    /// Share of the fuel's heat that is released.
    pub combustion_efficiency: f64,
    /// Wall temperature, K.
    pub wall_temperature: f64,
    /// Wiebe efficiency parameter a.
    pub wiebe_a: f64,
    /// Wiebe form parameter m.
    pub wiebe_m: f64,
    /// Burned fraction after which autoignition no longer counts as knock.
    pub burn_limit: f64,
    /// Ratio of specific heats of the unburned charge.
    pub unburned_gamma: f64,
    /// Factor on the wall heat transfer.
    pub heat_factor: f64,
    /// Step through the burn, degrees.
    pub step: f64,
}

impl Choices {
    /// The reference choices.
    pub const REFERENCE: Self = Self {
        lower_heating_value: 43.0e6,
        combustion_efficiency: 0.95,
        wall_temperature: 450.0,
        wiebe_a: 5.0,
        wiebe_m: 2.0,
        burn_limit: 0.85,
        unburned_gamma: 1.31,
        heat_factor: 1.0,
        step: 0.5,
    };
}

const ENGINES: Cite = Cite::new("fairpull", "range of road-going spark-ignition engines", Reading::Derived);

macro_rules! limits {
    ($($name:ident: $what:literal, $unit:literal, $low:expr, $high:expr;)+) => {
        $(static $name: Limit = Limit { what: $what, unit: $unit, low: $low, high: $high, cite: ENGINES };)+
    };
}

limits! {
    BORE: "bore", "m", 0.02, 0.3;
    STROKE: "stroke", "m", 0.02, 0.4;
    RATIO: "compression ratio", "1", 3.0, 25.0;
    SPEED: "engine speed", "1/min", 100.0, 20_000.0;
    PRESSURE: "pressure at intake valve closing", "Pa absolute", 2.0e4, 8.0e5;
    TEMPERATURE: "temperature at intake valve closing", "K", 240.0, 600.0;
    CLOSING: "intake valve closing", "degrees after firing top dead centre", -180.0, -60.0;
    DURATION: "burn duration", "degrees", 5.0, 150.0;
    AIR_FUEL: "air-fuel ratio", "kg/kg", 3.0, 60.0;
    RESIDUALS: "residual fraction", "1", 0.0, 0.5;
    HEATING: "lower heating value", "J/kg", 1.0e7, 5.0e7;
    EFFICIENCY: "combustion efficiency", "1", 0.3, 1.0;
    WALL: "wall temperature", "K", 250.0, 800.0;
    WIEBE_A: "Wiebe efficiency parameter", "1", 1.0, 10.0;
    WIEBE_M: "Wiebe form parameter", "1", 0.5, 5.0;
    BURN_LIMIT: "burned fraction after which autoignition is not counted", "1", 0.1, 0.99;
    UNBURNED: "ratio of specific heats of the unburned charge", "1", 1.2, 1.4;
    HEAT_FACTOR: "factor on the wall heat transfer", "1", 0.0, 5.0;
    STEP: "crank-angle step", "degrees", 0.01, 1.0;
}

/// Every value of a state and of the choices inside its range.
pub(crate) fn check(s: &CycleState, c: &Choices) -> Result<(), Refusal> {
    BORE.check(s.bore)?;
    STROKE.check(s.stroke)?;
    Limit {
        what: "connecting-rod length",
        unit: "m",
        low: 0.6 * s.stroke,
        high: 5.0 * s.stroke,
        cite: ENGINES,
    }
    .check(s.rod)?;
    RATIO.check(s.compression_ratio)?;
    SPEED.check(s.speed_rpm)?;
    PRESSURE.check(s.ivc_pressure)?;
    TEMPERATURE.check(s.ivc_temperature)?;
    CLOSING.check(s.ivc_angle)?;
    DURATION.check(s.burn_duration)?;
    AIR_FUEL.check(s.air_fuel_ratio)?;
    RESIDUALS.check(s.residual_fraction)?;
    HEATING.check(c.lower_heating_value)?;
    EFFICIENCY.check(c.combustion_efficiency)?;
    WALL.check(c.wall_temperature)?;
    WIEBE_A.check(c.wiebe_a)?;
    WIEBE_M.check(c.wiebe_m)?;
    BURN_LIMIT.check(c.burn_limit)?;
    UNBURNED.check(c.unburned_gamma)?;
    HEAT_FACTOR.check(c.heat_factor)?;
    STEP.check(c.step)?;
    let start = Limit {
        what: "start of burning",
        unit: "degrees after firing top dead centre",
        low: s.ivc_angle + 1.0,
        high: 60.0,
        cite: ENGINES,
    };
    start.check(s.burn_start)?;
    Ok(())
}
