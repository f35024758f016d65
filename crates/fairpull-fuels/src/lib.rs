//! Fuel grades, blending and knock-margin models.
//!
//! **Scope.** [`GRADES`] as data with citations; conversions among RON, MON and antiknock index that say what they
//! assume; blending ([`blend`]) and charge cooling; three knock models behind [`fairpull_core::KnockModel`].
//!
//! **Out of scope.** Detecting knock. A margin is a calculation about a fuel and an engine model; it never replaces
//! a knock measurement on the engine.
//!
//! **Units.** SI; angles in degrees after firing top dead centre; octane numbers are pure numbers.
#![no_std]
#![forbid(unsafe_code)]

#[cfg(feature = "std")]
extern crate std;

mod blend;
mod grade;
mod grades;
mod index;
mod neat;
pub mod octane;
mod octane_index;
mod property;
mod stock;
#[cfg(feature = "std")]
mod text;

pub use blend::{
    AIR_HEAT_CAPACITY, By, ETHANOL_OCTANE, FUEL_HEAT_CAPACITY, MOLAR_RULE, MOLAR_RULE_FITTED, OctaneRule,
    Part, blend, charge_cooling, mole_fraction,
};
pub use grade::{Grade, GradeStock, Kind};
pub use grades::{GRADES, grade};
pub use index::{K_BOOSTED_DIRECT, K_HOT, K_PORT, K_PRIORS, OCTANE_INDEX, octane_index};
pub use octane::{antiknock_index, from_antiknock_index, motor_from_research};
pub use octane_index::OctaneIndex;
pub use property::Property;
pub use stock::Stock;
#[cfg(feature = "std")]
pub use text::{FUEL_FORMS, FuelTextError, NamedFuel, OwnBlend, OwnPart, parse_fuel};

/// The caution that travels with every margin.
pub const CAUTION: &str = "a calculated margin never replaces a knock measurement: verify on the engine, on the fuel \
                           it will run on, by licensed practice and local codes";
