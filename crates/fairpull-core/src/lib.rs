//! The ground floor of fairpull: what an engine power figure is, and what a plug-in promises.
//!
//! **Scope.** Quantities that cannot be mixed by mistake (absolute, gauge, dry and vapour pressure; power at the
//! wheels, hubs and crankshaft; observed and corrected), moist air as a checked triple, estimates with a
//! run-to-run and a rig part, limits and citations as data, refusals and notices as values, the three plug-in
//! traits ([`CorrectionStandard`], [`LossModel`], [`KnockModel`]) with their cards, the formula families that
//! several standards share, and the [`Catalogue`].
//!
//! **Out of scope.** The constants of any one standard (one crate each), reading and printing units
//! (`fairpull-units`), humidity formulas (`fairpull-humid`), recordings, statistics and reports.
//!
//! **Guarantees.** `no_std`, no allocation, no unsafe code, no panic on any `f64`; every transcendental function
//! comes from `libm`, so native code, WebAssembly and a microcontroller give the same bits.
#![no_std]
#![forbid(unsafe_code)]
#![cfg_attr(docsrs, feature(doc_cfg))]

mod air;
mod catalogue;
mod cite;
mod corrected;
mod driveline;
mod engine;
mod estimate;
mod factor;
pub mod family;
mod knock;
mod limit;
mod loss;
mod notice;
mod power;
mod pressure;
mod quantity;
mod refusal;
mod slices;
mod speed;
mod standard;
mod temperature;
mod torque;

pub use air::Air;
pub use catalogue::{Catalogue, CatalogueError};
pub use cite::{Cite, Reading, Source};
pub use corrected::{Corrected, DifferentStandards, Observed};
pub use driveline::{CoastDownForce, DrivePoint, Driveline, Element, Gearbox};
pub use engine::{ChargeCooling, Charging, Engine, Ignition};
pub use estimate::Estimate;
pub use factor::Factor;
pub use knock::{Anchor, Changes, CycleState, Fuel, KnockCard, KnockModel, KnockPoint, Margin, Span};
pub use limit::{Limit, OutOfRange};
pub use loss::{AtCrank, LossCard, LossModel};
pub use notice::{Input, Notice, Notices, Outside};
pub use power::{PowerAtCrank, PowerAtHubs, PowerAtWheels};
pub use pressure::{AbsolutePressure, DryPressure, GaugePressure, VapourPressure};
pub use refusal::Refusal;
pub use slices::{CorrectedSlice, DifferentLengths, Room};
pub use speed::{EngineSpeed, RoadSpeed};
pub use standard::{
    Alias, Applicability, Compensation, CorrectionStandard, Example, PressureBasis, Rating, ReferenceAir,
    StandardCard, Status, TestWindow,
};
pub use temperature::Temperature;
pub use torque::{AxleTorque, CrankTorque};
pub use uom;
