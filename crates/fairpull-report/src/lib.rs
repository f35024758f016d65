//! The result model of a reduction and its renderings: HTML, SVG, JSON, CSV and lines for a terminal.
//!
//! [`model::ResultModel`] is all that report, command line, JSON and page know of a reduction.
//!
//! * [`to_html`]: one page without script, printable, every text escaped.
//! * [`to_json`], [`from_json`]: the model as it is; its schema stands in `docs/result-schema.json`.
//! * [`curves_csv`]: the curves on their grid, one row a state and engine speed.
//! * [`summary_text`]: the result on a terminal.
//! * [`svg`]: the charts, for any page that wants one.
//!
//! Digits follow the uncertainty ([`digits`]); words live in one room ([`text`]).
#![forbid(unsafe_code)]

pub mod charts;
pub mod digits;
pub mod escape;
pub mod model;
pub mod strip;
pub mod svg;
pub mod text;
pub mod ticks;
pub mod units;

mod binding;
mod chart;
mod csv;
mod draw;
mod draw_text;
mod english;
mod german;
mod german_cards;
mod german_claims;
mod german_job;
mod german_trail;
mod html;
mod html_basis;
mod html_cost;
mod html_curves;
mod html_head;
mod html_runs;
mod html_stress;
mod json;
mod label;
mod model_stress;
mod page;
mod pattern;
mod said;
mod series;
mod summary;
mod vetting;

#[cfg(test)]
mod sample;
#[cfg(test)]
mod schema_check;
#[cfg(test)]
mod tests_german;
#[cfg(test)]
mod tests_page;
#[cfg(test)]
mod tests_schema;
#[cfg(test)]
mod tests_text;

pub use csv::{curves_csv, gains_csv};
pub use html::{to_html, to_html_in};
pub use json::{JsonError, from_json, to_json};
pub use model::ResultModel;
pub use summary::{summary_text, summary_text_in};
pub use text::{Language, UnknownLanguage};
pub use vetting::{
    VettingCheck, VettingInput, VettingNotRun, VettingPage, vetting_to_html, vetting_to_html_in,
};
