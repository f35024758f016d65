//! A figure with its basis: its one-line notation, and the path from one basis to another.
//!
//! **Scope.** [`Figure`], the plain form of an engine power or torque with its basis (site, treatment, rating, air,
//! fuel, interval), its text notation, and [`restate`]: the same figure on another basis, with an interval that says
//! what is not known, the steps that a sceptic can redo by hand, and what was assumed.
//!
//! **Out of scope.** The standards and the loss models themselves: they come with the
//! [`Catalogue`](fairpull_core::Catalogue), and none is named here.
//!
//! **Order.** A standard corrects the *engine's* power. So a wheel figure is taken back to observed, the loss is
//! added, and only then the factor of the new standard multiplies: corrected to A at the wheels, observed at the
//! wheels, observed at the crankshaft, corrected to B at the crankshaft. A factor that multiplies a wheel figure is a
//! habit of shops; such figures can be read and made, and the trail says that they are a convention.
//!
//! ```
//! use fairpull_core::Catalogue;
//! use fairpull_restate::{Figure, Knowledge, Target, restate};
//! let catalogue = Catalogue::new(fairpull_iso_1585::ALL, &[], &[])?;
//! let figure: Figure = "150 kW @ 5500 rpm; crank; iso-1585; net; air 985hPa, 34C, 55%".parse()?;
//! let observed = restate(&figure, &Target::observed_at_crank(), &catalogue, &Knowledge::new())?;
//! assert!(observed.exact && observed.value < 150.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
#![forbid(unsafe_code)]

mod air;
mod all;
mod assume;
mod basis;
mod draws;
mod error;
mod evaluate;
mod figure;
mod given;
mod knowledge;
mod near;
mod outcome;
mod path;
mod plausible;
mod prior;
mod read;
mod restate;
mod restater;
mod sample;
mod scaling;
mod setting;
mod typed;
mod write;

pub use air::{Humidity, KnownAir, Span};
pub use all::{BasisRow, restate_all};
pub use basis::{Site, Target, Treatment};
pub use error::RestateError;
pub use figure::{Figure, Interval, Quantity};
pub use knowledge::Knowledge;
pub use outcome::{Alternative, Assumption, Input, Restated, Step};
pub use read::NotationError;
pub use restate::{DRAWS, SEED, restate};
pub use restater::Restater;
pub use scaling::Scaling;
pub use typed::WrongBasis;
