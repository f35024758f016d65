//! Fuel grades, blending and knock-margin models.
//!
//! **Scope.** [`GRADES`] as data with citations; conversions among RON, MON and antiknock index that say what they
//! assume; blending ([`blend`]) and charge cooling; three knock models behind [`fairpull_core::KnockModel`].
//!
//! **Out of scope.** Detecting knock. A margin is a calculation about a fuel and an engine model; it never replaces
//! a knock measurement on the engine.
//!
//! ```
//! use fairpull_core::{KnockModel, KnockPoint, Span};
//! use fairpull_fuels::{K_BOOSTED_DIRECT, OctaneIndex, grade};
//! let fuel = grade("en-228-95").unwrap().stock()?.stock.fuel();
//! let mut point = KnockPoint::unknown();
//! point.k = Some(K_BOOSTED_DIRECT);
//! point.requirement = Some(Span::new(96.0, 2.0));
//! let margin = OctaneIndex.margin(&fuel, &point)?;
//! assert!((margin.octane.value - 1.0).abs() < 1e-9); // 95 + 0.2 x 10 less 96
//! assert!(margin.octane.uncertainty > 3.0); // K times the sensitivity governs
//! # Ok::<(), fairpull_core::Refusal>(())
//! ```
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
pub use retard::{LARGEST_SHIFT, advance_left, knock_limited_starts, requirement_map};
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
