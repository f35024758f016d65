//! A published figure against every independent bound that its own numbers give.
//!
//! **Scope.** Reading a claim (`claim.toml`, or flags through [`Claim::set`]) and [`vet`]ting it: power = torque ×
//! speed, the curve against the peaks, mean pressure, piston speed, specific power, fuel and air flow, compressor,
//! injectors, manifold, knock, acceleration times, loss, gain, and the basis itself.
//!
//! **Out of scope.** Formulas: they live in the crates for stress, road, fuels and restating. Deciding who is right.
//!
//! **Rule.** A statement is never stronger than its evidence: see [`vet`].
//!
//! ```
//! use fairpull_claims::{Claim, Outcome, vet};
//! let text = "schema = \"fairpull-claim-1\"\n[engine]\npower = \"645hp\"\npower_speed = \"5000rpm\"\ntorque = \"600lbf.ft\"\n";
//! let claim = Claim::parse(text, "claim.toml").unwrap();
//! let found = vet(&claim, &fairpull_core::Catalogue::new(&[], &[], &[]).unwrap()).unwrap();
//! // 645 hp at 5000 1/min takes 678 lbf·ft: more than the peak torque claimed.
//! assert_eq!(found.outcome, Outcome::Contradicted);
//! ```
#![forbid(unsafe_code)]
#![cfg_attr(docsrs, feature(doc_cfg))]

mod basis;
mod check;
mod claim;
mod engine;
mod error;
mod fields;
mod flow;
mod named;
mod read;
mod road;
mod vet;

pub use check::{Check, Input, NotRun, Outcome, Vetting};
pub use claim::{Claim, SCHEMA, Section, Value};
pub use error::ClaimError;
pub use named::Named;
pub use road::LONE_TIME_LOG_SPREAD;
pub use vet::{VetError, vet, vet_with};
