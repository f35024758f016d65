//! Moist air: saturation pressure, dew point, wet bulb, density, and the pressure at the rig from a weather report.
//!
//! **Scope.** [`air`] turns station pressure, temperature and any humidity reading ([`Moisture`]) into checked
//! [`fairpull_core::Air`]. Around it: [`Formulation`]s of the saturation pressure with source and grade of reading,
//! the inverses ([`dew_point`], [`frost_point`], [`wet_bulb`], [`relative_humidity`]), densities, the standard
//! atmosphere of ISO 2533, [`station_pressure`] from QNH and elevation, and [`spread`] for uncertainties.
//!
//! **Simplification.** Vapour and dry air are ideal gases; saturation is that of pure water. The real moist-air
//! enhancement ([`enhancement`]) moves the dry pressure by at most 1e-4. The choice of formulation moves it by 1e-4
//! too: where a correction standard names a formula, use that one.
//!
//! **Guarantees.** `no_std`, no allocation, no panic on any `f64`; every transcendental from `libm`.
#![no_std]
#![forbid(unsafe_code)]

mod atmosphere;
mod density;
mod error;
mod formulas;
mod humidity;
mod method;
mod moisture;
mod saturation;
mod sea_level;
mod solve;
mod spread;
mod wet_bulb;

pub use atmosphere::{
    StandardAtmosphere, density_altitude, geometric, geopotential, pressure_altitude, standard_atmosphere,
};
pub use density::{CipmDensity, density_cipm_2007, density_ideal};
pub use error::HumidError;
pub use humidity::{dew_point, enhancement, frost_point, humidity_ratio, relative_humidity};
pub use method::{Method, Surface};
pub use moisture::{Moisture, air};
pub use saturation::Formulation;
pub use sea_level::{SeaLevelPressure, altimeter_setting, station_pressure};
pub use spread::{AirSpread, ReadingSpread, spread};
pub use wet_bulb::{Psychrometer, vapour_from_wet_bulb, wet_bulb};
