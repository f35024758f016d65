//! What the power costs the engine: back pressure, charge cooling, flow, mean pressures.
//!
//! **Scope.** Stress figures with uncertainty from channels of a recording or from stated values. Single formulas
//! take typed readings ([`AbsoluteReading`], [`TemperatureReading`], [`Figure`]); [`stress`] takes everything known
//! of one state ([`StressInput`]) and gives every figure that can be had, and [`changes`] sets two states side by side.
//!
//! ```
//! use fairpull_core::{AbsolutePressure, GaugePressure};
//! use fairpull_stress::{AbsoluteReading, turbine};
//! let barometer = AbsoluteReading::new(AbsolutePressure::from_kilopascals(98.5), 0.1)?;
//! let manifold = AbsoluteReading::from_gauge(GaugePressure::from_kilopascals(125.0), 1.0, &barometer)?;
//! let pre_turbine = AbsoluteReading::from_gauge(GaugePressure::from_kilopascals(190.0), 2.0, &barometer)?;
//! let ratio = turbine::pressure_ratio(&pre_turbine, &manifold)?;
//! assert!((ratio.value - 288.5 / 223.5).abs() < 1e-12);
//! # Ok::<(), fairpull_core::Refusal>(())
//! ```
//! A gauge pressure is no absolute reading:
//! ```compile_fail
//! use fairpull_core::GaugePressure;
//! let wrong = fairpull_stress::AbsoluteReading::new(GaugePressure::from_kilopascals(125.0), 1.0);
//! ```
//!
//! **Units.** SI inside; the data form names units in its keys. Gauge pressures need a barometer.
//!
//! **Out of scope.** Deciding whether an engine survives: labels and published ranges are given as such.
#![forbid(unsafe_code)]

mod change;
mod check;
pub mod compressor;
pub mod cooler;
mod diameters;
mod figure;
mod flow;
pub mod friction;
mod input;
mod load;
mod pipe;
mod pipe_input;
mod reading;
mod report;
pub mod turbine;

pub use change::{StressChange, changes};
pub use cooler::{CoolerPoint, CoolerReserve, FLOW_EXPONENT, power_to_limit};
pub use diameters::{
    BackPressureWorth, DiameterComparison, TRADE_REPORT, back_pressure_worth, compare_diameters,
};
pub use figure::Figure;
pub use flow::{
    AIR_CONSTANT, DUTY_LIMIT, InjectorLoad, Injectors, TemperatureReading, air_by_speed_density,
    air_from_fuel, brake_efficiency, charge_density, corrected_flow, fuel_from_power, injector_load,
    volumetric_efficiency,
};
pub use input::StressInput;
pub use load::{
    BMEP_ASPIRATED_LIMIT, BMEP_CHARGED_LIMIT, PISTON_SPEED_LIMIT, PUBLISHED, Published, bmep_from_power,
    bmep_from_torque, mean_piston_speed, specific_power,
};
pub use pipe::{
    COMPRESSIBLE, FRICTION_UNCERTAINTY, INCOMPRESSIBLE_DROP, INCOMPRESSIBLE_MACH, Known, LOSS_UNCERTAINTY,
    Pipe, PipeLoss, fanno_length, fanno_pressure, pipe_loss,
};
pub use pipe_input::{PipeGiven, PipeReport, PipeSide};
pub use reading::{AbsoluteReading, PressureGiven};
pub use report::{Refused, StressFigure, StressReport, stress};

/// The caution that stands beside every stress figure.
pub const CAUTION: &str = "hot exhaust, fuel and rotating parts can injure: measure only with secured sensors, an \
                           extraction system and a spotter; these figures describe, they do not certify; work by \
                           licensed practice and local codes";
