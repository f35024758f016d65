//! Exact trade units: reading and printing quantities such as `221kW`, `29.92inHg`, `1,5 bar(g)`.
//!
//! **Scope.** A table of the units that dynamometers, loggers and workshops write, each with its exact definition;
//! [`parse`] and [`parse_as`] for `<number><unit>`; typed readers into the newtypes of `fairpull-core`; [`show`] and
//! [`show_with`] for printing with as many digits as the uncertainty allows; [`convert`].
//!
//! **Out of scope.** Prefix algebra (only the listed units exist), and the site of a power: `hp` says nothing about
//! wheel or crankshaft, so the readers of powers are named by site.
//!
//! **Exact.** No rounded trade factor is used; `uom` serves only as the SI container of the typed readers. Every
//! factor is the quotient of the integers of its definition, see [`Unit::definition`].
#![no_std]
#![forbid(unsafe_code)]

extern crate alloc;

mod decimal;
mod dimension;
mod error;
mod find;
mod number;
mod parse;
mod quoted;
mod show;
mod table;
mod table_engine;
mod table_matter;
mod table_motion;
mod table_pressure;
mod typed;
mod unit;

pub use decimal::decimal;
pub use dimension::Dimension;
pub use error::{ParseError, Problem};
pub use number::{Decimal, NumberError, number};
pub use parse::{ConvertError, Reading, convert, parse, parse_as, parse_with};
pub use quoted::Quoted;
pub use show::{Digits, Sign, show, show_signed, show_with, show_with_signed};
pub use table::{units, units_of};
pub use typed::{
    absolute_pressure, acceleration, angle, axle_torque, crank_torque, density, engine_speed, force,
    gauge_pressure, inertia, length, mass, mass_flow, power_at_crank, power_at_hubs, power_at_wheels, ratio,
    road_speed, station_pressure, temperature, temperature_difference, time, vapour_pressure, volume,
    volume_flow,
};
pub use unit::{Reference, Unit};
