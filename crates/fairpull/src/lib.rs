//! Engine power figures on one footing: the facade developers depend on.
//!
//! A power figure without its basis is like a map coordinate without its datum. fairpull gives every figure its basis
//! (site, standard, air, fuel, interval, trail), moves it from one basis to another through plug-ins, and reduces a
//! workshop's recordings to curves with honest intervals.
//!
//! * [`builtin`]: the catalogue of plug-ins of this build; every function takes a catalogue, so bring your own.
//! * [`convert`], [`air`], [`factors`], [`catalogue`], [`card`]: plain questions with plain answers, the same that the
//!   command line and the browser ask.
//! * [`fuel`], [`knock`], [`stress()`], [`road_predict`], [`road_log`], [`road_coast_down`], [`vet`]: what stands beside a
//!   figure and what can contradict it. [`question_file`] reads any question from TOML or JSON.
//! * [`reduction`] and [`present`]: the main job, recordings to a [`report`] model.
//!
//! ```
//! use fairpull::{AirQuestion, EngineQuestion, FactorsQuestion, builtin, factors};
//! let question = FactorsQuestion {
//!     air: AirQuestion {
//!         pressure: Some("985hPa".into()),
//!         temperature: Some("24C".into()),
//!         humidity: Some("55%".into()),
//!         ..AirQuestion::default()
//!     },
//!     engine: EngineQuestion::default(),
//! };
//! let answer = factors(&question, &builtin())?;
//! let iso = answer.factors.iter().find(|f| f.standard == "iso-1585").unwrap();
//! assert!((iso.factor.unwrap() - 1.0239).abs() < 1e-3);
//! # Ok::<(), fairpull::AskError>(())
//! ```
#![forbid(unsafe_code)]

mod air;
mod ask;
mod builtin;
mod cards;
mod columns;
mod convert;
mod costing;
mod engine;
mod factors;
mod fuel;
mod knock;
mod present;
mod present_change;
mod present_state;
mod question_file;
mod reading_unit;
mod restating;
mod road_car;
mod road_coast;
mod road_drive;
mod road_logs;
mod roads;
mod stated;
mod stressing;
mod trail;
mod vetting;

pub use air::{AirAnswer, AirQuestion, air, describe};
pub use ask::{AskError, nearest};
pub use builtin::{bases, builtin};
pub use cards::{CardAnswer, CatalogueEntry, card, catalogue};
pub use columns::{COLUMNS_SCHEMA, ColumnEntry, ColumnsAnswer, columns};
pub use convert::{ConvertAnswer, convert};
pub use engine::EngineQuestion;
pub use factors::{FACTORS_SCHEMA, FactorEntry, FactorsAnswer, FactorsQuestion, factors};
pub use fairpull_tree::Field;
pub use fuel::{FUEL_SCHEMA, FuelAnswer, FuelEntry, FuelQuestion, Spread, fuel};
pub use knock::{
    AnchorQuestion, ChangesQuestion, CycleQuestion, KNOCK_SCHEMA, KnockAnswer, KnockQuestion, knock,
};
pub use present::{CAUTIONS, present};
pub use question_file::question_file;
pub use restating::{RESTATE_SCHEMA, RestateQuestion, in_unit};
pub use road_car::{CarQuestion, CurveQuestion};
pub use road_coast::{COAST_DOWN_SCHEMA, CoastDownAnswer, CoastDownQuestion, PointQuestion, road_coast_down};
pub use road_logs::{
    LogBytes, LogColumns, NamedLog, ROAD_LOG_SCHEMA, RigQuestion, RoadLogAnswer, RoadLogQuestion, road_log,
};
pub use roads::{PREDICT_SCHEMA, PredictAnswer, PredictEntry, PredictQuestion, road_predict};
pub use stressing::{PipeQuestion, STRESS_SCHEMA, StateQuestion, StressAnswer, StressQuestion, stress};
pub use vetting::{VetQuestion, vet, vet_with};

pub use fairpull_claims as claims;
pub use fairpull_core as core;
pub use fairpull_declared as declared;
pub use fairpull_fuels as fuels;
pub use fairpull_humid as humid;
pub use fairpull_recordings as recordings;
pub use fairpull_reduction as reduction;
pub use fairpull_report as report;
pub use fairpull_restate as restate;
pub use fairpull_road as road;
pub use fairpull_stress as stress;
pub use fairpull_uncertainty as uncertainty;
pub use fairpull_units as units;
