//! The result model of a reduction and its renderings: HTML, SVG, JSON, CSV.
#![forbid(unsafe_code)]

pub mod model;
