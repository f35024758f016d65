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
mod choices;
mod cycle;
mod declared_slopes;
pub mod delay;
mod end_gas;
mod grade;
mod grades;
mod index;
#[cfg(feature = "std")]
mod knock_input;
#[cfg(feature = "std")]
mod knock_report;
mod neat;
pub mod octane;
mod octane_index;
mod property;
mod residuals;
mod retard;
mod sensitivity;
mod slopes;
mod stock;
#[cfg(feature = "std")]
mod text;
mod trace;

pub use blend::{
    AIR_HEAT_CAPACITY, By, ETHANOL_OCTANE, FUEL_HEAT_CAPACITY, MOLAR_RULE, MOLAR_RULE_FITTED, OctaneRule,
    Part, blend, charge_cooling, mole_fraction,
};
pub use choices::Choices;
pub use cycle::Cycle;
pub use declared_slopes::DeclaredSlopes;
pub use end_gas::{ANCHOR_UNCERTAINTY, CHANGE_UNCERTAINTY, EndGas, UNANCHORED_UNCERTAINTY};
pub use grade::{Grade, GradeStock, Kind};
pub use grades::{GRADES, grade};
pub use index::{K_BOOSTED_DIRECT, K_HOT, K_PORT, K_PRIORS, OCTANE_INDEX, octane_index};
#[cfg(feature = "std")]
pub use knock_input::{AnchorGiven, ChangesGiven, CycleGiven, KnockInput, KnockInputError, Stated};
#[cfg(feature = "std")]
pub use knock_report::{FuelMargin, KnockReport, Verdict, knock};
pub use octane::{antiknock_index, from_antiknock_index, motor_from_research};
pub use octane_index::OctaneIndex;
pub use property::Property;
pub use residuals::{FOX_CHENG_HEYWOOD, mixed_temperature, residual_fraction};
pub use retard::{LARGEST_SHIFT, advance_left, requirement_map};
pub use sensitivity::{Sensitivities, sensitivities};
pub use slopes::{D4814_WEATHER, RUSS, Slope, Slopes};
pub use stock::Stock;
#[cfg(feature = "std")]
pub use text::{FUEL_FORMS, FuelTextError, NamedFuel, OwnBlend, OwnPart, parse_fuel};
pub use trace::CycleSummary;

/// Every built-in knock model, for a catalogue.
pub static KNOCK_MODELS: &[&dyn fairpull_core::KnockModel] =
    &[&OctaneIndex, &EndGas::REFERENCE, &DeclaredSlopes::RUSS, &DeclaredSlopes::WEATHER];

/// The caution that travels with every margin.
pub const CAUTION: &str = "a calculated margin never replaces a knock measurement: verify on the engine, on the fuel \
                           it will run on, by licensed practice and local codes";
