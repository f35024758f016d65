//! Conformance kit for fairpull plug-ins: one named test per promise.
//!
//! One line a plug-in, as a development dependency; everything is derived from the plug-in's own card:
//! ```
//! fairpull_conformance::standard_tests!(toy, crate::Toy);
//! # fn main() {}
//! ```
//! gives a module `toy` with a `#[test]` for each function of [`standard`]. [`loss_tests!`] and [`knock_tests!`] do
//! the same for the other two families. [`standard::run`], [`loss::run`] and [`knock::run`] collect every failure of
//! a plug-in that is only known at run time, e.g. one read from a file.
//!
//! The kit's own tests hold one deliberately broken plug-in per check: a kit that cannot fail proves nothing.
//!
//! **Version policy.** A new check comes with a minor release and a line in the change log.
#![forbid(unsafe_code)]

mod exercise;
mod failure;
pub mod knock;
mod list;
pub mod loss;
mod printed;
pub mod standard;
mod standard_card;
mod standard_input;
mod standard_range;

pub use failure::Failure;
pub use printed::Printed;
